//! Oiling: life of a full bushing, fate of a dose, effects of too much and of the wrong oil.

mod habits;
mod lasts;
mod plan;
mod wish;

pub use crate::document::oil_plan::{Advice, Advised, Dose, Grip, Habit, Lasts, OilPlan, Weighing};
pub use lasts::{Case, lasts};
pub use plan::{TRIALS, due_range, plan};
pub use wish::Wish;
