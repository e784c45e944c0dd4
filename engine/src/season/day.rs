//! A day of a season.

use crate::calendar::Date;

/// One day of a season.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Day {
    /// its date
    pub date: Date,
    /// whether carts ride
    pub open: bool,
    /// riding on it, s
    pub hours: f64,
    /// ambient temperature, K
    pub temperature: f64,
}
