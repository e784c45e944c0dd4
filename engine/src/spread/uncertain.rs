//! A setting that is not known for certain.

use super::distribution::Spread;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// An uncertain setting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Uncertain {
    /// dotted path of the setting
    pub path: String,
    /// how it is spread
    pub spread: Spread,
    /// name of the draw: settings that share it vary together
    pub draw: String,
    /// correlation of its draw with other draws, each pair once: of their normal deviates
    pub correlated: BTreeMap<String, f64>,
}

impl Uncertain {
    /// A setting that varies by itself.
    pub fn alone(path: &str, spread: Spread) -> Self {
        Self { path: path.to_owned(), spread, draw: path.to_owned(), correlated: BTreeMap::new() }
    }
}
