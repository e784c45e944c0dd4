//! The head of a result: what wrote it, from what, and how to get it again.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What wrote a result, from what, and how to get it again.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Head {
    /// program and version
    pub program: String,
    /// the command that gives the same again, word by word, from the folder in which it was run
    pub command: Vec<String>,
    /// name of the script, without its folder; empty where the command alone asked
    pub script: String,
    /// SHA-256 of the script's text, hexadecimal; empty where there is none
    pub script_hash: String,
    /// the script's text
    pub script_text: String,
    /// what the script says the study asks
    pub title: String,
    /// parameters of the script with the values used
    pub parameters: BTreeMap<String, f64>,
    /// seeds used; empty where nothing was drawn
    pub seeds: Vec<u64>,
}

impl Head {
    /// The seeds as a list in words.
    pub fn seeds_listed(&self) -> String {
        self.seeds.iter().map(u64::to_string).collect::<Vec<_>>().join(", ")
    }
}
