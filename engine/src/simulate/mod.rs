//! Runs a duty segment by segment and leaves a record.

#[cfg(test)]
mod broken_laws;
pub(crate) mod carried;
mod channels;
mod close_up;
mod culprit;
mod engagement;
mod ledger;
mod lifetime;
mod listed;
mod look;
mod moments;
mod recorder;
mod rest_clock;
mod ride;
mod sane;
mod service;
mod standing;
mod warnings;

pub use culprit::Culprit;
pub use engagement::{balance, capacity, engagement, full_throttle, settled};
pub use lifetime::{Log, Until};
pub use recorder::Recorder;
pub use ride::{Failure, Options, Simulation, Tolerance};
pub use standing::Standing;
