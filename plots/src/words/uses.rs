//! Named uses.

use crate::words::number::three;
use slipsoak_engine::usage::USES;

/// Description of a use.
fn meaning((_, idle, share, held): (&str, f64, f64, f64)) -> String {
    let every = if idle + held < 20.0 { "a stop every 20 s" } else { "about a minute from stop to stop" };
    format!(
        "{every}: {} s idling, full throttle to {} % of the governed speed, held for {} s",
        three(idle),
        three(100.0 * share),
        three(held)
    )
}

/// Every use with its description, as a list.
pub fn all() -> String {
    USES.map(|usage| format!("{} ({})", usage.0, meaning(usage))).join("; ")
}
