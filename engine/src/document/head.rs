//! The head of a result: program, inputs, and the command that gives it again.

use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Program that wrote a result, its inputs, and the command that gives it again.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// program and version
    pub program: String,
    /// the command that gives the same result again, word by word, from the folder in which it was run
    pub command: Vec<String>,
    /// name of the script, without its folder; empty if there was only a command
    pub script: String,
    /// SHA-256 of the script's text, hexadecimal; empty without a script
    pub script_hash: String,
    /// the script's text
    pub script_text: String,
    /// title of the study in the script
    pub title: String,
    /// parameters of the script with the values used
    pub parameters: BTreeMap<String, f64>,
    /// seeds used; empty if nothing was sampled
    pub seeds: Vec<u64>,
}

impl Head {
    /// The seeds as a list.
    pub fn seeds_listed(&self) -> String {
        self.seeds.iter().map(u64::to_string).collect::<Vec<_>>().join(", ")
    }
}
