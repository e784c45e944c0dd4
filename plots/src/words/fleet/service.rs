//! When the oil of fleets is due.

use crate::words::clutches::{alike, bounds, milestone, names, reference};
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::names::Quantile;

/// Largest number of fleets that are all listed with the time at which oil is due.
const FEW: usize = 4;

/// Times at which oil is due: for each of a few fleets, else for the longest-lived, the next and the reference.
pub(super) fn oil(report: &Report, all: &[&Fleet]) -> Words {
    let first = &report.fleets[reference(report).0];
    let named: Vec<&Fleet> = match all {
        [best, rival, ..] if all.len() > FEW => {
            let mut named = vec![*best, *rival];
            if !named.iter().any(|fleet| std::ptr::eq(*fleet, first))
                && all.iter().any(|fleet| std::ptr::eq(*fleet, first))
            {
                named.push(first);
            }
            named
        }
        _ => all.to_vec(),
    };
    if all.iter().all(|fleet| fleet.outcomes.iter().all(|o| o.service_due.is_none())) {
        return Words::from("Oil service is due in none of them by then.");
    }
    let several = report.fleets.len() > 1;
    let mut words = Words::from("Oil service is due ");
    for (k, (due, fleets)) in alike(&named, due).into_iter().enumerate() {
        words = words.plain(if k > 0 { "; " } else { "" });
        if several {
            words = words.plain("with ").strong(names(report, &fleets)).plain(" ");
        }
        words = words.and(due);
    }
    words.plain(".")
}

/// Time at which the oil of a fleet is due, to follow “due with” its name.
fn due(fleet: &Fleet) -> Words {
    let [tenth, half] = [Quantile::B10, Quantile::B50].map(|name| milestone(&fleet.service_running, name));
    let Some(time) = tenth.estimate else {
        let due = fleet.outcomes.iter().filter(|o| o.service_due.is_some()).count();
        return format!("in {due} of {} clutches by the end", fleet.outcomes.len()).into();
    };
    let spread = bounds(&tenth).map_or_else(String::new, |b| format!(" ({b})"));
    let half = half
        .estimate
        .map_or_else(|| "not in half by the end".to_owned(), |t| format!("in half after {}", say::time(t)));
    Words::from("in a tenth of the clutches after ")
        .strong(format!("{} of running", say::time(time)))
        .plain(format!("{spread}, {half}"))
}
