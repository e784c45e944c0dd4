//! Runs of a long study that could not be computed.

use serde::{Deserialize, Serialize};

/// One run of a long study that could not be computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Failed {
    /// its number in the study, from 0
    pub item: u64,
    /// its name
    pub what: String,
    /// reason why it could not be computed
    pub why: String,
}
