//! Long horizons: a block repeated for thousands of hours, run in full only where something changes.
//!
//! Fast states (speeds, temperatures, the oil's shares) settle to where the slow ones let them; slow ones (wear, oil,
//! relaxation) drift. A few blocks are run in full, everything is carried over many blocks at once, and the blocks after
//! each jump say how well that was done.

mod anchor;
mod memory;
mod repeating;
mod skip;

pub use repeating::{Course, Repeating};
pub use skip::{Skipping, Travelled, travel};
