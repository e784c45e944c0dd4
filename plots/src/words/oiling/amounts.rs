//! Drops, outings and times of oiling as text, and how surely the leakage is known.

use crate::words::granted::BOILING;
use crate::words::number::figures;
use crate::words::say::{self, temperature, time};
use slipsoak_engine::oil_plan::{Lasts, OilPlan};
use slipsoak_engine::units::HOUR;

pub(crate) fn drops(n: f64) -> String {
    if n == 1.0 { "1\u{a0}drop".to_owned() } else { format!("{}\u{a0}drops", figures(n, 2)) }
}

/// Whole drops, down to those for which there is room: one of which a twentieth is missing counts.
pub(super) fn whole(n: f64) -> f64 {
    (n + 0.05).floor()
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

/// End leakage and the oil's life in heat of a case: "0.1 per hour and 1000 h at 100 °C (212 °F)".
pub(super) fn constants(lasts: &Lasts) -> String {
    format!("{} and {} at {}", per_hour(lasts.leak), say::lasts(lasts.oil_life), temperature(BOILING))
}

/// How surely both are known, as a clause after them.
pub(super) const fn how_sure(learned: bool) -> &'static str {
    if learned {
        "the first as measurements leave it open, the second measured by nobody"
    } else {
        "measured by nobody"
    }
}
