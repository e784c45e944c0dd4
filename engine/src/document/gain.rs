//! The effect of a change on the lives of a fleet, clutch by clutch.

use crate::statistics::Bounds;
use serde::{Deserialize, Serialize};

/// Comparison of a fleet with that of the reference machine, or with the first of its study.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Paired {
    /// the machine
    pub variant: String,
    /// the duty
    pub duty: String,
    /// machine and duty of the fleet compared with
    pub against: (String, String),
    /// change of the running time to the first worn part, oil excluded
    pub end: Gain,
    /// change of the running time to oil service
    pub service: Gain,
}

/// Effect of a change on a time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Gain {
    /// number of clutches that last longer
    pub longer: u64,
    /// number of clutches that last less long
    pub shorter: u64,
    /// number of clutches that last equally long, within 0.5 %
    pub alike: u64,
    /// number of undecided clutches: neither time was within the horizon
    pub unknown: u64,
    /// share of clutches that last longer, with bounds
    pub gaining: crate::statistics::Share,
    /// probability that chance alone makes longer and shorter so unequal: two-sided sign test
    pub chance: f64,
    /// median of the ratio of new to old time, with distribution-free bounds; none if hidden by the horizon
    pub ratio: Bounds,
    /// median of the new time less the old one, s, with the same bounds
    pub difference: Bounds,
    /// mean ratio and its standard error, of times cut at the horizon
    pub mean_ratio: (f64, f64),
    /// mean difference and its standard error, s, of times cut at the horizon
    pub mean_difference: (f64, f64),
    /// direction of the median of the pairs
    pub verdict: Direction,
}

/// Direction of a change, by the bounds of the median of all pairs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Direction {
    /// longer, at 90 % confidence
    Longer,
    /// less long, at 90 % confidence
    Shorter,
    /// the bounds include no change
    Unclear,
    /// too few clutches for bounds
    TooFew,
    /// all pairs are undecided: neither time was within the horizon
    Undecided,
}
