//! A script as read, limited to the size that the interpreter can handle.

use crate::read::file;
use crate::read::refusal::Refusal;
use crate::read::shipped;
use std::path::{Path, PathBuf};

/// Largest number of lines of a script: the interpreter counts no further, so a message would have no place.
const MOST_LINES: usize = 65_535;
/// Largest size of a script, bytes.
const MOST_BYTES: u64 = 2_000_000;

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
    /// Reads a script; where there is no such file, the shipped one of that name.
    pub fn read(path: &Path) -> Result<Self, Refusal> {
        if let Some((name, text)) = shipped::instead_of(path, ".rhai") {
            return Ok(Self { path: path.to_owned(), name: name.to_owned(), text: text.to_owned() });
        }
        let text = file::text(path, file::Kind::Script)?;
        let (lines, bytes) = (text.lines().count(), text.len() as u64);
        if lines > MOST_LINES || bytes > MOST_BYTES {
            return Err(Refusal::new(format!(
                "{} has {lines} lines and {bytes} bytes; the most allowed of a script is {MOST_LINES} lines and {MOST_BYTES} bytes",
                path.display()
            )));
        }
        let name = path.file_name().map_or_else(String::new, |n| n.to_string_lossy().into_owned());
        Ok(Self { path: path.to_owned(), name, text })
    }
}
