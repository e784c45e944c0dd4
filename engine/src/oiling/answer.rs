//! The plan of oiling.

use crate::origin::Origin;
use crate::record::Setting;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The answer to when and how to oil. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OilPlan {
    /// the machine
    pub machine: String,
    /// its use
    pub usage: String,
    /// the oil
    pub oil: String,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// end leak λ at 80 °C and 2500 rpm, 1/s: assumed, and deciding
    pub leak: f64,
    /// oil fill at which service is due
    pub due_at: f64,
    /// oil that the full bushing holds, in drops
    pub full_drops: f64,
    /// how long a full bushing lasts: with the leak as set, with the least and the most that are possible, with grease
    pub lasts: Vec<Lasts>,
    /// drops of one service
    pub drops: f64,
    /// riding after which such a dose, put on after the ride, makes good what was lost, s; none if nothing is lost
    pub interval: Option<f64>,
    /// drops that bring a bushing whose service is due back to full, of which the last run off more and more
    pub drops_when_due: f64,
    /// fill at which the habits are compared
    pub found: f64,
    /// what is kept of the dose by when it is put on
    pub habits: Vec<Habit>,
    /// what doses of different sizes do when the machine is ridden at once
    pub doses: Vec<Dose>,
    /// what oils do to the grip when the machine is ridden at once
    pub oils: Vec<Grip>,
    /// what it comes to, in sentences
    pub statement: Vec<String>,
    /// what it leans on
    pub assumed: Vec<String>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
    /// who asked
    pub origin: Origin,
}

/// How long a full bushing lasts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lasts {
    /// which case
    pub name: String,
    /// end leak λ, 1/s
    pub leak: f64,
    /// grease in the grooves, m³ of oil
    pub grease: f64,
    /// (riding s, fill)
    pub fill: Vec<(f64, f64)>,
    /// riding until service is due, s; none beyond ten years of outings
    pub due: Option<f64>,
}

/// A habit of oiling.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Habit {
    /// whether the bushing is warm from a ride
    pub warm: bool,
    /// (wait before the next spin s, share of the dose kept)
    pub kept: Vec<(f64, f64)>,
}

/// A dose put on 30 s before a ride.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Dose {
    /// drops
    pub drops: f64,
    /// share kept in pores and film after the first minute
    pub kept: f64,
    /// most oil on the lining, kg
    pub on_lining: f64,
    /// least grip of the lining over a dry one's
    pub grip: f64,
}

/// What an oil does to the grip.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Grip {
    /// oil
    pub oil: String,
    /// least grip of the lining over a dry one's
    pub least: f64,
    /// grip after the ride
    pub after: f64,
}
