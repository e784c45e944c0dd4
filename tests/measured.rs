//! Worn parts and recorded rides from outside: README's commands, refusals, counts.

use crate::learned;
use assert_cmd::Command;
use slipsoak::read::ridelog;
use std::fmt::Write as _;
use std::fs;

fn slipsoak(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(env!("CARGO_MANIFEST_DIR")).args(arguments);
    command
}

fn refusal(arguments: &[&str], code: i32) -> String {
    let output = slipsoak(arguments).assert().code(code).get_output().clone();
    let message = String::from_utf8(output.stderr).expect("text");
    assert!(!message.contains("panicked") && !message.contains("bug of its own"), "{message}");
    message
}

const SCRIPT: &str = "scripts/duty/trail-wear.rhai";

/// A wrong table, and its expected message.
const INSPECTIONS: &[(&str, &str)] = &[
    ("", "holds no head"),
    ("clutch,hours [h],washr [mm]\n", "there is no column `washr`; did you mean `washer`?"),
    ("clutch,hours [h],washer\n", "line 1, column `washer`: the head gives no unit"),
    ("clutch,hours [h],washer [rpm]\n", "column `washer`: `rpm` is no unit of it"),
    ("clutch,hours [h],washer [mm] ± none\n", "`none` is no standard deviation"),
    ("clutch,hours [h],hours [h]\n", "the column `hours` is there twice"),
    ("hours [h],washer [mm]\n1,0.7\n", "the column `clutch` is missing"),
    ("clutch,washer [mm]\nA,0.7\n", "a column `hours [h]` (by the hour meter) or `launches` is missing"),
    ("clutch,hours [h],washer [mm]\nA,1\n", "line 2: it has 2 columns, the head 3"),
    ("# note\nclutch,hours [h],washer [mm]\nA,1,0.7 rpm\n", "line 3, column `washer`: `0.7 rpm` is not a number"),
    ("clutch,hours [h],washer [mm]\nA,-4,0.7\n", "line 2, column `hours`: -4 h cannot be"),
    ("clutch,hours [h],washer [mm]\nA,1,762\n", "line 2, column `washer`: 762 mm cannot be: expected between 0 and 50"),
    ("clutch,hours [h],washer [mm]\n,1,0.7\n", "line 2: the clutch has no name"),
    ("clutch,hours [h],washer [mm]\nA,,0.7\n", "line 2: neither hours nor launches are given"),
    (
        "clutch,hours [h],washer [mm]\nA,1,0.5\nA,9,0.7\n",
        "line 3, column `washer`: 0.7 mm comes after 0.5: it has grown back",
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
        "column `drag`: 400 N·m cannot be: expected between 0.01 and 20",
    ),
    ("clutch,hours [h],charring [%]\nA,0,130\n", "column `charring`: 130 % cannot be: expected between 0 and 100"),
    ("clutch,hours [h],washer [mm]\nA,1,\n", "holds no reading"),
    ("clutch,hours [h],washer [mm]\nA,nan,0.7\n", "line 2, column `hours`: `nan` is not a number"),
    ("clutch,hours [h],washer [mm]\nA,1,inf\n", "line 2, column `washer`: `inf` is not a number"),
    (
        "clutch,hours [h],washer [mm]\nA,1,0.7\nB,1,0.7\nA,1,0.71\n",
        "line 4: `A` has a reading of its washer at that time already",
    ),
    ("clutch,duty,hours [h],washer [mm]\nA,winter,1,0.7\n", "data.csv names the duty `winter`"),
];

const LOGS: &[(&str, &str)] = &[
    ("time [s],bushings [°C]\n", "there is no column `bushings`; did you mean `bushing`?"),
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
    ("ride.csv", "time [s],speed [km/h]\n0,0\n900000,0\n", "the recording lasts 250.0 h; the longest is 240 h"),
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
fn the_published_cycle_has_its_distance_and_three_launches() {
    // UN Regulation 83, part one: 1014.58 m by integration of its 25 operations; three starts from standstill.
    let text = fs::read_to_string("scripts/duty/ece15.csv").expect("the cycle");
    let (trace, report) = ridelog::read("ece15.csv", &text).expect("clean");
    assert!((report.distance - 1014.58).abs() < 0.005, "{}", report.distance);
    assert_eq!(
        (trace.points.len() as u64, report.kept),
        (report.points, 26),
        "nothing is left out of a clean recording"
    );
    let made = slipsoak(&[
        "retrace",
        "scripts/duty/ece15.csv",
        "--machine",
        "scripts/parts/weekend-cart.json",
        "--set",
        "vehicle.ratio=5.2",
        "--json",
    ]);
    let made = { made }.assert().success().get_output().stdout.clone();
    let ride: serde_json::Value = serde_json::from_slice(&made).expect("JSON");
    let launches = ride["launches"].as_array().expect("launches");
    assert_eq!(launches.len(), 3);
    let sum: f64 = launches.iter().map(|l| l["energy"].as_f64().expect("a number")).sum();
    assert!((sum / ride["heat"][0].as_f64().expect("a number") - 1.0).abs() < 1e-12);
    assert!(sum <= ride["heat"][1].as_f64().expect("a number"));
}

/// Six hours of the same launch each minute: windows of the run are then longer than its start.
#[test]
fn launches_of_a_long_ride_hold_all_its_slip_and_are_alike() {
    let folder = tempfile::tempdir().expect("a folder");
    let ride = folder.path().join("long.csv");
    let mut text = "time [s],speed [km/h]\n".to_owned();
    for minute in 0..360 {
        for (second, speed) in [(0, 0.0), (20, 0.0), (26, 24.0), (50, 24.0), (58, 0.0)] {
            writeln!(text, "{},{speed}", 60 * minute + second).expect("into memory");
        }
    }
    fs::write(&ride, text).expect("written");
    let path = ride.to_str().expect("a path");
    let made = slipsoak(&["retrace", path, "--machine", "scripts/parts/trail-cart.json", "--json"]);
    let made = { made }.assert().success().get_output().stdout.clone();
    let ridden: slipsoak_engine::retraced::Retraced = serde_json::from_slice(&made).expect("JSON");
    assert_eq!(ridden.launches.len(), 360);
    let (launches, ride) = ridden.heat;
    assert!(launches <= ride && launches > 0.99 * ride, "{launches} of {ride} J");
    let late = &ridden.launches[180..];
    let mean = late.iter().map(|launch| launch.energy).sum::<f64>() / late.len() as f64;
    assert!(late.iter().all(|launch| (launch.energy / mean - 1.0).abs() < 0.02), "{late:?}");
}

#[test]
fn every_flaw_of_a_ride_from_positions_is_reported() {
    let text = fs::read_to_string("scripts/duty/errands.gpx").expect("the ride");
    let (_, report) = ridelog::read("errands.gpx", &text).expect("clean");
    // It was made with one of each: a repeated and a backward time, a position 220 m off (two steps), and 17 s without
    // points.
    assert_eq!((report.repeated, report.backward, report.jumps, report.gaps), (1, 1, 2, 1), "{report:?}");
    assert!((report.gap_time - 17.0).abs() < 1e-9 && report.evened < 1.0, "{report:?}");
    // Made with 1004 m; positions scatter by 6 cm, and 17 s are a straight line.
    assert!((report.distance / 1004.25 - 1.0).abs() < 0.03, "{report:?}");
}

#[test]
fn the_shipped_calibration_fits_its_schema() {
    let text = fs::read_to_string("scripts/duty/trail-cart-calibration.json").expect("shipped");
    assert!(fits("calibration", &text));
    assert!(slipsoak::read::calibration::read("trail-cart-calibration.json", &text).is_ok());
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
fn fits(kind: &str, result: &str) -> bool {
    let schema = fs::read_to_string(format!("scripts/{kind}.schema.json")).expect("the schema is shipped");
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("JSON");
    jsonschema::is_valid(&schema, &serde_json::from_str(result).expect("JSON"))
}

/// A short duty whose every block is one launch.
const SHORT: &str = "fn day(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(16.km_h, 240.s); ride.brake(1.5); ride.park(14.hours); }
title(\"What do few readings say?\");
compare(machine(\"example\"), duty(\"day\", Fn(\"day\")).repeated(4000.hours));
";

/// Washers by the engine with twice the wear, at running times: as hours, and as launches.
fn washers() -> [String; 2] {
    use slipsoak_engine::calibrate::{Quantity, Under, Way, When};
    use slipsoak_engine::duty::{End, Segment, Task};
    let block = [
        Segment::Ride(Task::Idle, End::After(20.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 20.0 / 3.6, within: 60.0 }),
        Segment::Ride(Task::Hold(16.0 / 3.6), End::After(240.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
        Segment::Ride(Task::Off, End::After(14.0 * 3600.0)),
    ];
    let mut machine = slipsoak_engine::parts::Machine::default();
    machine.washer.wear_oiled *= 2.0;
    let hours = [0.0, 5.0, 10.0, 20.0, 60.0, 120.0];
    let times = hours.map(|h| When::Running(h * 3600.0));
    let way = Way::of(machine, &block, &times, slipsoak_engine::simulate::Skipping::default()).expect("it runs");
    let mut tables = ["hours [h]", "launches"].map(|head| format!("clutch,{head},washer [mm]\n"));
    for (h, when) in hours.iter().zip(times) {
        let washer = 1e3 * way.shows(when, Quantity::Washer, &Under::default());
        for (table, at) in tables.iter_mut().zip([*h, way.at(when).launches]) {
            writeln!(table, "one,{at},{washer}").expect("into memory");
        }
    }
    tables
}

/// A calibration with the short duty, in its own folder; returns told.json, the page and the figure.
fn learned(readings: &str, options: &[&str]) -> (String, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("short.rhai"), SHORT).expect("written");
    fs::write(folder.path().join("readings.csv"), readings).expect("written");
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(folder.path());
    command.args(["calibrate", "short.rhai", "--inspections", "readings.csv", "--searches", "1", "--out", "out"]);
    let printed = command.args(["--report"]).args(options).assert().success().get_output().stdout.clone();
    // A path is not broken, so the line with the written files may be longer.
    for line in String::from_utf8(printed).expect("text").lines().filter(|line| !line.starts_with("Wrote ")) {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= 80, "{line}");
    }
    let text = |name: &str| fs::read_to_string(folder.path().join("out").join(name)).expect(name);
    (text("told.json"), text("report.html"), text("evidence.svg"))
}

#[test]
fn readings_before_three_times_the_running_in_time_are_dropped_on_request() {
    let [hours, _] = washers();
    let (told, page, _) = learned(&hours, &["--running-in", "drop", "--running-in-time", "4 h"]);
    assert!(fits("told", &told));
    let told: slipsoak_engine::calibrate::Told = serde_json::from_str(&told).expect("it reads back");
    // 0, 5 and 10 h are before 12 h.
    let source = &told.calibration.data[0];
    assert_eq!((source.used, source.set_aside), (3, 3));
    assert!(told.calibration.running_in.is_empty());
    assert!(told.evidence[0].readings.iter().all(|r| r.at >= 12.0 * 3600.0), "{:?}", told.evidence[0].readings);
    let washer = &told.calibration.constants[0];
    assert!((washer.value / washer.before / 2.0).ln().abs() < washer.factor.ln(), "{washer:?}");
    assert!(page.contains("3 readings were set aside") && page.contains("--running-in drop"));
}

#[test]
fn launches_give_the_same_result_as_the_hour_meter() {
    let [hours, launches] = washers();
    let fit = |readings: &str| {
        let (told, _, figure) = learned(readings, &["--running-in", "drop", "--running-in-time", "1 s"]);
        (serde_json::from_str::<slipsoak_engine::calibrate::Told>(&told).expect("it reads back"), figure)
    };
    let ((by_hours, with_hours), (by_launches, with_launches)) = (fit(&hours), fit(&launches));
    let value = |told: &slipsoak_engine::calibrate::Told| told.calibration.constants[0].value;
    // The launches are from a machine with another washer; only the effect of its wear on the ride may differ.
    assert!((value(&by_launches) / value(&by_hours) - 1.0).abs() < 0.01, "{by_launches:?} {by_hours:?}");
    assert_eq!((by_hours.evidence[0].by_launches, by_launches.evidence[0].by_launches), (false, true));
    assert!(with_hours.contains("running hours") && !with_hours.contains(">\nlaunches\n<"));
    assert!(with_launches.contains(">\nlaunches\n<"), "the axis names launches");
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
