//! Unit conversions at the edge of the engine.
//!
//! The engine computes in SI. Programs and people use these functions to enter and read values.
//! ```
//! use slipsoak_engine::units::{HOUR, KM_H, celsius, rpm};
//! assert_eq!(rpm(30.0), std::f64::consts::PI);
//! assert_eq!(celsius(20.0), 293.15);
//! assert_eq!((36.0 * KM_H, 2.0 * HOUR), (10.0, 7200.0));
//! ```

/// One revolution per minute, rad/s.
pub const RPM: f64 = std::f64::consts::PI / 30.0;
/// One kilometre per hour, m/s.
pub const KM_H: f64 = 1.0 / 3.6;
/// One mile per hour, m/s.
pub const MPH: f64 = 0.44704;
/// The ice point, K.
pub const ZERO_C: f64 = 273.15;
/// One inch, m.
pub const INCH: f64 = 0.0254;
/// A thousandth of an inch, m.
pub const THOU: f64 = 2.54e-5;
/// N·m of one pound-force foot.
pub const LBF_FT: f64 = 1.3558179483314004;
/// One minute, s.
pub const MINUTE: f64 = 60.0;
/// One hour, s.
pub const HOUR: f64 = 3600.0;
/// One day, s.
pub const DAY: f64 = 86400.0;
/// One year, s.
pub const YEAR: f64 = 8766.0 * HOUR;

/// Rotational speed in rad/s, from revolutions per minute.
pub fn rpm(turns: f64) -> f64 {
    turns * RPM
}

/// Temperature in K, from degrees Celsius.
pub fn celsius(degrees: f64) -> f64 {
    degrees + ZERO_C
}

/// Temperature in degrees Celsius, from K.
pub fn in_celsius(kelvin: f64) -> f64 {
    kelvin - ZERO_C
}

/// Degrees Fahrenheit, from degrees Celsius.
/// ```
/// assert_eq!(slipsoak_engine::units::to_fahrenheit(100.0), 212.0);
/// ```
pub fn to_fahrenheit(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}

/// Revolutions per minute, from a speed of rotation in rad/s.
pub fn in_rpm(speed: f64) -> f64 {
    speed / RPM
}

/// Temperature in K, from degrees Fahrenheit.
/// ```
/// assert_eq!(slipsoak_engine::units::fahrenheit(32.0), 273.15);
/// ```
pub fn fahrenheit(degrees: f64) -> f64 {
    (degrees - 32.0) / 1.8 + ZERO_C
}
