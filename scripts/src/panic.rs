//! Bugs of the program, reported as a message instead of a stack trace.

use crate::error::Ending;
use std::panic::{AssertUnwindSafe, catch_unwind, set_hook, take_hook};
use std::sync::{Arc, Mutex, PoisonError};
use thiserror::Error;

/// A bug of this program.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error(
    "slipsoak stumbled over a bug of its own: {what} ({place}). This is not your script's fault, and nothing was written. \
     Please report it with this message, the version (slipsoak {}), the command line and the script with its parts.",
    env!("CARGO_PKG_VERSION")
)]
pub struct BugError {
    /// description of the bug
    pub what: String,
    /// place in the program
    pub place: String,
}

impl Ending for BugError {}

/// Runs work; a panic on any thread is returned as [`BugError`].
pub fn caught<T, E: From<BugError>>(work: impl FnOnce() -> Result<T, E>) -> Result<T, E> {
    let place = Arc::new(Mutex::new(None));
    let seen = Arc::clone(&place);
    let usual = take_hook();
    set_hook(Box::new(move |panic| {
        // Several threads may panic for the same reason: the first is the cause.
        let mut seen = seen.lock().unwrap_or_else(PoisonError::into_inner);
        seen.get_or_insert_with(|| panic.location().map_or_else(String::new, ToString::to_string));
    }));
    // Everything that the work has half changed is dropped with it; an unfinished folder is removed as after any error.
    let done = catch_unwind(AssertUnwindSafe(work));
    set_hook(usual);
    done.unwrap_or_else(|panic| {
        let text = panic.downcast_ref::<&str>().map(|text| (*text).to_owned());
        let what = text.or_else(|| panic.downcast_ref::<String>().cloned()).unwrap_or_else(|| "no reason".to_owned());
        let place = place.lock().unwrap_or_else(PoisonError::into_inner).take().unwrap_or_default();
        Err(BugError { what, place }.into())
    })
}
