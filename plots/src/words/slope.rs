//! Slopes of the ground, in words.

use crate::words::number::figures;

/// A slope, rounded to a tenth of a per cent.
pub(crate) fn steep(grade: f64) -> String {
    format!("{} %", figures((1000.0 * grade).round() / 10.0, 3))
}

/// Ground of this slope, rise over run.
pub(crate) fn slope(grade: f64) -> String {
    if grade == 0.0 { "level ground".to_owned() } else { format!("a slope of {}", steep(grade)) }
}
