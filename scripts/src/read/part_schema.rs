//! The JSON schema of a parts file, from the table of settings.

use crate::read::units::{between, show};
use serde_json::{Map, Value, json};
use slipsoak_engine::names::{IdleKind, LiningKind};
use slipsoak_engine::parts::{Dimension, Oil, PARAMETERS, Parameter};
use slipsoak_engine::parts_file::{FORMS, idle_kind};

/// What a parts file chooses by name: its key, the names, and what it is.
pub(crate) fn named() -> Vec<(&'static str, Vec<&'static str>, &'static str)> {
    vec![
        ("form", FORMS.iter().map(|form| form.0).collect(), "how friction acts on the shoes"),
        (
            "lining_kind",
            LiningKind::ALL.iter().map(|kind| kind.name()).collect(),
            "kind of the lining; sets its friction, wear, weight and limits",
        ),
        (
            "oil",
            Oil::names().concat(),
            "oil in the bushing; those “with” something are never to be used, and modelled only to show why",
        ),
        (
            "idle_kind",
            IdleKind::ALL.iter().map(|kind| kind.name()).filter(|name| idle_kind(name).is_ok()).collect(),
            "what holds the motor's idle",
        ),
    ]
}

/// The schema. Where a key stands is held by it; a reader still checks units and ranges, which the descriptions name.
pub(crate) fn schema() -> Value {
    let mut keys = Map::new();
    for (key, meaning) in [("name", "name of the machine"), ("about", "description of the machine, for readers")] {
        keys.insert(key.to_owned(), json!({"type": "string", "description": meaning}));
    }
    for (key, names, meaning) in named() {
        keys.insert(key.to_owned(), json!({"enum": names, "description": meaning}));
    }
    for p in PARAMETERS {
        let Some((group, key)) = p.path.split_once('.') else { continue };
        let empty = || json!({"type": "object", "additionalProperties": false, "properties": {}});
        let group = keys.entry(group).or_insert_with(empty);
        group["properties"][key] = setting(p);
    }
    keys["motor"]["properties"]["torque"] = json!({
        "type": "array",
        "items": {"type": "array", "items": {"type": "string", "pattern": NUMBER}, "minItems": 2, "maxItems": 2},
        "description": "full-throttle torque at rising speeds",
        "examples": [[["1800 rpm", "10.7 N·m"], ["3600 rpm", "9 N·m"]]],
    });
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Part",
        "description": "A machine, as a parts file: what is not named has its default",
        "type": "object",
        "properties": keys,
        "additionalProperties": false,
    })
}

/// Begin of a quantity.
const NUMBER: &str = r"^\s*[-+]?[0-9.]";

/// The schema of one setting: a quantity in quotes, or a plain number where it has no unit.
fn setting(p: &Parameter) -> Value {
    let (default, [least, most]) = (show(p.default, p.dimension), between((p.least, p.most), p.dimension));
    let description = format!("{}; {least} to {most}, default {default}", p.meaning);
    match p.dimension {
        Dimension::Ratio => {
            json!({"type": ["number", "string"], "pattern": NUMBER, "description": description, "examples": [p.default]})
        }
        _ => json!({"type": "string", "pattern": NUMBER, "description": description, "examples": [default]}),
    }
}
