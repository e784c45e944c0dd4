//! Units of output, beside the unit words of the engine.

use slipsoak_engine::parts::Dimension;
use slipsoak_engine::units::{HOUR, YEAR, to_fahrenheit};

pub use slipsoak_engine::parts_file::{UNITS, Unit, maybe, nearest, short, show};
/// Degrees Celsius of an absolute temperature, and revolutions per minute.
pub use slipsoak_engine::units::{in_celsius as celsius, in_rpm as rpm};

/// Preferred output unit of a dimension; none for a plain number, or if the SI unit has no word of its own.
pub fn unit_of(dimension: Dimension) -> Option<&'static Unit> {
    UNITS.iter().find(|u| u.dimension == dimension && dimension != Dimension::Ratio)
}

/// Absolute temperature in degrees Fahrenheit.
pub fn fahrenheit(kelvin: f64) -> f64 {
    to_fahrenheit(celsius(kelvin))
}

/// A duration as text.
pub fn duration(seconds: f64) -> String {
    if seconds < 120.0 {
        format!("{seconds:.0} s")
    } else if seconds < 2.0 * HOUR {
        format!("{:.0} min", seconds / 60.0)
    } else if seconds < 1e5 * HOUR {
        format!("{:.1} h", seconds / HOUR)
    } else {
        format!("{:.0} years", seconds / YEAR)
    }
}
