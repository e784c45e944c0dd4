//! All text output: numbers and units, sentences, warnings, cautions.

pub mod answer;
pub mod assumed;
pub mod calibration;
pub mod cautions;
pub mod choice;
pub mod cleaning;
pub(crate) mod clutches;
pub mod compared;
pub mod failed;
pub(crate) mod fault;
pub mod fleet;
pub mod gaps;
pub mod granted;
pub(crate) mod habits;
pub mod influence;
pub mod number;
pub mod oiling;
pub(crate) mod quantity;
pub(crate) mod ranking;
pub mod reading;
pub mod retraced;
pub mod say;
pub mod sweep;
pub mod text;
mod use_of_machine;
pub mod uses;
pub mod warnings;
