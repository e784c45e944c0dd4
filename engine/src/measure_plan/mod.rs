//! What to measure: for a decision, the readings that narrow it and change it most, by samples of all that is assumed.

mod decision;
mod method;
mod plan;
mod trial;
mod wish;

pub use crate::document::measure_plan::{Action, Candidate, Learns, MeasurePlan, Pair, Prior, Stocked};
pub use method::{effort, quantity};
pub use plan::{plan, trials};
pub use trial::{DRAG, SPIN};
pub use wish::Wish;
