//! Long horizons: a block repeated for thousands of hours, simulated in full only where something changes.
//!
//! Fast states (speeds, temperatures, oil fractions) settle to a quasi-steady value set by the slow ones; slow ones
//! (wear, oil, relaxation) drift. A few blocks are simulated in full, all quantities are extrapolated over many blocks
//! at once, and the blocks after each jump measure the error of the jump.

mod anchor;
mod memory;
mod recur;
mod repeating;
mod response;
mod skip;
mod vectors;

pub use recur::{ASTRAY, Counts, recur};
pub use repeating::{Course, Pieced, Repeating};
pub use skip::{SkipStats, Skipping, travel};
