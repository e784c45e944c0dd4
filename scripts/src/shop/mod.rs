//! The shop's questions, a row each: their options, for the command line and for scripts, and their answers.

pub(crate) mod caller;
mod choose;
mod gaps;
mod oiling;
pub mod options;
mod phrases;
mod question;
mod season;

pub use question::{Posed, Question};

/// Every question.
pub static QUESTIONS: [&Question; 4] = [&choose::CHOOSE, &gaps::GAPS, &oiling::OILING, &season::SEASON];
