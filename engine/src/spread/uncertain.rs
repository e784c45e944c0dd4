//! A setting with uncertainty.

use super::distribution::Spread;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// An uncertain setting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Uncertain {
    /// dotted path of the setting
    pub path: String,
    /// its spread
    pub spread: Spread,
    /// name of the sampled variable: settings that share it vary together
    pub draw: String,
    /// correlation of its variable with others, each pair once, between normal deviates
    pub correlated: BTreeMap<String, f64>,
}

impl Uncertain {
    /// A setting that varies independently.
    pub fn alone(path: &str, spread: Spread) -> Self {
        Self { path: path.to_owned(), spread, draw: path.to_owned(), correlated: BTreeMap::new() }
    }
}
