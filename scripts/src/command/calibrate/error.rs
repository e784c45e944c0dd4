//! Errors of a calibration.

use crate::command::calibrate::further::further;
use crate::error::{Ending, plain};
use crate::language::script_error::ScriptError;
use crate::read::file::FileError;
use crate::read::quantity::QuantityError;
use crate::read::refusal::Refusal;
use crate::read::units::{maybe, show};
use crate::study::study_error::StudyError;
use annotate_snippets::Group;
use slipsoak_engine::calibrate::{Inseparable, Unsolved};
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::simulate::Failure;
use slipsoak_plots::words::measure::measured_by;
use thiserror::Error;

/// Reason why nothing is learned.
#[derive(Clone, Debug, Error)]
#[allow(missing_docs)]
pub enum CalibrationError {
    /// the script
    #[error(transparent)]
    Study(#[from] StudyError),
    /// a file
    #[error(transparent)]
    File(#[from] FileError),
    /// an error of the engine
    #[error(transparent)]
    Engine(#[from] Failure),
    /// the time of running in
    #[error("--running-in-time: {0}")]
    RunningInTime(QuantityError),
    /// an error of the data
    #[error(transparent)]
    Data(#[from] Refusal),
    /// no data
    #[error("there is nothing to learn from: give --inspections FILE.csv or --log FILE.csv")]
    NoData,
    /// a constant that cannot be learned
    #[error("--fit {given}: that cannot be learned{}; these can: {known}", maybe(suggestion.as_deref()))]
    Path { given: String, known: String, suggestion: Option<String> },
    /// a constant that is zero
    #[error("--fit {path}: it is 0 in this machine, and a logarithm is fitted; set it above 0 with `having` first")]
    Zero { path: String },
    /// drops of the idle that contradict the machine
    #[error(
        "the drops of the idle are those of a {shown} idle, but the machine says \"idle_kind\": \"{stated}\"; correct it there, or check the drag and the unit of the drops"
    )]
    Idle { stated: IdleKind, shown: IdleKind },
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
    #[error("{0}. What to measure: {1}")]
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

impl Ending for CalibrationError {
    fn exit_code(&self) -> u8 {
        match self {
            Self::NoData | Self::Path { .. } | Self::File(_) => 2,
            Self::Study(e) => e.exit_code(),
            _ => 1,
        }
    }

    fn message<'a>(&'a self, title: &'a str) -> Group<'a> {
        match self {
            Self::Study(study) => study.message(title),
            _ => plain(title),
        }
    }
}

impl From<Unsolved> for CalibrationError {
    fn from(unsolved: Unsolved) -> Self {
        match unsolved {
            Unsolved::Inseparable(e) => {
                let advice = match &e {
                    Inseparable::Alike { one, other, .. } => further(one, other),
                    Inseparable::Silent { constant, .. } => {
                        let by = measured_by(constant).unwrap_or("readings of a part or node that it moves");
                        format!("{by}; later or more readings of the same may do; or leave it out with --fit")
                    }
                };
                Self::Inseparable(e, advice)
            }
            Unsolved::AtItsEnd { path, dimension, value } => {
                Self::AtItsEnd { path: path.to_owned(), value: show(value, dimension) }
            }
            Unsolved::Failure(failure) => failure.into(),
            Unsolved::Unfitted(e) => Self::Unfitted(e.to_string()),
        }
    }
}

impl From<ScriptError> for CalibrationError {
    fn from(error: ScriptError) -> Self {
        Self::Study(error.into())
    }
}
