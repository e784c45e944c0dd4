//! Errors of a calibration.

use crate::diagnose::Trouble;
use crate::read::columns::Unreadable;
use crate::read::units::maybe;
use slipsoak_engine::calibrate::Inseparable;
use thiserror::Error;

/// Reason why nothing is learned.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum Unlearned {
    /// an error of the data
    #[error(transparent)]
    Data(#[from] Unreadable),
    /// no data
    #[error("there is nothing to learn from: give --inspections FILE.csv or --log FILE.csv")]
    NoData,
    /// a constant that cannot be learned
    #[error("--fit {given}: that cannot be learned{}; these can: {known}", maybe(suggestion.as_deref()))]
    Path { given: String, known: String, suggestion: Option<String> },
    /// a constant that is zero
    #[error("--fit {path}: it is 0 in this machine, and a logarithm is fitted; set it above 0 with `having` first")]
    Zero { path: String },
    /// no suitable duty
    #[error("{what}, and {script} has no such duty with its first machine; its duties: {known}")]
    Duty { what: String, script: String, known: String },
    /// a duty whose segments depend on the ride
    #[error(
        "the duty `{duty}` reads the ride as it goes; to learn from worn parts its entries have to be known beforehand: leave out what asks for temperatures, fill or clock"
    )]
    Reading { duty: String },
    /// a log longer than its duty
    #[error(
        "{file} goes on for {log}, but the duty `{duty}` ends after {end}: what was the clutch put through after that?"
    )]
    LogTooLong { file: String, duty: String, log: String, end: String },
    /// constants that the data do not determine
    #[error("{0}. What would tell: {1}")]
    Inseparable(Inseparable, String),
    /// a constant at the end of its range
    #[error(
        "the data push {path} to {value}, the end of what it can be: they contradict this machine under this duty; check their units, the duty and its name, and what else differed"
    )]
    AtItsEnd { path: String, value: String },
    /// no fit
    #[error("{0}")]
    Unfitted(String),
}

impl Unlearned {
    /// 2 if the command line is wrong, 1 if a value is.
    pub fn exit_code(&self) -> u8 {
        if matches!(self, Self::NoData | Self::Path { .. }) { 2 } else { 1 }
    }
}

impl From<Unlearned> for Trouble {
    fn from(unlearned: Unlearned) -> Self {
        Self::Learning(Box::new(unlearned))
    }
}
