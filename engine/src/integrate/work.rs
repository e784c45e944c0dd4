//! Counters of the integrator's work.

use serde::{Deserialize, Serialize};

/// Counters of the integrator's work.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// accepted steps
    pub steps: u64,
    /// rejected steps
    pub rejected: u64,
    /// events located
    pub events: u64,
}
