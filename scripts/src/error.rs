//! Every error that ends a command: the one module that knows the errors of all others.

use crate::command::calibrate::error::CalibrationError;
use crate::command::machine::ArgumentError;
use crate::command::words::UnknownWordError;
use crate::keep::journal::JournalError;
use crate::keep::output_error::OutputError;
use crate::language::script_error::{ScriptError, shortened};
use crate::panic::BugError;
use crate::read::columns::TableError;
use crate::read::file::FileError;
use crate::read::saved::ResultError;
use crate::read::script::ScriptFileError;
use crate::study::study_error::StudyError;
use annotate_snippets::Renderer;
use slipsoak_engine::simulate::Failure;
use thiserror::Error;

/// Every error that ends a command.
#[derive(Debug, Error)]
pub enum Error {
    /// the file of a script
    #[error(transparent)]
    ScriptFile(#[from] ScriptFileError),
    /// an error of a study
    #[error(transparent)]
    Study(#[from] StudyError),
    /// an error of the journal of a long study
    #[error(transparent)]
    Journal(#[from] JournalError),
    /// an unknown word
    #[error(transparent)]
    Word(#[from] UnknownWordError),
    /// a machine or an option on the command line
    #[error(transparent)]
    Argument(Box<ArgumentError>),
    /// an error of a calibration
    #[error(transparent)]
    Calibration(Box<CalibrationError>),
    /// another file that the command line names
    #[error(transparent)]
    File(#[from] FileError),
    /// a recorded ride
    #[error(transparent)]
    Table(Box<TableError>),
    /// a saved result
    #[error(transparent)]
    Result(#[from] ResultError),
    /// an error of writing
    #[error(transparent)]
    Output(#[from] OutputError),
    /// an error of the engine
    #[error(transparent)]
    Engine(#[from] Failure),
    /// a bug of this program
    #[error(transparent)]
    Bug(#[from] BugError),
}

/// Large errors are boxed.
macro_rules! boxed {
    ($($variant:ident($error:ident),)+) => {
        $(impl From<$error> for Error {
            fn from(error: $error) -> Self {
                Self::$variant(Box::new(error))
            }
        })+
    };
}

boxed! {
    Argument(ArgumentError),
    Calibration(CalibrationError),
    Table(TableError),
}

impl Error {
    /// 2 if the command line is wrong, 1 if a script or a value is wrong or the system reports an error.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::ScriptFile(e) => e.exit_code(),
            Self::Study(e) => e.exit_code(),
            Self::File(_) | Self::Word(_) => 2,
            Self::Argument(e) => e.exit_code(),
            Self::Calibration(e) => e.exit_code(),
            Self::Result(e) => e.exit_code(),
            Self::Output(e) => e.exit_code(),
            Self::Journal(_) | Self::Table(_) | Self::Engine(_) | Self::Bug(_) => 1,
        }
    }

    /// The mistake of a script, if the error is only that.
    fn script(&self) -> Option<&ScriptError> {
        let study = match self {
            Self::Study(study) => Some(study),
            Self::Calibration(e) => match &**e {
                CalibrationError::Study(study) => Some(study),
                _ => None,
            },
            _ => None,
        };
        match study {
            Some(StudyError::Script(script)) => Some(script),
            _ => None,
        }
    }

    /// The whole message, with the line of the script, if any.
    pub fn render(&self, colour: bool) -> String {
        let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
        let title = shortened(&self.to_string());
        renderer.render(&[match self.script() {
            Some(script) => script.message(&title),
            None => ScriptError::plain(&title),
        }])
    }
}
