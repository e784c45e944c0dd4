//! Results fit their shipped schemas, checked by an independent validator.

use crate::{example, studies};
use jsonschema::Validator;
use serde_json::Value;

/// Source of a result.
#[derive(Clone, Copy)]
enum By {
    /// this script, run
    Script(&'static str),
    /// a command for the example
    Command,
    /// a shipped input
    Shipped(&'static str),
}

/// Every kind of result, and a short way to make it.
const KINDS: [(&str, By); 15] = [
    ("record", By::Script("compare(cart, [duty(\"lap\", Fn(\"lap\")), duty(\"rest\", |ride| ride.idle(5.s))]);")),
    (
        "fleet",
        By::Script(
            "compare([cart, cart.called(\"again\")], duty(\"laps\", Fn(\"lap\")).repeated(0.2.hours)); fleet(8, 1);",
        ),
    ),
    ("sweep", By::Script("sweep(cart.varied(\"motor.idle\", [1650.rpm, 1700.rpm]), duty(\"lap\", Fn(\"lap\")));")),
    (
        "influence",
        By::Script("matters(cart, duty(\"idle\", |ride| { ride.idle(1.s); ride.throttle(0.2, 1.s); }), 16);"),
    ),
    ("choice", By::Command),
    ("gaps", By::Command),
    ("oiling", By::Command),
    ("season", By::Command),
    ("measure", By::Command),
    ("calibration", By::Command),
    ("told", By::Command),
    ("retraced", By::Command),
    ("sheet", By::Command),
    ("part", By::Shipped("scripts/parts/weekend-cart.json")),
    ("stock", By::Shipped("scripts/parts/springs.json")),
];
const CART: &str = "fn lap(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.brake(2); ride.oil(1, \"SAE 30\"); }
let cart = machine(\"example\").spread(\"clutch.engagement\", normal(25.rpm));
";

fn schema(kind: &str) -> Validator {
    let text = std::fs::read_to_string(format!("scripts/{kind}.schema.json")).expect("the schema is shipped");
    jsonschema::validator_for(&serde_json::from_str(&text).expect("JSON")).expect("a schema")
}

/// A result of the program.
fn result(kind: &str, by: By) -> Value {
    let script = if let By::Script(script) = by { script } else { "" };
    let folder = studies::folder(&[CART, script].concat());
    let path = match by {
        By::Script(_) => {
            studies::run(folder.path(), &["--no-pictures", "--quiet", "--out", "out"]);
            folder.path().join(format!("out/{kind}.json"))
        }
        By::Command => example::answer(kind),
        By::Shipped(path) => path.into(),
    };
    serde_json::from_slice(&std::fs::read(path).expect("a result")).expect("JSON")
}

/// Paths of the objects with fixed keys, the first of each list; maps from a script's or a ledger's names are left out.
fn objects(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            let free = ["/parameters", "/inward", "/held", "/outward", "/supplies", "/spread", "/correlated"]
                .iter()
                .any(|map| path.ends_with(map));
            if !free && !map.is_empty() {
                found.push(path.to_owned());
                map.iter().for_each(|(key, inner)| objects(inner, &format!("{path}/{key}"), found));
            }
        }
        Value::Array(items) => {
            if let Some(first) = items.first() {
                objects(first, &format!("{path}/0"), found);
            }
        }
        _ => {}
    }
}

fn changed(record: &Value, path: &str, change: impl FnOnce(&mut serde_json::Map<String, Value>)) -> Value {
    let mut record = record.clone();
    change(record.pointer_mut(path).and_then(Value::as_object_mut).expect("an object"));
    record
}

/// Every kind with its result, each made once.
fn results() -> Vec<(&'static str, Value)> {
    KINDS.map(|(kind, by)| (kind, result(kind, by))).into()
}

#[test]
fn every_kind_of_schema_is_shipped_as_printed_and_has_a_result_here() {
    let files = std::fs::read_dir("scripts").expect("a folder").filter_map(|f| f.ok()?.file_name().into_string().ok());
    let mut shipped: Vec<String> = files.filter_map(|f| Some(f.strip_suffix(".schema.json")?.to_owned())).collect();
    let mut known = KINDS.map(|(kind, _)| kind.to_owned());
    shipped.sort();
    known.sort();
    assert_eq!(shipped, known);
    for kind in known {
        let printed =
            studies::slipsoak(".".as_ref(), &["schema", &kind]).assert().success().get_output().stdout.clone();
        let shipped = std::fs::read(format!("scripts/{kind}.schema.json")).expect("shipped");
        assert!(printed == shipped, "scripts/{kind}.schema.json is not what is printed");
    }
}

#[test]
fn every_result_fits_its_shipped_schema_and_no_other_and_no_other_key() {
    for (kind, result) in results() {
        for (other, _) in KINDS {
            if other != kind {
                assert!(!schema(other).is_valid(&result), "{kind} against the schema of {other}");
            }
        }
        let own = schema(kind);
        let faults: Vec<String> = own.iter_errors(&result).map(|e| format!("{}: {e}", e.instance_path())).collect();
        assert!(faults.is_empty(), "{kind}: {faults:#?}");
        let short = shortened(result);
        assert!(own.is_valid(&short), "{kind} with short lists");
        misspellings_are_refused(kind, &short);
        a_text_for_a_number_is_refused(kind, &short);
    }
}

/// A result with the first items of its lists: those of fixed length have fewer.
fn shortened(value: Value) -> Value {
    match value {
        Value::Array(items) => items.into_iter().take(8).map(shortened).collect(),
        Value::Object(map) => map.into_iter().map(|(key, inner)| (key, shortened(inner))).collect(),
        other => other,
    }
}

/// A misspelt, a missing and an extra key are refused in every object; in an input some may be missing.
fn misspellings_are_refused(kind: &str, result: &Value) {
    let (schema, input) = (schema(kind), kind == "stock" || kind == "part");
    let mut paths = Vec::new();
    objects(result, "", &mut paths);
    assert!(paths.len() > 1, "{kind}: {paths:?}");
    for path in &paths {
        let keys: Vec<String> =
            result.pointer(path).and_then(Value::as_object).expect("an object").keys().cloned().collect();
        let extra = changed(result, path, |map| drop(map.insert("tempretures".to_owned(), Value::Null)));
        assert!(!schema.is_valid(&extra), "{kind}: an extra key in `{path}`");
        for key in keys {
            let missing = changed(result, path, |map| drop(map.remove(&key)));
            let misspelt = changed(result, path, |map| {
                let value = map.remove(&key).expect("the key");
                map.insert(format!("{key}s"), value);
            });
            assert!(!schema.is_valid(&misspelt), "{kind}: `{key}s` for `{key}` in `{path}`");
            assert!(input || !schema.is_valid(&missing), "{kind}: `{path}` without `{key}`");
        }
    }
}

/// Paths of numbers, the first of each list.
fn numbers(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => map.iter().for_each(|(key, inner)| numbers(inner, &format!("{path}/{key}"), found)),
        Value::Array(items) => items.iter().take(1).for_each(|first| numbers(first, &format!("{path}/0"), found)),
        Value::Number(_) => found.push(path.to_owned()),
        _ => {}
    }
}

fn a_text_for_a_number_is_refused(kind: &str, result: &Value) {
    let (schema, mut paths) = (schema(kind), vec![]);
    numbers(result, "", &mut paths);
    assert!(kind == "stock" || kind == "part" || paths.len() > 2, "{kind}: {paths:?}");
    for path in paths {
        let mut changed = result.clone();
        *changed.pointer_mut(&path).expect("a number") = "long".into();
        assert!(!schema.is_valid(&changed), "{kind}: a text at {path}");
    }
}
