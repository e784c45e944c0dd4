//! The program alone, in an empty folder: shipped scripts and machines by name, schemas, completions, manual, tables of runs.

use crate::common::{refusal, slipsoak};
use std::fs;
use std::path::Path;

fn printed(at: &Path, arguments: &[&str]) -> (String, String) {
    let output = slipsoak(at, arguments).assert().success().get_output().clone();
    (String::from_utf8(output.stdout).expect("text"), String::from_utf8(output.stderr).expect("text"))
}

#[test]
fn shipped_scripts_and_machines_go_by_name_where_there_is_no_such_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let duties = fs::read_dir("scripts/duty").expect("shipped").map(|entry| entry.expect("an entry").path());
    let scripts: Vec<_> = duties.filter(|path| path.extension().is_some_and(|e| e == "rhai")).collect();
    assert!(scripts.len() > 9);
    for script in scripts {
        let name = script.file_stem().unwrap().to_str().unwrap().to_owned();
        let (text, note) = printed(at, &["check", &name]);
        assert!(text.contains("The script is in order."), "{text}");
        assert!(note.contains(&format!("note: {name}.rhai is the shipped script")), "{note}");
        let whole =
            slipsoak(at, &["check"]).arg(script.canonicalize().unwrap()).assert().success().get_output().clone();
        assert_eq!(text, String::from_utf8(whole.stdout).unwrap(), "{name}");
    }
    let (sheet, note) = printed(at, &["sheet", "trail-cart"]);
    assert!(sheet.contains("trail cart") && note.contains("trail-cart.json is the shipped machine"), "{sheet}{note}");
    fs::create_dir(at.join("weekend")).unwrap();
    assert!(printed(at, &["check", "weekend"]).0.contains("in order"));
    // A file of that name goes first, also in the folders that `begin` makes.
    fs::write(
        at.join("orchard.rhai"),
        "title(\"own\"); compare(machine(\"trail-cart\"), duty(\"d\", |r| r.idle(5.s)));",
    )
    .unwrap();
    let (text, note) = printed(at, &["check", "orchard"]);
    assert!(text.starts_with("own") && note.contains("note: orchard is read from orchard.rhai"), "{text}{note}");
    assert!(note.contains("note: trail-cart.json is the shipped one; there is no such file beside"), "{note}");
    for (place, says) in [("parts/trail-cart.json", "is read from parts/"), ("trail-cart.json", "is read from trail-")]
    {
        fs::create_dir_all(at.join("parts")).unwrap();
        fs::write(at.join(place), r#"{"name": "my cart"}"#).unwrap();
        let (text, note) = printed(at, &["sheet", "trail-cart"]);
        assert!(text.contains("the settings of “my cart”?") && note.contains(says), "{text}{note}");
        assert!(!printed(at, &["check", "orchard"]).1.contains("is the shipped one"));
    }
    // An empty file is what a shell makes before `part` prints into it.
    fs::write(at.join("orchard-cart.json"), "").unwrap();
    assert!(printed(at, &["part", "orchard-cart"]).0.contains("orchard cart"));
    assert!(refusal(at, &["check", "zzz"], 2).contains("shipped scripts run by their names anywhere"));
}

#[test]
fn a_table_of_a_run_has_the_units_asked_for_and_the_comparison_is_a_table_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let script = "let c = machine(\"example\");\ncompare([c.spring(1900.rpm), c.spring(2100.rpm)], duty(\"d\", |r| { r.idle(5.s); r.launch(20.km_h); }));\n";
    fs::write(at.join("x.rhai"), script).unwrap();
    let run = |units: &[&str], out: &str| {
        let all = ["run", "x.rhai", "--svg-only", "--out", out];
        slipsoak(at, &[&all[..], units].concat()).assert().success();
        let mut files = fs::read_dir(at.join(out)).unwrap().map(|e| e.unwrap().path());
        let first = files.find(|path| path.file_name().unwrap().to_str().unwrap().starts_with("01-"));
        let table = fs::read_to_string(first.expect("the first run")).unwrap();
        let mut lines = table.lines();
        let heads: Vec<String> = lines.next().unwrap().split(',').map(str::to_owned).collect();
        let last: Vec<f64> = lines.next_back().unwrap().split(',').map(|n| n.parse().unwrap()).collect();
        let comparison = fs::read_to_string(at.join(out).join("comparison.csv")).expect("a table");
        (heads, last, comparison)
    };
    let (si, metric, imperial) =
        (run(&[], "si"), run(&["--units", "metric"], "metric"), run(&["--units", "imperial"], "imperial"));
    let value = |of: &(Vec<String>, Vec<f64>, String), head: &str| {
        of.1[of.0.iter().position(|h| h == head).unwrap_or_else(|| panic!("{head} in {:?}", of.0))]
    };
    for (one, other, by) in [
        (value(&metric, "vehicle speed [km/h]"), value(&si, "vehicle speed [m/s]"), 3.6),
        (value(&imperial, "vehicle speed [mph]"), value(&metric, "vehicle speed [km/h]"), 1.0 / 1.609344),
        (value(&metric, "motor speed [rpm]"), value(&si, "motor speed [rad/s]"), 30.0 / std::f64::consts::PI),
        (value(&metric, "bushing [°C]") + 273.15, value(&si, "bushing [K]"), 1.0),
        (value(&imperial, "bushing [°F]") + 459.67, value(&si, "bushing [K]"), 1.8),
        (value(&metric, "lining wear [µm]"), value(&imperial, "lining wear [thou]"), 25.4),
    ] {
        assert!((one / (other * by) - 1.0).abs() < 1e-5, "{one} for {other}");
    }
    assert!(
        imperial.2.starts_with("machine,duty,lining peak [°F],") && imperial.2.lines().count() == 3,
        "{}",
        imperial.2
    );
    let names: Vec<_> =
        fs::read_dir(at.join("si")).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    let count = |end: &str| names.iter().filter(|name| name.ends_with(end)).count();
    assert!(count(".svg") > 5 && count(".png") == 0, "{names:?}");
}

#[test]
fn the_schema_of_a_parts_file_takes_every_machine_that_is_shipped_and_no_other_key() {
    let folder = tempfile::tempdir().expect("a folder");
    let (schema, _) = printed(folder.path(), &["schema", "part"]);
    let schema: serde_json::Value = serde_json::from_str(&schema).expect("JSON");
    let valid = jsonschema::validator_for(&schema).expect("a schema");
    let mut machines: Vec<String> = ["orchard-cart", "trail-cart", "weekend-cart"]
        .iter()
        .map(|name| fs::read_to_string(format!("scripts/parts/{name}.json")).expect("shipped"))
        .collect();
    machines.push(printed(folder.path(), &["part"]).0);
    for machine in &machines {
        let machine = serde_json::from_str(machine).expect("JSON");
        let faults: Vec<String> = valid.iter_errors(&machine).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(faults.is_empty(), "{faults:#?}");
    }
    for wrong in [
        "{\"vehicle\": {\"weight\": \"160 kg\"}}",
        "{\"oil\": \"butter\"}",
        "{\"vehicle\": {\"mass\": 160}}",
        "{\"motor\": {\"torque\": [[\"1800 rpm\"]]}}",
    ] {
        assert!(!valid.is_valid(&serde_json::from_str(wrong).unwrap()), "{wrong}");
    }
}

#[test]
fn completions_and_manual_name_every_command() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let manual = printed(at, &["manual"]).0.replace('\\', "");
    for command in ["run", "check", "choose", "gaps", "oiling", "compare", "retrace", "calibrate", "begin"] {
        for shell in ["bash", "zsh", "fish"] {
            assert!(printed(at, &["completions", shell]).0.contains(command), "{command} for {shell}");
        }
        assert!(manual.contains(&format!("slipsoak-{command}(1)")), "{command}: {manual}");
        assert!(printed(at, &["manual", command]).0.contains(".SH OPTIONS"), "{command}");
    }
    assert!(refusal(at, &["manual", "chose"], 2).contains("did you mean `choose`?"));
}
