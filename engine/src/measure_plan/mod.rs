//! What to measure: for a decision, the readings that narrow it and change it most, by samples of all that is assumed.

mod candidates;
mod decision;
mod method;
mod plan;
mod trial;
mod trials;
mod wish;

pub use crate::document::measure_plan::{Action, Candidate, Learns, MeasurePlan, Pair, Prior, Stocked};
pub use method::{effort, quantity};
pub use plan::plan;
pub use trial::{DRAG, SPIN};
pub use trials::trials;
pub use wish::Wish;
