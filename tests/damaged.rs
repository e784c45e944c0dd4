//! Damaged results of every kind are refused with the reason, and never cause a panic.

use crate::common::slipsoak;
use crate::example;
use serde_json::{Value, json};
use std::fs;
use std::path::Path;

const SCRIPTS: [(&str, &str, &str); 4] = [
    (
        "record",
        "record.json",
        "compare(machine(\"example\"), [duty(\"lap\", Fn(\"lap\")), duty(\"laps\", Fn(\"lap\")).repeated(2.hours)]);",
    ),
    (
        "fleet",
        "fleet.json",
        "compare(machine(\"example\"), duty(\"laps\", Fn(\"lap\")).repeated(2.hours)); fleet(2, 7);",
    ),
    (
        "sweep",
        "sweep.json",
        "sweep(machine(\"example\").varied(\"clutch.engagement\", [1900.rpm, 2100.rpm]), duty(\"lap\", Fn(\"lap\")));",
    ),
    (
        "influence",
        "influence.json",
        "matters(machine(\"example\").spread(\"vehicle.mass\", factor(1.2)), duty(\"lap\", Fn(\"lap\")));",
    ),
];

/// Results of scripts, each in its folder.
fn results(at: &Path) {
    for (name, _, text) in SCRIPTS {
        let script = format!("{name}.rhai");
        let lap = "fn lap(ride) { ride.idle(5.s); ride.launch(20.km_h); ride.brake(2); ride.motor_off(60.s); }";
        fs::write(at.join(&script), format!("{lap}\n{text}\n")).unwrap();
        slipsoak(at, &["run", &script, "--out", name, "--no-pictures", "--quiet"]).assert().success();
    }
}

/// Changes the value at a place, such as "rows/0/place/0".
fn twisted(whole: &Value, place: &str, change: &Value) -> Value {
    let mut twisted = whole.clone();
    let at = twisted.pointer_mut(&format!("/{place}")).unwrap_or_else(|| panic!("no {place}"));
    // For a list instead of a number, this many of its first elements remain.
    match (at, change) {
        (Value::Array(list), Value::Number(left)) => list.truncate(left.as_u64().unwrap() as usize),
        (at, change) => *at = change.clone(),
    }
    twisted
}

#[test]
fn a_damaged_result_of_any_kind_is_refused_with_what_is_damaged() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    results(at);
    for (kind, place, change, expected) in [
        ("record", "runs/0/windows/end", json!(1), "`windows` is damaged"),
        ("record", "runs/0/windows/values/mean", json!(3), "`windows` is damaged"),
        ("record", "runs/0/windows/values/above/3", json!(1), "`windows` is damaged"),
        ("record", "runs/0/windows/values/per/4", json!(0.0), "none that a run gives"),
        ("record", "runs/0/segments/task", json!(1), "`segments` is damaged"),
        ("record", "runs/0/segments/values/per", json!(3), "`segments` is damaged"),
        ("record", "runs/0/close_up/values/0", json!(2), "`close_up` is damaged"),
        // As earlier versions saved it.
        (
            "record",
            "runs/0/windows",
            json!({"length": 5.0, "end": [], "least": []}),
            "another version may have written it",
        ),
        ("record", "runs/0/overall/most", json!(0), "does not hold every channel"),
        ("record", "runs/0/moments/0/values", json!(2), "does not hold every channel"),
        ("record", "runs/0/engagement/motor", json!(3), "`engagement of run"),
        ("record", "runs/0/parts/0/curve", json!(1), "`parts.curve of run"),
        ("record", "runs/1/horizon/points/0/used", json!(1), "`horizon.points of run"),
        ("record", "runs/1/horizon/ends", json!(1), "`horizon.ends of run"),
        ("fleet", "fleets", json!(0), "`fleets` is damaged: it is empty"),
        ("fleet", "fleets/0/times", json!(0), "has not a row for each time"),
        ("fleet", "fleets/0/bands", json!(3), "has not a row for each time"),
        ("fleet", "fleets/0/outcomes", json!(0), "it is empty"),
        ("fleet", "fleets/0/outcomes/0/ended_by", json!("oil"), "run again what wrote it"),
        ("record", "runs/1/horizon/ended_by", json!("oil"), "a life in it ends with the oil"),
        ("sweep", "rows/0/summary/ended_by", json!("oil"), "a life in it ends with the oil"),
        ("influence", "rankings/0/nominal/ended_by", json!("oil"), "today the oil is set apart"),
        ("influence", "rankings/0/influences/0/low/ended_by", json!("oil"), "today the oil is set apart"),
        ("fleet", "fleets/0/outcomes/0/left", json!(2), "has not a value for each time"),
        ("sweep", "axes/0/labels", json!(1), "its labels are not as many as its values"),
        ("sweep", "rows/0/place/0", json!(1_000_000), "`rows.place` is damaged: it lies beyond the axes"),
        ("sweep", "rows/0/place", json!(0), "`rows.place` is damaged"),
        ("influence", "rankings", json!(0), "`rankings` is damaged: it is empty"),
        ("influence", "rankings/0/nominal/lining_peak", json!(1e300), "none that a run gives"),
        ("choice", "springs", json!(0), "`springs` is damaged"),
        ("gaps", "courses/0/points", json!(0), "`courses.points` is damaged"),
        ("oiling", "lasts", json!(0), "`lasts` is damaged"),
        ("season", "policies", json!(0), "`policies` is damaged"),
        ("season", "policies/0/needs/0/part", json!("lining"), "`policies.needs` is damaged"),
        ("season", "question/carts", json!(0), "`question.carts` is damaged"),
        ("retraced", "speeds", json!(1), "fewer than two rows"),
        ("retraced", "speeds/1/0", json!(-5.0), "its times do not rise"),
        ("sheet", "capacity/0/0", json!(1e200), "`capacity` is damaged: a number in it is none that a run gives"),
        ("told", "calibration/correlation", json!(0), "`correlation` is damaged"),
        ("told", "calibration/constants", json!(0), "`constants` is damaged"),
        ("told", "evidence/0/curve", json!(1), "fewer than two points"),
    ] {
        let file = format!("{kind}/{kind}.json");
        let own = at.join(&file);
        let text = fs::read(if own.exists() { own } else { example::answer(kind) }).unwrap();
        assert!(text.starts_with(format!("{{\"kind\":\"{kind}\",\"").as_bytes()), "{file} says its kind first");
        let whole: Value = serde_json::from_slice(&text).unwrap();
        fs::write(at.join("twisted.json"), twisted(&whole, place, &change).to_string()).unwrap();
        let output = slipsoak(at, &["report", "twisted.json", "--out", "x.html"]).output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{kind}, {place}");
        let message = String::from_utf8(output.stderr).unwrap();
        assert!(message.contains(expected) && !message.contains("bug of its own"), "{kind}, {place}: {message}");
    }
}

#[test]
fn a_result_without_kind_or_of_unknown_kind_is_refused_with_a_remedy() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    for (text, expected) in [
        ("{\"program\": \"slipsoak\"}", ["of an earlier version", "run its script again"]),
        ("{\"kind\": \"tea\"}", ["its kind is \"tea\", which is not known", "record, fleet, sweep, influence, choice"]),
        ("{\"kind\": 7}", ["its kind is 7", "record, fleet"]),
        ("{\"kind\": \"gaps\", \"head\": 1}", ["invalid type", "another version"]),
        ("{\"kind\": \"record\"", ["EOF", "cut short"]),
        ("{} tail", ["trailing", "a result is JSON"]),
    ] {
        fs::write(at.join("it.json"), text).unwrap();
        for arguments in [["report", "it.json", "--out", "x.html"], ["draw", "it.json", "--out", "figures"]] {
            let output = slipsoak(at, &arguments).assert().code(1).get_output().clone();
            let message = String::from_utf8(output.stderr).unwrap().replace("\n  ", " ");
            assert!(expected.iter().all(|words| message.contains(words)), "{text}: {message}");
        }
    }
}
