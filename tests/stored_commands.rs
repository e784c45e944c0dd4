//! The command stored in a saved document reproduces it byte for byte.

use assert_cmd::Command;
use std::fs;
use std::path::Path;

/// A clutch for some minutes of stop-and-go, with blocks to skip.
const RIDE: &str = r#"
fn lap(ride) { ride.idle(10.s); ride.launch(param("speed", 20).km_h); ride.brake(2); ride.motor_off(60.s); }
let cart = machine("example").spread("clutch.engagement", normal(25.rpm));
let laps = duty("laps", Fn("lap")).repeated(param("hours", 0.2).hours);
"#;

fn slipsoak(at: &Path, arguments: &[&str]) {
    Command::new(env!("CARGO_BIN_EXE_slipsoak")).current_dir(at).args(arguments).assert().success();
}

/// Runs the command stored in a document and compares the files it writes.
fn again(at: &Path, file: &str) -> String {
    let first = fs::read(at.join("first").join(file)).expect(file);
    let value: serde_json::Value = serde_json::from_slice(&first).expect("JSON");
    let words = value["head"]["command"].as_array().or_else(|| value["calibration"]["head"]["command"].as_array());
    let words = words.expect("a command");
    let words: Vec<&str> = words.iter().filter_map(serde_json::Value::as_str).collect();
    slipsoak(at, &[&words[1..], &["--out", "again"]].concat());
    assert!(first == fs::read(at.join("again").join(file)).expect(file), "{file}: {words:?} gives something else");
    fs::remove_dir_all(at.join("again")).expect("removed");
    words.join(" ")
}

#[test]
fn the_command_stored_in_each_kind_of_result_gives_the_same_bytes_again() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::create_dir(at.join("rides")).expect("a folder");
    for (file, asks) in [
        ("record.json", "compare(cart, laps);"),
        ("gaps.json", r#"gaps(cart, "rental");"#),
        ("fleet.json", "compare(cart, laps); fleet(4, 3);"),
        ("sweep.json", "sweep(cart.varied(\"clutch.engagement\", [1900.rpm, 1650.rpm]), laps);"),
        ("influence.json", "matters(cart, laps);"),
    ] {
        fs::write(at.join("rides/ride.rhai"), [RIDE, asks].concat()).expect("written");
        let given = ["rides/ride.rhai", "--set", "hours=0.5", "--no-skip"];
        slipsoak(at, &[&["run"], &given[..], &["--out", "first", "--report", "--no-pictures"]].concat());
        let command = again(at, file);
        assert!(command.starts_with("slipsoak run rides/ride.rhai --set hours=0.5"), "{file}: {command}");
        assert!(command.ends_with(" --no-skip"), "{file}: {command}");
        let page = fs::read_to_string(at.join("first/report.html")).expect("a page");
        assert!(page.contains(&format!("{command} --out result --report")), "{file}: the page says another command");
        assert!(page.contains("From the folder in which it was run:"), "{file}");
        if file == "fleet.json" {
            for part in ["1/2", "2/2"] {
                slipsoak(at, &[&["run"], &given[..], &["--out", "parts", "--share", part]].concat());
            }
            let journals = ["parts.1-of-2.journal", "parts.2-of-2.journal"];
            slipsoak(at, &[&["gather"], &given[..], &journals[..], &["--out", "whole"]].concat());
            let [whole, first] = ["whole", "first"].map(|out| fs::read(at.join(out).join(file)).expect(file));
            assert!(whole == first, "gathered, it stores the command of the whole");
        }
        fs::remove_dir_all(at.join("first")).expect("removed");
    }
}

#[test]
fn the_commands_stored_by_retrace_and_calibrate_name_their_files_as_typed() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    for name in ["duty", "parts"] {
        fs::create_dir(at.join(name)).expect("a folder");
        for entry in fs::read_dir(Path::new("scripts").join(name)).expect(name) {
            let path = entry.expect("an entry").path();
            fs::copy(&path, at.join(name).join(path.file_name().expect("a name"))).expect("a copy");
        }
    }
    slipsoak(at, &["retrace", "duty/ece15.csv", "--machine", "parts/weekend-cart.json", "--out", "first", "--report"]);
    let command = again(at, "retraced.json");
    assert_eq!(command, "slipsoak retrace duty/ece15.csv --machine parts/weekend-cart.json");
    fs::remove_dir_all(at.join("first")).expect("removed");
    let log = ["--log", "duty/trail-log.csv", "--searches", "1", "--no-pictures", "--out", "first"];
    slipsoak(at, &[&["calibrate", "duty/trail-wear.rhai"], &log[..]].concat());
    let command = again(at, "told.json");
    assert!(command.starts_with("slipsoak calibrate duty/trail-wear.rhai --log duty/trail-log.csv"), "{command}");
}
