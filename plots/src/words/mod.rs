//! Everything that is said: numbers and units, sentences, warnings, cautions.

pub mod answer;
pub(crate) mod assumed;
pub mod cautions;
pub mod compared;
pub(crate) mod fault;
pub(crate) mod habits;
pub(crate) mod number;
pub(crate) mod ranking;
pub mod reading;
pub mod text;
pub mod warnings;
