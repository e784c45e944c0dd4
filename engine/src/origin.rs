//! Where an answer comes from.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Who asked for an answer, so that it can be asked for again.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Origin {
    /// program and version
    pub program: String,
    /// the command that asks again, word by word
    pub command: Vec<String>,
    /// name of the script that asked; empty where the command did
    pub script: String,
    /// SHA-256 of its text; empty where there is none
    pub script_hash: String,
    /// its text
    pub script_text: String,
}
