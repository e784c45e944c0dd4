//! Sentences on runs of a long study that could not be computed.

use crate::words::text::Words;
use slipsoak_engine::failed::Failed;
use slipsoak_engine::sensitivity::Influences;

/// Largest number of failures named in the sentence.
const NAMED: usize = 3;

/// Sentence on the number of runs that could not be computed and are left out, with the first and its reason; empty if
/// all could.
pub fn left_out(failed: &[Failed], of: u64, items: &str) -> Option<Words> {
    if failed.is_empty() {
        return None;
    }
    let named: Vec<String> = failed.iter().take(NAMED).map(|f| format!("{}: {}", f.what, f.why)).collect();
    let (is, more) = (if failed.len() == 1 { "is" } else { "are" }, failed.len().saturating_sub(NAMED));
    let more = if more > 0 { format!("; and {more} more") } else { String::new() };
    Some(
        format!(
            "{} of {of} {items} could not be computed and {is} left out: {}{more}.",
            failed.len(),
            named.join("; ")
        )
        .into(),
    )
}

/// Sentence on the failed runs of a sensitivity study, with what is missing without them.
pub fn unranked(influences: &Influences) -> Option<Words> {
    let said = left_out(&influences.failed, influences.runs, "runs")?;
    let shares = if influences.rows > 0 {
        ", and without a point of its design a machine has no shares of variance"
    } else {
        ""
    };
    Some(said.plain(format!(" A setting without its P10 or P90 is not ranked{shares}.")))
}
