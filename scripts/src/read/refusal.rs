//! Reason why something that was read is refused.

use crate::error::Ending;
use std::fmt::Display;
use thiserror::Error;

/// A message: what is wrong, where, the value, and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{0}")]
pub struct Refusal(String);

impl Ending for Refusal {}

impl Refusal {
    /// The message as it stands.
    pub fn new(message: impl Into<String>) -> Self {
        Self(message.into())
    }

    /// About a line of a file; lines count from 1.
    pub(crate) fn line(file: &str, line: u64, why: impl Display) -> Self {
        Self(format!("{file}, line {line}: {why}"))
    }

    /// About a column of a table in a line.
    pub(crate) fn field(file: &str, line: u64, column: &str, why: impl Display) -> Self {
        Self(format!("{file}, line {line}, column `{column}`: {why}"))
    }

    /// About a JSON file of another form; `advice` says what it should be.
    pub(crate) fn json(file: &str, error: &serde_json::Error, advice: &str) -> Self {
        let text = error.to_string();
        let why = text.split(" at line").next().unwrap_or_default();
        Self(format!("{file}, line {}, column {}: {why}; {advice}", error.line(), error.column()))
    }
}
