//! The answer on the gap under the cover and its wear.

use super::Is;
use super::finding::{Assumed, Beyond, Sag, Slipping};
use super::head::Head;
use super::reason::Reason;
use super::record::Setting;
use super::sound::{filled, require, sound};
use super::spring_choice::{Judged, Renewed};
use crate::names::{Oiled, Part};
use crate::spread::Known;
use serde::{Deserialize, Serialize};

/// The answer on whether the cover clears the drum, and for how long. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Gaps {
    /// kind of document
    pub kind: Is<Gaps>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// use for which wear is computed
    pub usage: String,
    /// layers of the stack, in order
    pub layers: Vec<Layer>,
    /// gap between drum and cover when new
    pub stack: Stack,
    /// least required gap, m
    pub limit: f64,
    /// the machine's least washer thickness, m
    pub washer_limit: f64,
    /// gap over its wear, by oiling of the bushing
    pub courses: Vec<Course>,
    /// number of assemblies sampled
    pub assemblies: u64,
    /// the new gap compared with the required one
    pub clearance: Clearance,
    /// idle variation to either side, rad/s
    #[serde(default = "crate::laws::margin::usual")]
    pub wander: f64,
    /// whether the machine's oil is one of which some stays on a lining
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// springs that relax below idle; the hours of wear then assume springs renewed in time; none if they do not
    pub sag: Option<Sag>,
    /// reasons for which the springs do not fit the use
    pub against: Vec<Reason>,
    /// a whole new set in place of springs that sag or do not fit, where they are weaker than such a set
    pub renewed: Option<Renewed>,
    /// in place of springs that sag or do not fit, the softest that stays clear of the highest idle, judged as for a choice; none if no speed
    /// is clear, or where a new set of the same is the remedy
    pub sought: Option<Judged>,
    /// a held speed at which the clutch slips; none if there is none
    pub slipping: Option<Slipping>,
    /// wear constants of washer and bushing that a calibration learned, by which the ranges of hours go
    #[serde(default)]
    pub learned: Vec<Known>,
    /// assumptions of the answer
    pub assumed: Vec<Assumed>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl Gaps {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.layers, "layers")?;
        filled(&self.courses, "courses")?;
        require(self.courses.iter().all(|c| !c.points.is_empty()), "courses.points", "it is empty")?;
        let points = self.courses.iter().flat_map(|c| &c.points);
        sound(points.flat_map(|p| [p.time].into_iter().chain(p.washer).chain(p.gap)), "courses.points")
    }
}

/// The new gap compared with the least required one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Clearance {
    /// even the worst case leaves more
    Clears,
    /// some assemblies have less than required
    Tight,
    /// in some assemblies the drum touches the cover
    Touches,
}

impl Clearance {
    /// Result for a stack and the least required gap, m.
    pub(crate) fn of(stack: &Stack, limit: f64) -> Self {
        if stack.nominal - stack.worst >= limit {
            Self::Clears
        } else if stack.below_zero > 0.0 {
            Self::Touches
        } else {
            Self::Tight
        }
    }
}

/// One part of the stack.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// name
    pub name: String,
    /// contribution to the gap, m; negative if it reduces it
    pub size: f64,
    /// greatest deviation, m
    pub tolerance: f64,
}

impl Layer {
    /// Name of the washer.
    pub(crate) const WASHER: &str = "washer";

    /// Whether it is the washer, the layer that wears.
    pub fn is_washer(&self) -> bool {
        self.name == Self::WASHER
    }
}

/// A gap with its tolerances.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stack {
    /// nominal, m
    pub nominal: f64,
    /// worst-case deviation, every part at its limit, m
    pub worst: f64,
    /// RSS deviation, m
    pub rss: f64,
    /// share of assemblies below the limit for sizes uniformly distributed within their tolerances: exact
    pub below_limit: f64,
    /// share of assemblies without any gap, for the same distribution
    pub below_zero: f64,
    /// gaps of sampled assemblies
    pub drawn: Drawn,
}

/// Sampled assemblies, sizes uniformly distributed within their tolerances.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// mean gap, m
    pub mean: f64,
    /// 5th percentile of the gap, m
    pub low: f64,
    /// 95th percentile of the gap, m
    pub high: f64,
    /// share below the limit
    pub below_limit: f64,
    /// standard error of that share
    pub error: f64,
}

/// The gap over its wear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// oiling of the bushing
    pub name: Oiled,
    /// highest temperature of the washer, K
    pub washer: f64,
    /// a part hotter than the model is valid; hours of wear are then meaningless
    pub beyond: Option<Beyond>,
    /// what fails long before anything is worn; none if nothing does. Hours of wear are then meaningless
    pub fails: Option<Fails>,
    /// washer and gap over time, from long before the first washers are due, evenly spaced in the logarithm of time
    pub points: Vec<Point>,
    /// washer at its least thickness
    pub washer_due: When,
    /// washer worn through: the bushing's bronze face runs on steel
    pub bronze_on_steel: When,
    /// gap at the least required
    pub tight: When,
    /// drum touches the cover
    pub touches: When,
}

impl Course {
    /// Whether its hours of wear hold: nothing fails before, and nothing is too hot for the model.
    pub fn holds(&self) -> bool {
        self.fails.is_none() && self.beyond.is_none()
    }
}

/// A part that the use makes fail other than by wear.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Fails {
    /// the part: a charred washer or a bushing that grabs its shaft
    pub part: Part,
    /// running time until then, s
    pub after: f64,
}

/// Washer and gap at one time, m: 5th percentile of sampled assemblies, nominal sizes and constants, and 95th
/// percentile; sizes and wear constants are sampled.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// riding, s
    pub time: f64,
    /// remaining washer thickness
    pub washer: [f64; 3],
    /// remaining gap between drum and cover
    pub gap: [f64; 3],
}

/// Time of a state, s of riding from new.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct When {
    /// for nominal sizes and constants; none if it is never reached
    pub time: Option<f64>,
    /// 5th percentile of sampled assemblies, with sampled wear constants
    pub early: Option<f64>,
    /// 95th percentile of them
    pub late: Option<f64>,
}
