//! Oiling: life of a full bushing, fate of a dose, effects of too much and of the wrong oil.

mod answer;
mod habits;
mod lasts;
mod plan;
mod wish;

pub use answer::{Advice, Advised, Dose, Grip, Habit, Lasts, OilPlan, Weighing};
pub use lasts::lasts;
pub use plan::{TRIALS, plan};
pub use wish::Wish;
