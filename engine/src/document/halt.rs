//! Why and where a run was stopped before its duty was over.

use crate::names::{Channel, TaskName};
use serde::{Deserialize, Serialize};

/// The end of a run in which a part became too hot for any of the laws.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Halt {
    /// time, s
    pub time: f64,
    /// task of the rider
    pub task: TaskName,
    /// number of that segment in the duty, from 1, services not counted
    pub segment: u64,
    /// the part
    pub part: Channel,
    /// its temperature, K
    pub temperature: f64,
}
