//! The shop's questions, a row each: their options, for the command line and for scripts, and their answers.

pub(crate) mod caller;
mod choose;
mod gaps;
mod measure;
mod oiling;
pub mod options;
mod phrases;
mod question;
mod season;

pub use question::{Posed, Question};

/// Every question.
pub static QUESTIONS: [&Question; 5] =
    [&choose::CHOOSE, &gaps::GAPS, &measure::MEASURE, &oiling::OILING, &season::SEASON];
