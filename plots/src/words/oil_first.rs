//! That the oil is due before a life ends.

use crate::sheet::axis::extent;
use crate::words::fault::leave_wrong_oils;
use crate::words::reading::end;
use crate::words::say;
use crate::words::text::{Words, listed};
use slipsoak_engine::record::Run;

/// Running time after which the oil of a run's bushing is due, s; by the calendar where the motor's hours are not known.
pub(crate) fn due(run: &Run) -> Option<f64> {
    run.horizon.as_ref().and_then(|horizon| horizon.service_running.or(horizon.service_due))
}

/// When to oil at the latest: before the first service of a run's bushing, or of each among those of several that fit.
pub(crate) fn oil_first(runs: &[&Run]) -> Option<Words> {
    let several = runs.len() > 1;
    let lasting = |run: &Run, due: f64| run.fault().is_none() && end(run).is_some_and(|end| due < end.running);
    let mut all: Vec<(&Run, f64)> = runs.iter().filter_map(|run| Some((*run, due(run)?))).collect();
    all.retain(|(run, due)| !several || lasting(run, *due));
    leave_wrong_oils(&mut all, |(run, _)| *run);
    let (first, last) = extent(all.iter().map(|(_, due)| *due));
    if all.is_empty() {
        return None;
    }
    let when = if say::time(first) == say::time(last) {
        format!("before {} of running, when its service is due", say::time(first))
    } else {
        format!("before its service is due, after {} of running", say::times(first, last))
    };
    // Of the habits of one machine those are named after which it is due.
    let habits = several && runs.iter().all(|run| run.variant == runs[0].variant);
    let oil = if habits {
        let under: Vec<String> = all.iter().map(|(run, _)| format!("“{}”", run.duty)).collect();
        format!("Under {}, oil", listed(&under))
    } else {
        "Oil".to_owned()
    };
    Some(
        format!(
            "{oil} the bushing well {when} with the end leakage as set (`slipsoak oiling` gives an interval on the safe side)."
        )
        .into(),
    )
}
