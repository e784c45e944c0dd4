//! Runs of a long study that could not be computed.

use crate::words::text::Words;
use slipsoak_engine::failed::Failed;
use slipsoak_engine::sensitivity::Influences;

/// Failures that one sentence names.
const NAMED: usize = 3;

/// How many of so many runs could not be computed and are left out, with the first of them and why; nothing where all could.
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

/// The same of the runs on what matters, with what is missing without them.
pub fn unranked(influences: &Influences) -> Option<Words> {
    let said = left_out(&influences.failed, influences.runs, "runs")?;
    let shares = if influences.rows > 0 {
        ", and without a point of its design a machine has no shares of variance"
    } else {
        ""
    };
    Some(said.plain(format!(" A setting without its P10 or P90 is not ranked{shares}.")))
}
