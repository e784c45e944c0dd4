//! The constants that can be learned, and what would tell two of them apart.

use slipsoak_engine::fleet::{ASSUMED, Spread};
use slipsoak_engine::parts::{Parameter, parameter};

/// Standard normal quantile of 95 %.
pub const NINETY_FIVE: f64 = 1.644_853_626_951_472;

/// Factors within which 90 % of what is possible lies, for constants that a fleet does not vary by itself. Published ranges
/// of a decade or so, taken as its middle; the lining's slope is assumed.
const FURTHER: &[(&str, f64)] = &[
    ("bushing.wear_oiled", 3.0),
    ("bushing.wear_starved", 3.0),
    ("lining.wear_slope", 2.0),
    ("heat.shaft_block", 2.0),
    ("heat.block_running", 2.0),
    ("heat.block_stopped", 2.0),
];

/// The constants that can be learned, each with the factor within which 90 % of what is possible lies.
pub fn learnable() -> impl Iterator<Item = (&'static str, f64)> {
    let assumed = ASSUMED.iter().filter_map(|(path, spread)| match spread {
        Spread::Factor(factor) => Some((*path, *factor)),
        _ => None,
    });
    assumed.chain(FURTHER.iter().copied())
}

/// Setting of that path, if it can be learned.
pub fn setting(path: &str) -> Option<&'static Parameter> {
    learnable().any(|(p, _)| p == path).then(|| parameter(path)).flatten()
}

/// Which further measurement would tell two constants apart.
pub fn further(one: &str, other: &str) -> String {
    let both = |a: &str, b: &str| [one, other].contains(&a) && [one, other].contains(&b);
    let heat = |path: &str| path.starts_with("heat.");
    if both("lining.wear", "lining.wear_slope") {
        "inspect linings of a second duty too, whose lining runs 40 K hotter or cooler (name it in a column `duty`), or fit only lining.wear".into()
    } else if both("lining.wear", "clutch.relaxation") {
        "read the lining's thickness at the same inspections as the engagement speed".into()
    } else if both("washer.wear_oiled", "washer.wear_dry")
        || one.starts_with("bushing.wear") && other.starts_with("bushing.wear")
    {
        "inspect clutches that ran dry (name their duty in a column `duty`), or fit only one of them".into()
    } else if heat(one) && heat(other) {
        "log a second node, on the other side of that link, or a cooling with the motor off".into()
    } else {
        "measure something that only one of them moves, or the same under another duty, or leave one out with --fit"
            .into()
    }
}
