//! Worn parts and recorded rides from outside: refusals, the shipped calibration, saved results.

use crate::common::{at_home as slipsoak, refused as refusal};
use crate::learned;
use slipsoak_engine::parts::LiningKind;
use std::fs;

const SCRIPT: &str = "scripts/duty/trail-wear.rhai";

/// A wrong table, and its expected message.
const INSPECTIONS: &[(&str, &str)] = &[
    ("", "holds no head"),
    ("clutch,hours [h],washr [mm]\n", "there is no column `washr` (did you mean `washer`?)"),
    ("clutch,hours [h],washer\n", "line 1, column `washer`: the head gives no unit"),
    ("clutch,hours [h],washer [rpm]\n", "column `washer`: `rpm` is no unit of it"),
    ("clutch,hours [h],washer [mm] ± none\n", "`none` is no standard deviation"),
    ("clutch,hours [h],hours [h]\n", "the column `hours` is there twice"),
    ("hours [h],washer [mm]\n1,0.7\n", "the column `clutch` is missing"),
    ("clutch,washer [mm]\nA,0.7\n", "a column `hours [h]` (by the hour meter) or `launches` is missing"),
    ("clutch,hours [h],washer [mm]\nA,1\n", "line 2: it has 2 columns, the head 3"),
    ("# note\nclutch,hours [h],washer [mm]\nA,1,0.7 rpm\n", "line 3, column `washer`: `0.7 rpm` is not a number"),
    ("clutch,hours [h],washer [mm]\nA,-4,0.7\n", "line 2, column `hours`: -4 h cannot be"),
    (
        "clutch,hours [h],washer [mm]\nA,1,762\n",
        "line 2, column `washer`: 762 under [mm] would be 760 mm for a washer of 0.76 mm new: is it in µm?",
    ),
    ("clutch,hours [h],washer [mm]\n,1,0.7\n", "line 2: the clutch has no name"),
    ("clutch,hours [h],washer [mm]\nA,,0.7\n", "line 2: neither hours nor launches are given"),
    (
        "clutch,hours [h],washer [mm]\nA,1,0.5\nA,9,0.7\n",
        "line 3, column `washer`: 0.7 mm comes after 0.5: it has grown back",
    ),
    (
        "clutch,hours [h],washer [mm]\nA,10,0.76\nA,30,0.75\nA,6,0.74\nA,90,0.72\n",
        "line 4, column `hours`: 6 h comes after 10 and 30 of the same clutch: is one of them mistyped?",
    ),
    (
        "clutch,hours [h],drop [rpm]\nA,0,170\n",
        "line 2, column `drop`: is read under a known `drag`; give it in a column `drag [N·m]`",
    ),
    ("clutch,hours [h],spin-down [s],spun [rpm]\nA,0,3,\n", "column `spin-down`: is read under a known `spun`"),
    (
        "clutch,hours [h],spin-down [s],spun [rpm]\nA,0,3,500\n",
        "`spin-down`: is read under a known `warm`; give it in a column `warm",
    ),
    ("clutch,hours [h],washer [mm],warm [°C]\nA,0,0.7,90\n", "column `warm`: belongs to a reading of `spin-down`"),
    (
        "clutch,hours [h],drop [rpm],drag [N·m]\nA,0,170,400\n",
        "column `drag`: 400 N·m cannot be: expected between 0.01 N·m and 20 N·m",
    ),
    ("clutch,hours [h],charring [%]\nA,0,130\n", "column `charring`: 130 % cannot be: expected between 0 % and 100 %"),
    (
        "clutch,hours [h],bushing [mm]\nA,0,0.05\nA,60,3.6 mm\n",
        "line 3, column `bushing`: 3.6 mm cannot be: the wall of a new bushing is 3.175 mm thick",
    ),
    ("clutch,hours [h],washer [mm]\nA,1,\n", "holds no reading"),
    ("clutch,hours [h],washer [mm]\nA,nan,0.7\n", "line 2, column `hours`: `nan` is not a number"),
    ("clutch,hours [h],washer [mm]\nA,1,inf\n", "line 2, column `washer`: `inf` is not a number"),
    (
        "clutch,hours [h],washer [mm]\nA,1,0.7\nB,1,0.7\nA,1,0.71\n",
        "line 4: `A` has a reading of its washer at that time already",
    ),
    ("clutch,duty,hours [h],washer [mm]\nA,winter,1,0.7\n", "data.csv names the duty `winter`"),
];

/// Readings that the machine cannot show, and the message; the last stay undetermined.
const IMPOSSIBLE: &[(&str, &str)] = &[
    (
        "washer [mm]\nA,0,0.76\nA,20,0.80\n",
        "data.csv, line 3, column `washer`: `A` shows 0.8 mm after 20 h and 0.76 mm after 0 s (line 2), and no value of washer.wear_oiled explains both: the nearest is 0.75999",
    ),
    (
        "weight [g]\nA,0,615.8\nA,20,615.9\n",
        "line 3, column `weight`: `A` shows 615.9 g after 20 h and 615.8 g after 0 s (line 2), and no value of oiling.leak explains both",
    ),
    (
        "washer [mm]\nA,20,0.90\n",
        "line 2, column `washer`: `A` shows 0.9 mm after 20 h, and no value of washer.wear_oiled explains it",
    ),
    // The bushing runs dry and grabs the shaft, so that the hour meter stands.
    (
        "washer [mm]\nA,0,0.76\nA,4000,0.40\n",
        "line 3: `A` was read after 4000 h, but under the duty `season` the machine runs for only 630 h and then stands",
    ),
    ("washer [mm]\nA,2,0.76\n", "the data do not determine washer.wear_oiled"),
];

#[test]
fn readings_that_no_constant_explains_are_named_with_what_the_machine_can_show() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("data.csv");
    for (text, expected) in IMPOSSIBLE {
        fs::write(&path, format!("clutch,hours [h],{text}")).expect("written");
        let data = path.to_str().expect("a path");
        let message = refusal(&["calibrate", SCRIPT, "--inspections", data, "--searches", "1"], 1);
        let plain = message.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains(expected), "{text}: {message}");
    }
}

const LOGS: &[(&str, &str)] = &[
    ("time [s],bushings [°C]\n", "there is no column `bushings` (did you mean `bushing`?)"),
    ("bushing [°C]\n20\n", "the column `time [s]` is missing"),
    ("time [s]\n20\n", "no column of temperatures is there"),
    ("time [s],bushing [°C]\n0,20\n5,21\n4,22\n", "line 4, column `time`: 4 s does not come after the line before"),
    ("time [s],bushing [°C]\n0,20\n5,2100\n", "line 3, column `bushing`: 2100 °C is no temperature of a clutch"),
    ("time [s],bushing [K]\n0,20\n5,21\n", "line 2, column `bushing`: 20 K is no temperature of a clutch"),
    ("time [h],bushing [°C]\n0,20\n5,21\n", "goes on for 5 h, but the duty `bench` ends after"),
];

const RIDES: &[(&str, &str, &str)] = &[
    ("ride.csv", "time [s],pace [km/h]\n", "the column `speed [km/h]` (or [mph], [m/s]) is missing"),
    ("ride.csv", "time [s],speed [km/h]\n0,0\n1,fast\n", "line 3, column `speed`: `fast` is not a number"),
    ("ride.csv", "time [s],speed [km/h]\n0,0\n1,-5\n", "line 3, column `speed`: -5 km/h is below 0"),
    ("ride.csv", "time [s],speed [km/h]\n0,0\n1,\n", "line 3: the speed is blank"),
    ("ride.csv", "time [s],speed [km/h]\n0,0\n", "fewer than two usable points"),
    (
        "ride.csv",
        "time [s],speed [km/h]\n0,0\n1,0\n2,0\n900000,0\n",
        "the recording lasts 250.0 h; the longest is 240 h",
    ),
    ("ride.gpx", "<gpx><trk>", "is it GPX 1.1, whole to its end?"),
    ("ride.gpx", "<gpx>\n</gpx>", "holds no track point"),
    ("ride.gpx", "<gpx>\n <trkpt lat=\"1\" lon=\"2\"/></gpx>", "line 2: column 2: the point has no <time>"),
    (
        "ride.gpx",
        "<gpx>\n<trkpt lat=\"91\" lon=\"2\"><time>2024-05-01T09:30:00Z</time></trkpt></gpx>",
        "`91` is no `lat`",
    ),
    ("ride.gpx", "<gpx>\n<trkpt lat=\"1\" lon=\"2\"><time>noon</time></trkpt></gpx>", "`noon` is no time"),
];

#[test]
fn wrong_data_are_refused_with_file_line_column_value_and_unit() {
    let folder = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).expect("written");
        path.to_str().expect("a path").to_owned()
    };
    for (option, cases) in [("--inspections", INSPECTIONS), ("--log", LOGS)] {
        for (text, expected) in cases {
            let path = write("data.csv", text);
            let message = refusal(&["calibrate", SCRIPT, option, &path], 1);
            let plain = message.split_whitespace().collect::<Vec<_>>().join(" ");
            assert!(plain.contains(expected), "{text}: {message}");
            assert!(plain.contains("data.csv") || expected.contains("duty"), "{message}");
        }
    }
    for (name, text, expected) in RIDES {
        let path = write(name, text);
        let message = refusal(&["retrace", &path], 1);
        let plain = message.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains(expected) && plain.contains(name), "{text}: {message}");
    }
    assert!(refusal(&["calibrate", SCRIPT], 2).contains("nothing to learn from"));
    let path = write("data.csv", "clutch,hours [h],washer [mm]\nA,1,0.7\n");
    let message = refusal(&["calibrate", SCRIPT, "--inspections", &path, "--fit", "washer.ware"], 2);
    assert!(message.contains("did you mean `washer.wear_"), "{message}");
}

#[test]
fn an_invalid_calibration_is_refused_with_the_place_of_the_error() {
    let folder = tempfile::tempdir().expect("a folder");
    let script = folder.path().join("x.rhai");
    fs::write(
        &script,
        "let cart = machine(\"example\").calibrated(\"c\");\ncompare(cart, duty(\"d\", |ride| ride.idle(1.s)));\n",
    )
    .expect("written");
    let shipped = fs::read_to_string("scripts/duty/trail-cart-calibration.json").expect("shipped");
    let changed = |from: &str, to: &str| {
        assert!(shipped.contains(from), "{from}");
        shipped.replacen(from, to, 1)
    };
    let cases = [
        ("{\"kind\": \"calibration\",\n\"programme\": 1}".to_owned(), "line 2, column 11: unknown field `programme`"),
        ("{}".to_owned(), "it does not say its kind, so it is of an earlier version"),
        (changed("\"machine\":", "\"engine\":"), "unknown field `engine`"),
        (changed("washer.wear_oiled", "washer.wear_oilt"), "did you mean `washer.wear_oiled`?"),
        (changed("\"spread\":", "\"spread\":0.5,\"factor\":2.0,\"x\":"), "duplicate field"),
    ];
    for (text, expected) in cases {
        fs::write(folder.path().join("c.json"), text).expect("written");
        let message = refusal(&["check", script.to_str().expect("a path")], 1);
        assert!(message.contains(expected), "{expected}: {message}");
    }
}

#[test]
fn the_shipped_calibration_fits_its_schema() {
    let text = fs::read_to_string("scripts/duty/trail-cart-calibration.json").expect("shipped");
    assert!(fits("calibration", &text));
    assert!(slipsoak::read::calibration::read("trail-cart-calibration.json", &text, LiningKind::Woven).is_ok());
}

/// It was once that of an earlier engine, whose convection it made up for.
#[test]
fn the_shipped_calibration_is_what_its_command_gives_today() {
    let (shipped, made) = (learned::read(learned::SHIPPED.as_ref()), learned::read(&learned::made("calibration.json")));
    assert_eq!(made["data"], shipped["data"], "other readings");
    let constants = |of: &serde_json::Value| of["constants"].as_array().expect("constants").clone();
    assert_eq!(constants(&made).len(), constants(&shipped).len());
    for (made, shipped) in constants(&made).iter().zip(&constants(&shipped)) {
        assert_eq!(made["path"], shipped["path"]);
        let of = |learned: &serde_json::Value, key: &str| learned[key].as_f64().expect("a number");
        let (now, then) = (of(made, "value"), of(shipped, "value"));
        // Finer steps may move it, by far less than what it is uncertain by.
        let allowed = 0.1 * of(shipped, "factor").ln();
        assert!((now / then).ln().abs() < allowed, "{}: {now}, shipped {then}", made["path"]);
    }
}

/// Whether a result fits a shipped schema.
pub fn fits(kind: &str, result: &str) -> bool {
    let schema = fs::read_to_string(format!("scripts/{kind}.schema.json")).expect("the schema is shipped");
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("JSON");
    jsonschema::is_valid(&schema, &serde_json::from_str(result).expect("JSON"))
}

#[test]
fn saved_results_can_be_drawn_and_reported_without_other_files() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = |name: &str| folder.path().join(name).to_str().expect("a path").to_owned();
    let ride = ["retrace", "scripts/duty/ece15.csv", "--set", "vehicle.ratio=5.2", "--report", "--out"];
    let printed = slipsoak(&ride).arg(path("ride")).assert().success().get_output().stdout.clone();
    // A path is not broken, so the line with the written files may be longer.
    for line in String::from_utf8(printed).expect("text").lines().filter(|line| !line.starts_with("Wrote ")) {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= 80, "{line}");
    }
    slipsoak(&["calibrate", SCRIPT, "--log", "scripts/duty/trail-log.csv", "--searches", "1", "--report", "--out"])
        .arg(path("bench"))
        .assert()
        .success();
    for (result, kind, figure) in [("ride", "retraced", "launches"), ("bench", "told", "evidence")] {
        let saved = path(&format!("{result}/{kind}.json"));
        assert!(fits(kind, &fs::read_to_string(&saved).expect("written")), "{kind}");
        let page = path(&format!("{result}.html"));
        slipsoak(&["report", &saved, "--out", &page]).assert().success();
        let own = fs::read_to_string(path(&format!("{result}/report.html"))).expect("written");
        assert_eq!(fs::read_to_string(page).expect("written"), own, "the page of the saved result is another");
        assert!(own.contains("never a safety certificate") && own.contains("<svg"));
        let drawn = path(&format!("{result}-drawn"));
        slipsoak(&["draw", &saved, "--dark", "--width", "720", "--title", "Mine", "--out", &drawn]).assert().success();
        let svg = fs::read_to_string(format!("{drawn}/{figure}.svg")).expect("drawn");
        assert!(svg.contains("width=\"720\"") && svg.contains("#171A1E") && svg.contains("<title>Mine</title>"));
    }
    let message = refusal(&["report", &path("bench/calibration.json"), "--out", &path("x.html")], 2);
    assert!(message.contains("told.json"), "{message}");
}

#[test]
fn calibrate_refuses_a_script_with_only_questions_and_shows_its_last_line() {
    let log = "scripts/duty/trail-log.csv";
    let message = refusal(&["calibrate", "scripts/duty/shop-counter.rhai", "--log", log], 1);
    assert!(message.contains("compares nothing") && message.contains("shop-counter.rhai:21:1"), "{message}");
    let message = refusal(&["calibrate", SCRIPT, "--log", log, "--log-duty", "no such duty"], 1);
    assert!(message.contains("`no such duty`") && !message.contains("--out"), "{message}");
}
