//! What was measured on worn clutches, beside what the engine predicts for the script's machine and duty.

mod learnable;
mod lesson;
mod log;
mod slopes;

pub use learnable::{NINETY_FIVE, further, learnable, setting};
pub use lesson::{Inspected, Lesson};
pub use log::{Logged, along, temperatures};
pub use slopes::span;
