//! Drops, outings and times of oiling as text, and how surely the leakage is known.

use crate::words::number::figures;
use crate::words::say::time;
use slipsoak_engine::oil_plan::{Lasts, OilPlan};
use slipsoak_engine::units::HOUR;

pub(super) fn drops(n: f64) -> String {
    if n == 1.0 { "1\u{a0}drop".to_owned() } else { format!("{}\u{a0}drops", figures(n, 2)) }
}

pub(super) fn outings(n: u64) -> String {
    if n == 1 { "after every outing".to_owned() } else { format!("every {n} outings") }
}

pub(super) fn per_hour(leak: f64) -> String {
    format!("{} per hour", figures(leak * HOUR, 2))
}

/// Time until service is due in this case.
pub(super) fn due(lasts: &Lasts) -> String {
    let early = if lasts.within_first() { " (within the first outing)" } else { "" };
    after(lasts) + early
}

pub(super) fn after(lasts: &Lasts) -> String {
    lasts.due.map_or_else(|| "more than ten years of such outings".to_owned(), time)
}

/// How the end leakage is known.
pub(crate) fn leakage(p: &OilPlan) -> &'static str {
    if p.leak_learned() { "learned from measurements" } else { "assumed; nobody has measured it" }
}

/// How surely the end leakage is known, as a clause after it.
pub(super) const fn how_sure(learned: bool) -> &'static str {
    if learned { "as measurements leave it open" } else { "which nobody has measured" }
}
