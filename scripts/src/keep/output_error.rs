//! Reasons why nothing was written.

use crate::error::Ending;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Reason why nothing was written.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum OutputError {
    /// the folder exists and is not empty
    #[error("{0} exists and is not empty; choose another --out, or add --replace to replace an earlier result")]
    Exists(PathBuf),
    /// the folder for figures exists and is not empty
    #[error("{0} exists and is not empty; choose another --out for the figures")]
    Full(PathBuf),
    /// the file exists
    #[error("{0} exists; choose another --out, or add --replace to replace that file")]
    Taken(PathBuf),
    /// the existing folder is not a result of this program
    #[error(
        "{0} holds no result of this program, so it is no earlier result and is not replaced; choose another --out"
    )]
    NotOurs(PathBuf),
    /// an earlier result holds a foreign file
    #[error(
        "{folder} holds `{name}`, which is no part of a result and would be deleted with it; move that away, or choose another --out"
    )]
    Foreign { folder: PathBuf, name: String },
    /// another run has written to the same place meanwhile
    #[error("another run has written {wanted} meanwhile: that is left as it is, and this result stands in {place}")]
    Overtaken { wanted: PathBuf, place: PathBuf },
    /// a page whose name does not end in .html
    #[error("{0}: a page is HTML; end its name with .html, and print it to PDF from a browser")]
    NotAPage(PathBuf),
    /// not a folder
    #[error("{0} is not a folder, so nothing can be put into it; choose another --out")]
    NotAFolder(PathBuf),
    /// the system reports an error
    #[error(
        "{path} cannot be written: {why}; nothing was left there; make room or get the right to write, or choose another --out"
    )]
    Refused { path: PathBuf, why: String },
    /// a number without a representation in JSON
    #[error("the result of `{run}` holds a number that is not finite ({what}); nothing was written")]
    NotFinite { run: String, what: String },
    /// unknown figure
    #[error("this result has no figure `{given}`; its figures:{known}")]
    Figure { given: String, known: String },
    /// a figure that cannot be drawn
    #[error("the figure `{figure}` cannot be drawn: {why}")]
    Undrawn { figure: String, why: String },
}

impl Ending for OutputError {
    fn exit_code(&self) -> u8 {
        match self {
            Self::NotFinite { .. } | Self::Undrawn { .. } | Self::Refused { .. } | Self::Overtaken { .. } => 1,
            _ => 2,
        }
    }
}

/// The system's error of writing to a path.
pub(crate) fn refused(path: &Path) -> impl Fn(std::io::Error) -> OutputError + '_ {
    |e| OutputError::Refused { path: path.to_owned(), why: e.to_string() }
}
