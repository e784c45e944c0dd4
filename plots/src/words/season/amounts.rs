//! Spare parts, oil and hours of a season in words.

use crate::words::number::figures;
use slipsoak_engine::names::Part;
use slipsoak_engine::units::HOUR;

/// Spare parts in words, in this number.
pub(super) fn pieces(part: Part, number: u64) -> String {
    let name = match part {
        Part::Washer | Part::Lining | Part::Bushing => part.name(),
        _ => "set of springs",
    };
    format!("{number}\u{a0}{}", if number == 1 { name } else { many(part) })
}

/// Spare parts of a kind.
pub(super) fn many(part: Part) -> &'static str {
    match part {
        Part::Washer => "washers",
        Part::Lining => "linings",
        Part::Bushing => "bushings",
        _ => "sets of springs",
    }
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
