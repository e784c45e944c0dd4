//! Spare parts, oil and hours of a season in words.

use crate::words::number::figures;
use slipsoak_engine::names::Part;
use slipsoak_engine::units::HOUR;

/// Spare parts in words, in this number.
pub(super) fn pieces(part: Part, number: u64) -> String {
    let name = match (part, number) {
        (Part::Washer, 1) => "washer",
        (Part::Washer, _) => "washers",
        (Part::Lining, 1) => "lining",
        (Part::Lining, _) => "linings",
        (Part::Bushing, 1) => "bushing",
        (Part::Bushing, _) => "bushings",
        (_, 1) => "set of springs",
        _ => "sets of springs",
    };
    format!("{number}\u{a0}{name}")
}

pub(super) fn plural(number: u64, one: &str) -> String {
    format!("{number}\u{a0}{one}{}", if number == 1 { "" } else { "s" })
}

/// A volume of oil, rounded up to a whole millilitre.
pub(super) fn millilitres(volume: f64) -> String {
    format!("{}\u{a0}mL", (volume * 1e6 - 1e-6).ceil().max(0.0))
}

pub(super) fn hours(seconds: f64) -> String {
    format!("{}\u{a0}h", figures(seconds / HOUR, 2))
}
