//! Long horizons: a block repeated for thousands of hours, run in full only where something changes.
//!
//! Fast states (speeds, temperatures) settle within a few repeats of a block; slow ones (wear, oil, relaxation) drift. A
//! few blocks are run in full, the drift is carried over many blocks at once, and the blocks after each jump say how well
//! that was done.

mod skip;

pub use skip::{Course, Repeating, Skipping, Travelled, travel};
