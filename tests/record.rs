//! Results fit their shipped schemas by the word of a validator that is not ours.

mod studies;

use jsonschema::Validator;
use serde_json::Value;

/// Every kind of result: its name, a script that leaves one and the arguments that keep it short.
const KINDS: [(&str, &str); 4] = [
    ("record", "compare(cart, [duty(\"lap\", Fn(\"lap\")), duty(\"rest\", |ride| ride.idle(5.s))]);"),
    ("fleet", "compare([cart, cart.called(\"again\")], duty(\"laps\", Fn(\"lap\")).repeated(0.2.hours)); fleet(8, 1);"),
    ("sweep", "sweep(cart.varied(\"motor.idle\", [1650.rpm, 1700.rpm]), duty(\"lap\", Fn(\"lap\")));"),
    ("influence", "matters(cart, duty(\"idle\", |ride| { ride.idle(1.s); ride.throttle(0.2, 1.s); }), 16);"),
];
const CART: &str = "fn lap(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.brake(2); ride.oil(1, \"SAE 30\"); }
let cart = machine(\"standard\").spread(\"clutch.engagement\", normal(25.rpm));
";

fn schema(kind: &str) -> Validator {
    let text = std::fs::read_to_string(format!("scripts/{kind}.schema.json")).expect("the schema is shipped");
    jsonschema::validator_for(&serde_json::from_str(&text).expect("JSON")).expect("a schema")
}

/// A result of the program.
fn result(kind: &str, script: &str) -> Value {
    let folder = studies::folder(&[CART, script].concat());
    studies::run(folder.path(), &["--no-pictures", "--quiet", "--out", "out"]);
    let path = folder.path().join(format!("out/{kind}.json"));
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

#[test]
fn every_result_fits_its_shipped_schema_and_no_other() {
    for (kind, script) in KINDS {
        let result = result(kind, script);
        for (other, _) in KINDS {
            let schema = schema(other);
            let faults: Vec<String> =
                schema.iter_errors(&result).map(|e| format!("{}: {e}", e.instance_path())).collect();
            assert_eq!(faults.is_empty(), kind == other, "{kind} against the schema of {other}: {faults:#?}");
        }
    }
}

#[test]
fn a_misspelt_a_missing_and_an_extra_key_are_refused_wherever_they_stand() {
    for (kind, script) in KINDS {
        let (schema, result) = (schema(kind), result(kind, script));
        let mut paths = Vec::new();
        objects(&result, "", &mut paths);
        assert!(paths.len() > 3, "{kind}: {paths:?}");
        for path in &paths {
            let keys: Vec<String> =
                result.pointer(path).and_then(Value::as_object).expect("an object").keys().cloned().collect();
            let extra = changed(&result, path, |map| drop(map.insert("tempretures".to_owned(), Value::Null)));
            assert!(!schema.is_valid(&extra), "{kind}: an extra key in `{path}`");
            for key in keys {
                let missing = changed(&result, path, |map| drop(map.remove(&key)));
                let misspelt = changed(&result, path, |map| {
                    let value = map.remove(&key).expect("the key");
                    map.insert(format!("{key}s"), value);
                });
                assert!(!schema.is_valid(&misspelt), "{kind}: `{key}s` for `{key}` in `{path}`");
                assert!(!schema.is_valid(&missing), "{kind}: `{path}` without `{key}`");
            }
        }
    }
}

#[test]
fn a_text_where_a_number_belongs_is_refused() {
    for ((kind, script), (path, key)) in KINDS.into_iter().zip([
        ("/runs/0", "duration"),
        ("/fleets/0", "horizon"),
        ("/rows/0/summary", "lining_peak"),
        ("/rankings/0/nominal", "lining_peak"),
    ]) {
        let result = result(kind, script);
        let changed = changed(&result, path, |map| drop(map.insert(key.to_owned(), "long".into())));
        assert!(!schema(kind).is_valid(&changed), "{kind}: {path}/{key}");
    }
}
