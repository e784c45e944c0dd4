//! Simulation of a duty, segment by segment, to a record.

#[cfg(test)]
mod broken;
#[cfg(test)]
mod broken_laws;
pub(crate) mod carried;
mod cold_idle;
mod culprit;
mod duration;
mod engagement;
mod failure;
mod finish;
mod held;
mod idling;
#[cfg(feature = "peers")]
mod integrator;
#[cfg(test)]
mod kept_ledgers;
mod life_log;
mod lifetime;
mod look;
mod options;
mod pieces;
mod repeated;
mod ride;
mod sane;
mod service;
mod simulation;
mod standing;

pub use crate::horizon::Skipping;
pub use cold_idle::cold_idle;
pub use culprit::Culprit;
pub use engagement::{balance, capacity, engagement, lock_up_speed, settled};
pub(crate) use engagement::{full_throttle, road_force};
pub use failure::Failure;
pub use idling::holds_idle;
#[cfg(feature = "peers")]
pub use integrator::Integrator;
pub use life_log::Log;
pub use lifetime::Until;
pub use options::{Options, Tolerance};
pub(crate) use repeated::{FINER, repeated};
pub(crate) use simulation::Held;
pub use simulation::Simulation;
pub use standing::{Standing, Worn};
