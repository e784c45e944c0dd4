//! Reason why something that was read is refused.

use crate::error::Ending;
use std::fmt::Display;
use thiserror::Error;

/// A message: what is wrong, where, the value, and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{message}")]
pub struct Refusal {
    message: String,
    exit_code: u8,
}

impl Ending for Refusal {
    fn exit_code(&self) -> u8 {
        self.exit_code
    }
}

impl Refusal {
    /// About a script or a value.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), exit_code: 1 }
    }

    /// Several, each on a line of its own.
    pub fn several(all: impl IntoIterator<Item = Self>) -> Self {
        let all: Vec<Self> = all.into_iter().collect();
        let exit_code = all.iter().map(|one| one.exit_code).max().unwrap_or(1);
        let lines: Vec<String> = all.into_iter().map(|one| one.message).collect();
        Self { message: lines.join("\n"), exit_code }
    }

    /// About the command line.
    pub fn of_command(message: impl Into<String>) -> Self {
        Self { message: message.into(), exit_code: 2 }
    }

    /// About a line of a file; lines count from 1.
    pub(crate) fn line(file: &str, line: u64, why: impl Display) -> Self {
        Self::new(format!("{file}, line {line}: {why}"))
    }

    /// About a column of a table in a line.
    pub(crate) fn field(file: &str, line: u64, column: &str, why: impl Display) -> Self {
        Self::new(format!("{file}, line {line}, column `{column}`: {why}"))
    }

    /// About a JSON file of another form; `advice` says what it should be.
    pub(crate) fn json(file: &str, error: &serde_json::Error, advice: &str) -> Self {
        let text = error.to_string();
        // A name of the code says nothing to a reader.
        let why =
            text.split(" at line").next().unwrap_or_default().split(", expected struct").next().unwrap_or_default();
        Self::new(format!("{file}, line {}, column {}: {why}; {advice}", error.line(), error.column()))
    }
}
