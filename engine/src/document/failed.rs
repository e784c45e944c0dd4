//! Runs of a long study that could not be computed, and a sentence on them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Largest number of failures named in the sentence.
const NAMED: usize = 3;

/// One run of a long study that could not be computed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Failed {
    /// its number in the study, from 0
    pub item: u64,
    /// its name
    pub what: String,
    /// reason why it could not be computed
    pub why: String,
}

/// Sentence on the number of runs that could not be computed and are left out, with the first and its reason; none if
/// all could.
pub fn left_out(failed: &[Failed], of: u64, items: &str) -> Option<String> {
    if failed.is_empty() {
        return None;
    }
    let named: Vec<String> = failed.iter().take(NAMED).map(|f| format!("{}: {}", f.what, f.why)).collect();
    let (is, more) = (if failed.len() == 1 { "is" } else { "are" }, failed.len().saturating_sub(NAMED));
    let more = if more > 0 { format!("; and {more} more") } else { String::new() };
    Some(format!(
        "{} of {of} {items} could not be computed and {is} left out: {}{more}.",
        failed.len(),
        named.join("; ")
    ))
}
