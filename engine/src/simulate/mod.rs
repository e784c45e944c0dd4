//! Runs a duty segment by segment and leaves a record.

mod channels;
mod ledger;
mod recorder;
mod ride;
mod service;
mod warnings;

pub use channels::channels;
pub use recorder::Recorder;
pub use ride::{Failure, Options, Simulation};
