//! When and how to oil: how long an oiling lasts, what becomes of a dose, what too much and the wrong oil do.

mod answer;
mod habits;
mod lasts;
mod plan;
mod wish;

pub use answer::{Advice, Advised, Dose, Grip, Habit, Lasts, OilPlan, Weighing};
pub use lasts::lasts;
pub use plan::{TRIALS, plan};
pub use wish::Wish;
