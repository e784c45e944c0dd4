//! The settings of a machine, as documents keep them.

use crate::parts::{Confidence, Machine, PARAMETERS, Parameter};
use serde::{Deserialize, Serialize};

/// A setting of the machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Setting {
    /// dotted path
    pub path: String,
    /// value, SI
    pub value: f64,
    /// SI unit
    pub unit: String,
    /// confidence in its default
    pub confidence: Confidence,
    /// value that follows from geometry and masses, SI, where this one was set by hand
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub follows: Option<f64>,
}

impl Setting {
    /// Every setting of a machine.
    pub fn all(machine: &Machine) -> Vec<Self> {
        let by_hand = machine.by_hand();
        let setting = |p: &Parameter| Self {
            path: p.path.to_owned(),
            value: (p.of)(machine),
            unit: p.dimension.unit().to_owned(),
            confidence: p.confidence,
            follows: by_hand.iter().find(|s| s.setting == p).map(|s| s.follows),
        };
        PARAMETERS.iter().map(setting).collect()
    }
}
