//! Why and where a run was stopped before its duty was over.

use crate::names::{Channel, TaskName};
use crate::units::{in_celsius, to_fahrenheit};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The end of a run in which a part became too hot for any of the laws.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
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

impl std::fmt::Display for Halt {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let celsius = in_celsius(self.temperature);
        write!(
            f,
            "after {:.1} min, in segment {} ({}), the {} reached {celsius:.0} °C ({:.0} °F)",
            self.time / 60.0,
            self.segment,
            self.task,
            self.part,
            to_fahrenheit(celsius)
        )
    }
}
