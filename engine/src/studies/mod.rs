//! Studies of many runs of one machine under one block of segments: fleets, sweeps, sensitivities.
//!
//! A [`Case`] is the machine and its block. [`fleet`] runs it for clutches sampled over the uncertain settings,
//! [`sweep`] for combinations of settings, [`sensitivity`] for changes of each uncertain setting. They run on all
//! threads of the current `rayon` pool; results do not depend on the number of threads. A run that cannot be computed
//! is listed and left out.

mod case;
mod fleet;
mod sensitivity;
mod sweep;

pub use case::Case;
pub use fleet::fleet;
pub use sensitivity::{ENDS, Point, Sensitivity, sensitivity};
pub use sweep::{Combination, crossed, sweep};
