//! The second half of a run: where it starts, and whether oil is lost steadily in it.

use crate::document::record::SegmentSummary;

/// Start of the second half of a run, s: at the segment like the first one that starts nearest to half of its time, so
/// that it contains whole rounds of a periodic duty.
pub(super) fn from_half(segments: &[SegmentSummary], duration: f64) -> f64 {
    let half = 0.5 * duration;
    let first = segments.first().map(|segment| segment.task);
    let rounds = segments.iter().filter(|segment| Some(segment.task) == first);
    let nearest = rounds.map(|segment| segment.start).min_by(|a, b| (a - half).abs().total_cmp(&(b - half).abs()));
    nearest.filter(|start| (start - half).abs() < 0.25 * half).unwrap_or(half)
}

/// Largest relative difference of two rates of use that count as equal.
const STEADY: f64 = 0.25;

/// Whether oil loss is steady enough to extrapolate. It is not uniform: the first heat alone presses some oil out of a
/// full bushing, and a dose adds some. It is extrapolated only if the loss in the last quarter of a run is as fast as
/// in the quarter before. `ends`: ends of windows, s; `used`: use at the end of each.
pub(super) fn steady(ends: &[f64], used: &[f64]) -> bool {
    let at = |share: f64| {
        let index = (share * (used.len().max(1) - 1) as f64).round() as usize;
        Some((*ends.get(index)?, *used.get(index)?))
    };
    let (Some(half), Some(three), Some(end)) = (at(0.5), at(0.75), at(1.0)) else { return false };
    let rate = |from: (f64, f64), to: (f64, f64)| (to.1 - from.1) / (to.0 - from.0).max(1e-9);
    let (before, late) = (rate(half, three), rate(three, end));
    late > 0.0 && (late - before).abs() <= STEADY * late.max(before)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::record::Extremes;
    use crate::names::TaskName;

    #[test]
    fn steady_oil_loss_can_be_projected_but_a_bleed_that_decays_cannot() {
        let ends: Vec<f64> = (1..=40).map(f64::from).collect();
        let used = |law: fn(f64) -> f64| ends.iter().map(|t| law(*t)).collect::<Vec<_>>();
        assert!(steady(&ends, &used(|t| 1e-3 * t)));
        assert!(!steady(&ends, &used(|t| 0.1 * (1.0 - (-t / 10.0).exp()))));
        assert!(!steady(&ends, &used(|_| 0.1)) && !steady(&[], &[]));
    }

    #[test]
    fn a_loss_is_steady_by_its_rate_however_long_each_window_is_and_may_slow_by_a_quarter() {
        let ends: Vec<f64> = (1..=40).map(|k| f64::from(k * k)).collect();
        let used = |law: fn(f64) -> f64| ends.iter().map(|t| law(*t)).collect::<Vec<_>>();
        assert!(steady(&ends, &used(|t| 1e-3 * t)));
        // Windows 20, 29 and 39 of 0 to 39 end the half, the third quarter and the whole: at 441, 900 and 1600 s.
        assert!(steady(&ends, &used(|t| 1e-3 * (t.min(900.0) + 0.78 * (t - 900.0).max(0.0)))));
        assert!(!steady(&ends, &used(|t| 1e-3 * (t.min(900.0) + 0.72 * (t - 900.0).max(0.0)))));
    }

    #[test]
    fn the_second_half_starts_with_the_round_that_starts_nearest_to_it() {
        let from = |starts: &[(TaskName, f64)]| {
            let segment = |&(task, start)| SegmentSummary { task, start, end: start, extremes: Extremes::default() };
            from_half(&starts.iter().map(segment).collect::<Vec<_>>(), 100.0)
        };
        let (idle, hold) = (TaskName::Idle, TaskName::Hold);
        assert_eq!(from(&[(idle, 0.0), (hold, 5.0), (idle, 30.0), (idle, 45.0), (hold, 52.0), (idle, 70.0)]), 45.0);
        assert_eq!(from(&[(idle, 0.0), (hold, 51.0), (idle, 80.0)]), 50.0);
        assert_eq!(from(&[]), 50.0);
    }
}
