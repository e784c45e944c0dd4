//! Why a machine is refused.

use super::quantity_error::QuantityError;
use super::similar::maybe;
use crate::names::LiningKind;
use crate::parts::{Group, Invalid};
use thiserror::Error;

/// Reason why a machine is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MachineError {
    /// the file is not JSON
    #[error("{file}, line {line}, column {column}: {why}")]
    Json {
        /// file
        file: String,
        /// line
        line: usize,
        /// column
        column: usize,
        /// what is wrong
        why: String,
    },
    /// a value of the wrong kind
    #[error("{file}: {path} must be {expected}, not {given}")]
    Kind {
        /// file
        file: String,
        /// JSON path
        path: String,
        /// what it must be
        expected: &'static str,
        /// as given
        given: String,
    },
    /// an unknown setting
    #[error("{file}: there is no setting `{path}`")]
    Key {
        /// file
        file: String,
        /// JSON path
        path: String,
    },
    /// an unknown part
    #[error("{file}: there is no part `{part}`; the parts are: {}", parts().join(", "))]
    Part {
        /// file
        file: String,
        /// as given
        part: String,
    },
    /// a fraction where a setting is a count
    #[error("{path} is {value}, but it counts ({meaning}): write a whole number")]
    Count {
        /// setting
        path: &'static str,
        /// as given
        value: f64,
        /// meaning of the setting
        meaning: &'static str,
    },
    /// a quantity that cannot be read
    #[error("{file}: {path}: {source}")]
    Quantity {
        /// file
        file: String,
        /// JSON path
        path: String,
        /// what is wrong
        source: QuantityError,
    },
    /// an unknown name
    #[error("{what} `{given}` is not known; choose one of: {known}{}", maybe(suggestion.as_deref()))]
    Name {
        /// kind of thing
        what: &'static str,
        /// as given
        given: String,
        /// all
        known: String,
        /// nearest known use
        suggestion: Option<String>,
    },
    /// a name of two of the known
    #[error("{what} `{given}` may be either of two: write \"{}\" or \"{}\"", of[0], of[1])]
    TwoMeanings {
        /// kind of thing
        what: &'static str,
        /// as given
        given: String,
        /// what it may be
        of: [&'static str; 2],
    },
    /// a kind of lining beside the numbers of another
    #[error(
        "{file}: `lining_kind` is {kind}, but these settings are those of a {other} lining: {}; delete their lines, and the kind sets them",
        held.join(", ")
    )]
    Lining {
        /// file
        file: String,
        /// the kind that it states
        kind: LiningKind,
        /// the kind whose numbers it holds
        other: LiningKind,
        /// settings that hold them
        held: Vec<&'static str>,
    },
    /// several of these
    #[error("{}", several(file, all))]
    Several {
        /// file
        file: String,
        /// each, in the order of the file's keys
        all: Vec<MachineError>,
    },
    /// an inconsistent machine
    #[error(transparent)]
    Invalid(#[from] Invalid),
}

/// Every mistake of a file on a line of its own, without the file's name.
pub fn several(file: &str, all: &[impl std::fmt::Display]) -> String {
    let each = all.iter().map(ToString::to_string);
    let file_of = [format!("{file}: "), format!("{file}, ")];
    let each = each.map(|one| file_of.iter().find_map(|file| one.strip_prefix(file)).unwrap_or(&one).to_owned());
    let lines: Vec<String> = each.collect();
    format!("{file} has {} mistakes:\n{}", all.len(), lines.join("\n"))
}

/// Keys of a parts file at its top: the parts, then what is no number.
pub fn parts() -> Vec<&'static str> {
    let mut all: Vec<&str> = Group::ALL.iter().map(|group| group.name()).collect();
    all.extend(["name", "about", "form", "oil", "lining_kind", "idle_kind"]);
    all
}
