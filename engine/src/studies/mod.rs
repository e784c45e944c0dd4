//! Studies of many runs of one machine under one block of segments: fleets, sweeps, sensitivities.
//!
//! A [`Case`] is what is run; [`fleet`] runs it for clutches that differ in what is uncertain, [`sweep`] for settings crossed,
//! [`sensitivity`] for each uncertain setting moved. They run on all threads of the current pool of `rayon`, and their results do not depend on how many there are. A run that
//! cannot be computed is listed and left out.

mod case;
mod fleet;
mod sensitivity;
mod sweep;

pub use case::Case;
pub use fleet::fleet;
pub use sensitivity::{ENDS, Point, Sensitivity, sensitivity};
pub use sweep::{Combination, crossed, sweep};
