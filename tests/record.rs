//! Records fit the shipped schema by the word of a validator that is not ours.

use jsonschema::Validator;
use serde_json::Value;

fn schema() -> Validator {
    let text = std::fs::read_to_string("scripts/record.schema.json").expect("the schema is shipped");
    jsonschema::validator_for(&serde_json::from_str(&text).expect("JSON")).expect("a schema")
}

/// A record of the program, with two runs of one lap.
fn record() -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("out");
    assert_cmd::Command::new(env!("CARGO_BIN_EXE_slipsoak"))
        .args(["run", "scripts/duty/town-trace.rhai", "--set", "laps=1", "--no-pictures", "--quiet", "--out"])
        .arg(&out)
        .assert()
        .success();
    serde_json::from_slice(&std::fs::read(out.join("record.json")).expect("a record")).expect("JSON")
}

/// Paths of the objects with fixed keys, the first of each list; maps from a script's or a ledger's names are left out.
fn objects(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(map) => {
            let free = ["/parameters", "/inward", "/held", "/outward"].iter().any(|map| path.ends_with(map));
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
fn a_record_fits_the_shipped_schema() {
    let (schema, record) = (schema(), record());
    let faults: Vec<String> = schema.iter_errors(&record).map(|e| format!("{}: {e}", e.instance_path())).collect();
    assert!(faults.is_empty(), "{faults:#?}");
}

#[test]
fn a_misspelt_a_missing_and_an_extra_key_are_refused_wherever_they_stand() {
    let (schema, record) = (schema(), record());
    let mut paths = Vec::new();
    objects(&record, "", &mut paths);
    assert!(paths.len() > 10, "{paths:?}");
    for path in &paths {
        let keys: Vec<String> =
            record.pointer(path).and_then(Value::as_object).expect("an object").keys().cloned().collect();
        let extra = changed(&record, path, |map| drop(map.insert("tempretures".to_owned(), Value::Null)));
        assert!(!schema.is_valid(&extra), "an extra key in `{path}`");
        for key in keys {
            let missing = changed(&record, path, |map| drop(map.remove(&key)));
            let misspelt = changed(&record, path, |map| {
                let value = map.remove(&key).expect("the key");
                map.insert(format!("{key}s"), value);
            });
            assert!(!schema.is_valid(&misspelt), "`{key}s` for `{key}` in `{path}`");
            assert!(!schema.is_valid(&missing), "`{path}` without `{key}`");
        }
    }
}

#[test]
fn a_text_where_a_number_belongs_is_refused() {
    let (schema, record) = (schema(), record());
    assert!(
        !schema.is_valid(&changed(&record, "/runs/0", |run| drop(run.insert("duration".to_owned(), "long".into()))))
    );
}
