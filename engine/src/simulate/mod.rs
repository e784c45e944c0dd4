//! Simulation of a duty, segment by segment, to a record.

#[cfg(test)]
mod broken_laws;
pub(crate) mod carried;
mod culprit;
mod engagement;
mod lifetime;
mod look;
mod ride;
mod sane;
mod service;
mod standing;

pub use culprit::Culprit;
pub use engagement::{balance, capacity, engagement, full_throttle, settled};
pub use lifetime::{Log, Until};
pub use ride::{Failure, Options, Simulation, Tolerance};
pub use standing::Standing;
