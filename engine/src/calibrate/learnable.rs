//! The constants that can be learned.

use crate::parts::Parameter;
use crate::parts::settings::{bushing, heat, lining};
use crate::spread::{ASSUMED, Spread};
use crate::statistics::NINETY_FIVE;

/// Factors within which a constant lies with 90 % probability, for constants that a fleet does not vary by itself.
/// Middle of published ranges; the lining's slope is assumed. Friction of the bushing: 0.08 to 0.15 oiled, 0.2 to 0.35 dry.
static FURTHER: &[(&Parameter, f64)] = &[
    (&lining::wear_slope, 2.0),
    (&bushing::friction_oiled, 1.4),
    (&bushing::friction_dry, 1.4),
    (&heat::shaft_block, 2.0),
    (&heat::block_running, 2.0),
    (&heat::block_stopped, 2.0),
];

/// The constants that can be learned, each with the factor within which it lies with 90 % probability.
pub fn learnable() -> impl Iterator<Item = (&'static Parameter, f64)> {
    let assumed = ASSUMED.iter().filter_map(|(p, spread)| match spread {
        Spread::Factor(factor) => Some((*p, *factor)),
        _ => None,
    });
    assumed.chain(FURTHER.iter().copied())
}

/// The setting with this path, if it can be learned.
pub fn setting(path: &str) -> Option<&'static Parameter> {
    learnable().map(|(p, _)| p).find(|p| p.path == path)
}

/// Deviation of the logarithm of a constant, as known without data; none if it cannot be learned.
pub(super) fn known(p: &Parameter) -> Option<f64> {
    learnable().find(|known| known.0 == p).map(|known| known.1.ln() / NINETY_FIVE)
}
