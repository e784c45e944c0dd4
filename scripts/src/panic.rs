//! Bugs of the program, reported as a message instead of a stack trace.

use crate::Error;
use crate::error::Ending;
use crate::keep::interrupt;
use std::panic::set_hook;
use std::sync::{Mutex, PoisonError};
use thiserror::Error;

/// A bug of this program.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error(
    "slipsoak stumbled over a bug of its own: {what} ({place}). This is not your script's fault; {kept} Please report it with \
     this message, the version (slipsoak {}), the command line and the script with its parts.",
    env!("CARGO_PKG_VERSION")
)]
struct BugError {
    /// description of the bug
    what: String,
    /// place in the program
    place: String,
    /// sentence on what was kept
    kept: String,
}

impl Ending for BugError {}

/// Held by the thread that reports: several may panic for the same reason, and the first is the cause.
static FIRST: Mutex<()> = Mutex::new(());

/// From here on a panic on any thread ends the program: unfinished files are removed, and one paragraph, printed by `say`, tells
/// what to report.
pub fn heed(say: fn(&Error)) {
    set_hook(Box::new(move |panic| {
        let _first = FIRST.lock().unwrap_or_else(PoisonError::into_inner);
        let what = panic.payload_as_str().unwrap_or("no reason").to_owned();
        let place = panic.location().map_or_else(String::new, ToString::to_string);
        let bug = Error::from(BugError { what, place, kept: interrupt::abandoned() });
        say(&bug);
        std::process::exit(bug.exit_code().into());
    }));
}
