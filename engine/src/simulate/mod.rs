//! Runs a duty segment by segment and leaves a record.

#[cfg(test)]
mod broken_laws;
mod channels;
mod close_up;
mod culprit;
mod engagement;
mod ledger;
mod lifetime;
mod moments;
mod recorder;
mod ride;
mod service;
mod standing;
mod warnings;

pub use channels::channels;
pub use culprit::Culprit;
pub use engagement::{capacity, engagement};
pub use lifetime::{Log, Until};
pub use recorder::Recorder;
pub use ride::{Failure, Options, Simulation};
pub use standing::Standing;
