//! Other spellings of units.

use super::unit_words::{UNITS, Unit};
use crate::parts::Dimension;

/// Texts of units, and their other accepted spellings in lower case.
pub const SPELLINGS: &[(&str, &[&str])] = &[
    ("in", &["\"", "″", "''", "inches"]),
    ("thou", &["mil", "mils", "th"]),
    ("mm", &["millimetres", "millimeters"]),
    ("°C", &["c", "ºc", "deg c", "celsius"]),
    ("°F", &["f", "ºf", "deg f", "fahrenheit"]),
    ("lb", &["lbs", "pounds"]),
    ("oz", &["ozs", "ounce", "ounces"]),
    ("kg", &["kgs", "kilos"]),
    ("g", &["grams"]),
    ("rpm", &["r.p.m.", "u/min", "rev/min", "revs/min"]),
    ("hp", &["bhp", "horsepower"]),
    ("PS", &["cv"]),
    ("W", &["watts"]),
    ("km/h", &["kmh", "km_h", "kph"]),
    ("mph", &["mi/h"]),
    ("s", &["sec", "seconds"]),
    ("min", &["minute", "minutes", "mins"]),
    ("h", &["hr", "hrs"]),
    ("days", &["d"]),
    ("deg", &["degrees"]),
    ("%", &["percent", "per cent"]),
    ("lbf·ft", &["ft-lb", "ft lb", "ft-lbs", "lb-ft"]),
];

/// The text of the unit that a spelling means; itself if it is no other spelling.
pub fn spelled(given: &str) -> &str {
    let lower = given.to_lowercase();
    SPELLINGS.iter().find(|unit| unit.1.contains(&lower.as_str())).map_or(given, |unit| unit.0)
}

/// The unit of that dimension that a text names, by any of its spellings.
pub fn unit_named(given: &str, dimension: Dimension) -> Option<&'static Unit> {
    let lower = given.to_lowercase();
    let given = spelled(given);
    let mut units = UNITS.iter().filter(|u| u.dimension == dimension);
    let exact = units.clone().find(|u| u.texts.contains(&given));
    // Capitals are ignored if only one unit can be meant.
    exact.or_else(|| units.find(|u| u.texts.iter().any(|text| text.to_lowercase() == lower)))
}
