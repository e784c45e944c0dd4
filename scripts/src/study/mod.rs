//! The studies that a plan asks for: runs, fleets, sweeps, sensitivities.

pub mod campaign;
pub mod fleet;
pub(crate) mod head;
pub mod influence;
pub mod runs;
pub mod sweep;
