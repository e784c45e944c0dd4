//! Files named on the command line: their text, or a message about the mistake.

use crate::read::variant::built_in;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Error of reading a file named on the command line.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{path} cannot be read: {why}")]
pub struct FileError {
    /// path
    pub path: PathBuf,
    /// reason, and what to do
    pub why: String,
}

/// Expected kind of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// a script
    Script,
    /// a machine
    Part,
    /// a stock of springs
    Stock,
    /// a saved result
    Result,
    /// a table or a recorded ride
    Table,
}

impl Kind {
    /// Its name, and the ending of such files.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Script => ("a script", "rhai"),
            Self::Part => ("a parts file", "json"),
            Self::Stock => ("a stock of springs", "json"),
            Self::Result => ("a result that was saved as JSON", "json"),
            Self::Table => ("a table or recording", "csv"),
        }
    }
}

/// The text of a file, without a byte order mark.
pub fn text(path: &Path, kind: Kind) -> Result<String, FileError> {
    let refuse = |why: String| FileError { path: path.to_owned(), why };
    if path == Path::new("-") {
        let (wanted, ending) = kind.words();
        return Err(refuse(format!(
            "the standard input is not read; save {wanted} as a file, such as mine.{ending}, and name that"
        )));
    }
    if let Some(why) = mistaken(path, kind) {
        return Err(refuse(why));
    }
    let bytes = fs::read(path).map_err(|e| refuse(missing(path, kind, &e)))?;
    decoded(bytes).map_err(refuse)
}

/// The name of a file, for messages, and its text.
pub fn named(path: &Path, kind: Kind) -> Result<(String, String), FileError> {
    let text = text(path, kind)?;
    Ok((path.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned()), text))
}

/// Bytes as text.
pub fn decoded(bytes: Vec<u8>) -> Result<String, String> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err("it is text in UTF-16; save it as UTF-8".to_owned());
    }
    let text = String::from_utf8(bytes).map_err(|e| {
        let line = e.as_bytes()[..e.utf8_error().valid_up_to()].split(|b| *b == b'\n').count();
        format!("it is not text in UTF-8 (line {line}); save it as UTF-8")
    })?;
    Ok(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned))
}

/// Message for a file that is clearly of another kind.
fn mistaken(path: &Path, kind: Kind) -> Option<String> {
    let (wanted, _) = kind.words();
    let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase()).unwrap_or_default();
    let is = match (ending.as_str(), kind) {
        ("rhai", Kind::Script) | ("json", Kind::Part | Kind::Stock | Kind::Result) => return None,
        ("rhai", _) => "a script: `slipsoak run` takes it",
        ("json", _) => {
            "JSON: a machine goes to `slipsoak sheet` or into a script by `machine(…)`, a result to `slipsoak report`"
        }
        ("csv", Kind::Script | Kind::Part | Kind::Stock | Kind::Result) => {
            "a table: `slipsoak retrace` takes a recorded ride, `slipsoak calibrate` takes measurements"
        }
        ("gpx", Kind::Script | Kind::Part | Kind::Stock | Kind::Result) => {
            "a recorded ride: `slipsoak retrace` takes it"
        }
        ("html" | "svg" | "png" | "pdf", _) => {
            "what this program draws; it reads the JSON of the result that stands beside it"
        }
        _ => return None,
    };
    path.is_file().then(|| format!("{wanted} is wanted here, and this is {is}"))
}

/// Reason why a file cannot be opened.
fn missing(path: &Path, kind: Kind, error: &std::io::Error) -> String {
    let (wanted, ending) = kind.words();
    if path.is_dir() {
        return match kind {
            Kind::Result => "it is a folder without a result in it".to_owned(),
            _ => format!("it is a folder; name {wanted} in it"),
        };
    }
    let longer = path.with_extension(ending);
    match error.kind() {
        ErrorKind::NotFound if longer != path && longer.is_file() => {
            format!("there is no such file; did you mean {}?", longer.display())
        }
        ErrorKind::NotFound
            if kind == Kind::Part && path.file_stem().is_some_and(|s| built_in(&s.to_string_lossy().to_lowercase()).is_some()) =>
        {
            "there is no such file; the built-in machine is called `example`".to_owned()
        }
        ErrorKind::NotFound if kind == Kind::Part => {
            "there is no such file; check the path, or name `example`, the built-in machine".to_owned()
        }
        ErrorKind::NotFound if kind == Kind::Stock => {
            "there is no such file; a stock of springs is a file, such as springs.json with {\"springs\": [{\"name\": \"1900 rpm\", \"engagement\": \"1900 rpm\"}]}".to_owned()
        }
        ErrorKind::NotFound => "there is no such file; check the path".to_owned(),
        _ => error.to_string(),
    }
}
