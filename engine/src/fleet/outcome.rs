//! Outcome of one clutch, derived from its run.

use crate::document::fleet::Outcome;
use crate::document::record::{Horizon, Run, Warned};
use crate::names::Part;

/// Number of points of the curve of remaining life that each clutch keeps.
pub const POINTS: usize = 24;
/// Remaining shares of a part's life for which each clutch keeps the time.
pub const LEVELS: [f64; 4] = [0.75, 0.5, 0.25, 0.0];
impl Outcome {
    /// The outcome of a run of a repeated block.
    pub fn of_run(clutch: u64, run: &Run, horizon: f64) -> Self {
        let way = run.horizon.clone().unwrap_or_default();
        let beyond = run.warned(Warned::Beyond).map(|warning| warning.value);
        let drags = [Warned::Drag, Warned::WeakShoe, Warned::Creep].iter().any(|kind| run.warned(*kind).is_some());
        let wrong_oil = run.warned(Warned::Additive).is_some();
        let (springs, unfit) = (run.springs_unknown(), run.of_duty());
        Self {
            drags,
            springs,
            wrong_oil,
            descends: run.descends(),
            unfit,
            beyond,
            hourly: run.hourly(),
            ..Self::of(clutch, run.launches, &way, horizon)
        }
    }

    /// The outcome of a run whose block was repeated up to a horizon, s.
    pub fn of(clutch: u64, launches: u64, way: &Horizon, horizon: f64) -> Self {
        // A block may reach beyond the horizon; ends beyond it do not count.
        let first = way.first_worn().filter(|(_, end, _)| *end <= horizon);
        let end = first.map(|(_, end, _)| end);
        let service_due = way.service_due.filter(|due| *due <= end.unwrap_or(horizon));
        let left_at = |time: f64| {
            let after = way.points.iter().position(|p| p.time >= time);
            let worst = |used: &[f64]| {
                let wearing = Part::ALL.into_iter().zip(used).filter(|(part, _)| part.wears());
                1.0 - wearing.map(|(_, used)| *used).fold(0.0, f64::max)
            };
            let left = match after {
                // Beyond its end a clutch has no remaining life.
                None => {
                    if end.is_some() {
                        0.0
                    } else {
                        way.points.last().map_or(1.0, |p| worst(&p.used))
                    }
                }
                Some(0) => worst(&way.points[0].used),
                Some(k) => {
                    let (a, b) = (&way.points[k - 1], &way.points[k]);
                    let share = (time - a.time) / (b.time - a.time).max(1e-9);
                    worst(&a.used) + share * (worst(&b.used) - worst(&a.used))
                }
            };
            left.clamp(0.0, 1.0)
        };
        Self {
            clutch,
            end,
            running: first.and_then(|(.., running)| running),
            ended_by: first.map(|(part, ..)| part),
            service_due,
            service_running: way.service_running.filter(|_| service_due.is_some()),
            running_share: way
                .points
                .last()
                .map_or(1.0, |last| if last.time > 0.0 { last.running / last.time } else { 1.0 }),
            left: times(horizon).into_iter().map(left_at).collect(),
            reached: (0..Part::COUNT)
                .map(|part| {
                    let at = |left: &f64| reached(way, part, 1.0 - left).filter(|at| *at <= horizon);
                    LEVELS.iter().map_while(at).collect()
                })
                .collect(),
            drags: false,
            springs: None,
            wrong_oil: false,
            descends: false,
            unfit: None,
            hourly: 0.0,
            launches,
            blocks: (way.blocks_run, way.blocks_skipped),
            beyond: None,
        }
    }
}

/// Time at which a part's use first reached this value, rounded to whole s.
fn reached(way: &Horizon, part: usize, used: f64) -> Option<f64> {
    let k = way.points.iter().position(|point| point.used[part] >= used)?;
    let (a, b) = (&way.points[k.saturating_sub(1)], &way.points[k]);
    let rise = b.used[part] - a.used[part];
    let share = if rise > 0.0 { (used - a.used[part]) / rise } else { 1.0 };
    Some((a.time + share * (b.time - a.time)).round())
}

/// Times of the curves of remaining life, s.
pub(super) fn times(horizon: f64) -> Vec<f64> {
    (1..=POINTS).map(|k| horizon * (k as f64 / POINTS as f64).powi(2)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::record::LifePoint;

    #[test]
    fn a_renewed_part_keeps_the_times_at_which_it_first_reached_its_levels() {
        // Worn to 0.6 in 100 s, renewed, worn again.
        let at = |time: f64, used: f64| LifePoint { time, running: time, used: vec![used] };
        let way = Horizon {
            points: vec![at(0.0, 0.0), at(100.0, 0.6), at(101.0, 0.0), at(301.0, 1.2)],
            ..Horizon::default()
        };
        // 0.25/0.6 and 0.5/0.6 of 100 s; then 0.75/1.2 and 1/1.2 of 200 s.
        assert_eq!(LEVELS.map(|left| reached(&way, 0, 1.0 - left)), [42.0, 83.0, 226.0, 268.0].map(Some));
        assert_eq!(reached(&way, 0, 1.3), None);
    }

    #[test]
    fn no_end_lies_beyond_the_horizon() {
        // A block that extends beyond the horizon: one part ends at 80 s, the horizon is 50 s.
        let at = |time: f64, used: f64| LifePoint { time, running: time, used: vec![used; Part::COUNT] };
        let mut ends = vec![None; Part::COUNT];
        ends[0] = Some(80.0);
        let way = Horizon {
            points: vec![at(0.0, 0.0), at(80.0, 1.0)],
            running: vec![None; Part::COUNT],
            ends,
            service_due: Some(60.0),
            ..Horizon::default()
        };
        let seen = |horizon: f64| {
            let outcome = Outcome::of(0, 0, &way, horizon);
            (outcome.end, outcome.ended_by.is_some(), outcome.service_due, outcome.reached[0].len())
        };
        assert_eq!(seen(50.0), (None, false, None, 2), "a quarter and half were used at 20 and 40 s");
        assert_eq!(seen(100.0), (Some(80.0), true, Some(60.0), 4));
    }

    #[test]
    fn the_oil_limit_calls_for_service_and_the_first_worn_part_ends_a_clutch() {
        let at = |time: f64, lining: f64, oil: f64| LifePoint {
            time,
            running: 0.5 * time,
            used: vec![lining, 0.0, 0.0, 0.0, oil, 0.0, 0.0, 0.0],
        };
        let mut way = Horizon {
            points: vec![at(0.0, 0.0, 0.0), at(50.0, 0.25, 1.0), at(200.0, 1.0, 1.5)],
            ends: vec![Some(200.0), None, None, None, Some(50.0), None, None, None],
            running: vec![Some(100.0), None, None, None, Some(25.0), None, None, None],
            service_due: Some(30.0),
            service_running: Some(15.0),
            ..Horizon::default()
        };
        let outcome = Outcome::of(0, 0, &way, 400.0);
        assert_eq!((outcome.end, outcome.running, outcome.ended_by), (Some(200.0), Some(100.0), Some(Part::Lining)));
        assert_eq!((outcome.service_due, outcome.service_running), (Some(30.0), Some(15.0)));
        assert_eq!(outcome.running_share, 0.5);
        // 400 (k/24)²: at 100 s, the twelfth point, half of the lining remains, (1 − 0.25) − (50/150) 0.75; the oil is
        // used up.
        assert!((outcome.left[11] - 0.5).abs() < 1e-12, "{:?}", outcome.left);
        // An oil limit after the end of the part, within the same block, does not count for this clutch.
        way.service_due = Some(201.0);
        assert_eq!(Outcome::of(0, 0, &way, 400.0).service_running, None);
        way.ends[0] = None;
        let outcome = Outcome::of(0, 0, &way, 400.0);
        assert_eq!((outcome.end, outcome.ended_by, outcome.service_due), (None, None, Some(201.0)));
    }
}
