//! Durations of tasks.

use crate::duty::{End, Task};

/// Longest duration of a segment with this end, s.
const fn patience(end: &End) -> f64 {
    match *end {
        End::After(seconds)
        | End::Still { within: seconds }
        | End::Reached { within: seconds, .. }
        | End::Slowed { within: seconds, .. } => seconds,
    }
}

/// How long a machine that cannot turn stands in place of a task that ends by its motion, s: about as long as the task took.
/// Assumed.
const STANDS: f64 = 5.0;

/// How long a machine that cannot turn stands in place of a task, s.
pub(super) fn standing(task: &Task, end: &End) -> f64 {
    if matches!(end, End::After(_)) { duration(task, end) } else { duration(task, end).min(STANDS) }
}

/// Longest duration of a task, s.
pub(super) fn duration(task: &Task, end: &End) -> f64 {
    let trace = if let Task::Follow(trace) = task { trace.points.last().map(|last| last.0) } else { None };
    trace.map_or(patience(end), |last| last.min(patience(end)))
}
