//! Units of output, beside the unit words of the engine.

use slipsoak_engine::parts::Dimension;
use slipsoak_engine::units::to_fahrenheit;

pub use slipsoak_engine::parts_file::{UNITS, Unit, limits, maybe, nearest, short, show};
/// Degrees Celsius of an absolute temperature, and revolutions per minute.
pub use slipsoak_engine::units::{in_celsius as celsius, in_rpm as rpm};

/// Least and greatest value of a range, SI, as [`show`] writes them.
pub fn between(range: (f64, f64), dimension: Dimension) -> [String; 2] {
    limits(range, dimension, |value| show(value, dimension))
}

/// Preferred output unit of a dimension; none for a plain number, or if the SI unit has no word of its own.
pub fn unit_of(dimension: Dimension) -> Option<&'static Unit> {
    UNITS.iter().find(|u| u.dimension == dimension && dimension != Dimension::Ratio)
}

/// Absolute temperature in degrees Fahrenheit.
pub fn fahrenheit(kelvin: f64) -> f64 {
    to_fahrenheit(celsius(kelvin))
}
