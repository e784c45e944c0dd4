//! A script as read, limited to the size that the interpreter can handle.

use crate::error::Ending;
use crate::read::file::{self, FileError};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Largest number of lines of a script: the interpreter counts no further, so a message would have no place.
const MOST_LINES: usize = 65_535;
/// Largest size of a script, bytes.
const MOST_BYTES: u64 = 2_000_000;

/// Error of a script file.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ScriptFileError {
    /// its file
    #[error(transparent)]
    File(#[from] FileError),
    /// a script that is too long
    #[error(
        "{path} has {lines} lines and {bytes} bytes; the most allowed of a script is {MOST_LINES} lines and {MOST_BYTES} bytes"
    )]
    Long {
        /// path
        path: PathBuf,
        /// lines
        lines: usize,
        /// bytes
        bytes: u64,
    },
}

impl Ending for ScriptFileError {
    fn exit_code(&self) -> u8 {
        if matches!(self, Self::File(_)) { 2 } else { 1 }
    }
}

/// A script that has been read.
#[derive(Clone, Debug)]
pub struct Script {
    /// its path
    pub path: PathBuf,
    /// its name, without its folder
    pub name: String,
    /// its text
    pub text: String,
}

impl Script {
    /// Reads a script.
    pub fn read(path: &Path) -> Result<Self, ScriptFileError> {
        let text = file::text(path, file::Kind::Script)?;
        let (lines, bytes) = (text.lines().count(), text.len() as u64);
        if lines > MOST_LINES || bytes > MOST_BYTES {
            return Err(ScriptFileError::Long { path: path.to_owned(), lines, bytes });
        }
        let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        Ok(Self { path: path.to_owned(), name, text })
    }
}
