//! The question on a season: carts, calendar, rules of service, stock and prices.

use crate::calendar::Date;
use crate::names::Part;
use serde::{Deserialize, Serialize};

/// Parts that a shop keeps, in the order of documents.
pub const SPARES: [Part; 4] = [Part::Washer, Part::Lining, Part::Bushing, Part::Spring];

/// The question.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// number of carts
    pub carts: u64,
    /// idle variation to either side, from cart to cart, rad/s
    #[serde(default = "crate::laws::margin::usual")]
    pub wander: f64,
    /// first day
    pub first: Date,
    /// last day
    pub last: Date,
    /// whether carts ride on each weekday, Monday first
    pub weekdays: [bool; 7],
    /// running on a riding day, s
    pub hours: f64,
    /// number of riding days
    pub days: u64,
    /// months (1 to 12) of the season and their mean temperatures, K
    pub temperatures: Vec<(u64, f64)>,
    /// running of each spare part's kind at the start, s
    pub used: Vec<(Part, f64)>,
    /// parts in stock; a part that is not listed is always in stock
    pub stock: Vec<(Part, u64)>,
    /// days until a reordered part is there; none if nothing is reordered
    pub lead: Option<u64>,
    /// prices; none if none were given
    pub prices: Option<Prices>,
}

/// Prices, in one currency; what has none counts as free.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// of parts
    pub parts: Vec<(Part, f64)>,
    /// of the work on one cart to renew parts; none if none was given
    pub visit: Option<f64>,
    /// of oiling one cart, work included; none if none was given
    pub oiling: Option<f64>,
    /// of a cart that cannot be let for a day; none if none was given
    pub day_down: Option<f64>,
}

/// How carts are serviced.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Policy {
    /// oiling; none if never
    pub oiling: Option<Oiling>,
    /// share of use from which a part is renewed on a service day; none: only at its limit
    pub preventive: Option<f64>,
}

/// A rule of oiling.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Oiling {
    /// drops for each cart
    pub drops: f64,
    /// days of service
    pub on: ServiceDays,
    /// whether before opening, with a ride soon after; else after closing, with a night's rest
    pub before_opening: bool,
}

/// Days of service, between the first ride and the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ServiceDays {
    /// every so many days, on the first riding day after as many
    Every(u64),
    /// on a weekday, 0 for Monday, closed or not
    Weekday(u64),
}
