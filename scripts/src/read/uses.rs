//! Uses known by name.

use crate::read::units::{maybe, nearest};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::usage::{USES, Usage};
use thiserror::Error;

/// Error of an unknown use.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("there is no use `{given}`{}; uses: {known} (described by `slipsoak choose --help`); any other use is a duty in a script: `slipsoak words choose`", maybe(suggestion.as_deref()))]
pub struct UseError {
    /// as given
    given: String,
    /// nearest known use
    suggestion: Option<String>,
    /// all
    known: String,
}

/// The use with that name.
pub fn usage(given: &str, machine: &Machine) -> Result<Usage, UseError> {
    Usage::named(given, machine).ok_or_else(|| UseError {
        given: given.to_owned(),
        suggestion: nearest(given, USES.iter().map(|u| u.0)),
        known: USES.map(|usage| usage.0).join(", "),
    })
}
