//! The map from constants to rates, with its checks.

use crate::calendar::Date;
use crate::names::Part;
use crate::spread::Spread;
use serde::{Deserialize, Serialize};

/// How much of an assumed constant is common to all carts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// dotted path of the setting
    pub path: String,
    /// its spread
    pub spread: Spread,
    /// share of its variance that is common to all carts of a shop
    pub common: f64,
    /// whether a calibration learned it
    #[serde(default)]
    pub learned: bool,
}

/// The map from constants and temperature to rates.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Mapped {
    /// days simulated to make it
    pub runs: u64,
    /// days that could not be simulated
    pub failed: u64,
    /// errors on days held back
    pub errors: Vec<MapError>,
    /// carts simulated for two weeks
    pub direct: Vec<Direct>,
    /// carts simulated for the season, if that was asked for
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub followed: Vec<Followed>,
}

/// A cart simulated from the first day of the season to the last, beside the map.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Followed {
    /// number of the cart
    pub cart: u64,
    /// why this one
    pub chosen: Chosen,
    /// how far above its idle it engages, rad/s
    pub margin: f64,
    /// its season by the map
    pub map: Course,
    /// its season as simulated; none if it could not be simulated to the end
    pub simulated: Option<Course>,
}

/// Why a cart was chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Chosen {
    /// its number of demands is the median
    Median,
    /// it stops first
    First,
    /// it engages nearest to its idle
    Nearest,
}

/// A season of one cart.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// day on which it first stops; none if it does not
    pub stop: Option<Date>,
    /// the part at its limit then
    pub part: Option<Part>,
    /// demands of each spare part, in the order of `SPARES`
    pub demands: Vec<u64>,
}

/// Relative error of one rate on days held back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MapError {
    /// the rate
    pub rate: Rate,
    /// median
    pub median: f64,
    /// not exceeded on 19 of 20 days
    pub most: f64,
    /// share of the days on which the map is too low, before it is raised
    pub low: f64,
    /// share by which the rate is raised, so that it is too low on no more than 1 day in 20
    #[serde(default)]
    pub raised: f64,
}

/// A rate that the map gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Rate {
    /// wear of the lining
    Lining,
    /// wear of the bushing's bore, in all
    Bore,
    /// wear of the washer
    Washer,
    /// loss of oil, in all
    Oil,
    /// ageing of the oil
    Oxidation,
    /// charring of the washer
    Charring,
    /// ageing of the washer
    Ageing,
    /// relaxation of the springs
    Relaxation,
    /// rise of the bushing's temperature
    Warming,
}

/// A cart simulated day by day beside the map: use by the map over that of the simulation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Direct {
    /// number of the cart
    pub cart: u64,
    /// riding days
    pub days: u64,
    /// wear of the lining
    pub lining: f64,
    /// wear of the bore
    pub bore: f64,
    /// wear of the washer
    pub washer: f64,
    /// difference of the oil fill at the end: map less simulation
    pub fill: f64,
}
