//! What the stack-up and its wear leave.

use crate::document::record::Setting;
use crate::document::{
    Document, Head, Is, Kind,
    sound::{filled, require, sound},
};
use crate::finding::{Assumed, Sag, Slipping};
use crate::names::Oiled;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The answer to whether it fits and when it rubs. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Gaps {
    /// which kind of document it is
    pub kind: Is<Gaps>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// the use it wears in
    pub usage: String,
    /// what is laid on each other, in order
    pub layers: Vec<Layer>,
    /// the gap that is left between drum and cover when new
    pub stack: Stack,
    /// least gap that is asked for, m
    pub limit: f64,
    /// the machine's least washer thickness, m
    pub washer_limit: f64,
    /// the same gap as it wears, by how the bushing is oiled
    pub courses: Vec<Course>,
    /// number of assemblies sampled
    pub assemblies: u64,
    /// how the new gap stands to the least that is asked for
    pub clearance: Clearance,
    /// springs that relax below the idle: the hours of wear are those of springs renewed in time; none if they do not
    pub sag: Option<Sag>,
    /// a speed that the use holds slipping; none where it holds none
    pub slipping: Option<Slipping>,
    /// what it depends on
    pub assumed: Vec<Assumed>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl Document for Gaps {
    const KIND: Kind = Kind::Gaps;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        filled(&self.layers, "layers")?;
        filled(&self.courses, "courses")?;
        require(self.courses.iter().all(|c| !c.points.is_empty()), "courses.points", "it is empty")?;
        let points = self.courses.iter().flat_map(|c| &c.points);
        sound(points.flat_map(|p| [p.time].into_iter().chain(p.washer).chain(p.gap)), "courses.points")
    }
}

/// How a new gap stands to the least that is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Clearance {
    /// even the worst case leaves more
    Clears,
    /// some assemblies have less
    Tight,
    /// in some the drum touches the cover
    Touches,
}

impl Clearance {
    /// Of a stack against the least gap, m.
    pub(super) fn of(stack: &Stack, limit: f64) -> Self {
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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Layer {
    /// which
    pub name: String,
    /// what it adds to the gap, m; below zero where it takes from it
    pub size: f64,
    /// greatest deviation, m
    pub tolerance: f64,
}

/// A gap with its tolerances.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stack {
    /// nominal, m
    pub nominal: f64,
    /// greatest deviation, every part at its worst, m
    pub worst: f64,
    /// root of the sum of squares, m
    pub rss: f64,
    /// share of assemblies below the limit if every size is equally likely within its tolerance: exact
    pub below_limit: f64,
    /// share of assemblies without any gap, likewise
    pub below_zero: f64,
    /// gaps of sampled assemblies
    pub drawn: Drawn,
}

/// Sampled assemblies, sizes equally likely within their tolerances.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Drawn {
    /// mean gap, m
    pub mean: f64,
    /// gap that 5 % fall short of, m
    pub low: f64,
    /// gap that 5 % exceed, m
    pub high: f64,
    /// share below the limit
    pub below_limit: f64,
    /// standard error of that share
    pub error: f64,
}

/// The gap as it wears.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Course {
    /// how the bushing is oiled
    pub name: Oiled,
    /// washer at its hottest, K
    pub washer: f64,
    /// running after which it chars, s; none if it does not. The hours of wear of a washer that chars mean nothing
    pub charred: Option<f64>,
    /// washer and gap over time, from long before the first washers are due, evenly spread over the logarithm of time
    pub points: Vec<Point>,
    /// the washer is down to its least thickness
    pub washer_due: When,
    /// the washer is gone and the bushing's bronze face runs on steel
    pub bronze_on_steel: When,
    /// the gap is down to the least that is asked for
    pub tight: When,
    /// the drum touches the cover
    pub touches: When,
}

/// Washer and gap at one time, m: such that 5 % of sampled assemblies have less, with nominal sizes and constants, and such that
/// 5 % have more; sampled are sizes and wear constants.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// riding, s
    pub time: f64,
    /// washer left
    pub washer: [f64; 3],
    /// gap left between drum and cover
    pub gap: [f64; 3],
}

/// When something happens, s of riding from new.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct When {
    /// with nominal sizes and constants; none if it does not
    pub time: Option<f64>,
    /// before which it happens in 5 % of sampled assemblies, whose wear constants are sampled too
    pub early: Option<f64>,
    /// before which it happens in 95 % of them
    pub late: Option<f64>,
}
