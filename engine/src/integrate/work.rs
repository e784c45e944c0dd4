//! Work of the integrator, counted.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Work of the integrator.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// accepted steps
    pub steps: u64,
    /// rejected steps
    pub rejected: u64,
    /// events located
    pub events: u64,
}
