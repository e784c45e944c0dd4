//! Variants that do not cover the same ground in an hour: their lives by distance.

use crate::words::compared::{ALIKE, longest_first};
use crate::words::reading::end;
use crate::words::say;
use slipsoak_engine::record::Run;

/// Factor between the distances covered in an hour above which hours do not compare what variants do.
const UNEQUAL: f64 = 1.1;

/// Distance in an hour of running, m.
fn in_an_hour(run: &Run) -> f64 {
    if run.running_time > 0.0 { 3600.0 * run.distance / run.running_time } else { 0.0 }
}

/// Distance until the first part is worn out, m.
fn way(run: &Run) -> f64 {
    end(run).map_or(f64::INFINITY, |end| end.running / 3600.0 * in_an_hour(run))
}

/// That another of the fit variants of one duty than the longest-lived covers the longest distance, because it covers more of it in an
/// hour; none if hours rank them as distances do. A rider who waits for a lining to cool, or launches that take long, make the difference.
pub(crate) fn by_distance(runs: &[&Run]) -> Option<String> {
    let fit: Vec<&Run> = longest_first(runs).into_iter().filter(|run| run.fault().is_none()).collect();
    let first = fit.first()?;
    let best = fit.iter().filter(|run| way(run).is_finite()).max_by(|a, b| way(a).total_cmp(&way(b)))?;
    let (hour, far) = ([in_an_hour(first), in_an_hour(best)], [way(first), way(best)]);
    if hour[0] <= 0.0 || hour[1] < UNEQUAL * hour[0] || far[1] < ALIKE * far[0] {
        return None;
    }
    let [own, other] = hour.map(say::distance);
    let [short, long] = far.map(say::distance);
    Some(format!(
        "But in an hour of running “{}” covers {own}, “{}” {other}: by distance “{}” lasts longest, about {long}, against {short}.",
        first.variant, best.variant, best.variant
    ))
}
