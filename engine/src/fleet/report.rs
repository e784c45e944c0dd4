//! What became of a fleet: of each clutch, and of all together.

use super::paired::Paired;
use super::spread::Uncertain;
use crate::document::{
    Document, Head, Is, Kind,
    sound::{filled, oil_apart, require, sound},
};
use crate::failed::{Failed, left_out};
use crate::names::Part;
use crate::record::{Horizon, Run};
use crate::say::time;
use crate::statistics::{Bounds, Weibull, fit, percentile, share_of};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Points of the curve of remaining life that each clutch keeps.
pub const POINTS: usize = 24;
/// Shares of a part's life of which each clutch keeps when they were left.
pub const LEVELS: [f64; 4] = [0.75, 0.5, 0.25, 0.0];
/// Confidence of every bound.
pub(super) const CONFIDENCE: f64 = 0.9;

/// What became of one clutch, in a few hundred bytes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    /// its number, from 0
    pub clutch: u64,
    /// when its first part was worn out or charred, s, the oil set apart; none if none was within the horizon
    pub end: Option<f64>,
    /// for how long its motor had run by then, s
    pub running: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
    /// when its oil was due for service, s; the clutch goes on
    pub service_due: Option<f64>,
    /// for how long its motor had run by then, s
    pub service_running: Option<f64>,
    /// share of the time followed during which its motor ran
    pub running_share: f64,
    /// remaining life, 1 − the largest use of a part, the oil set apart, at times up to the horizon, closer together at its start
    pub left: Vec<f64>,
    /// for each part when three quarters, half, a quarter and nothing of its life was left for the first time, whole s, as far
    /// as the clutch's way goes
    pub reached: Vec<Vec<f64>>,
    /// launches until then
    pub launches: u64,
    /// blocks run in full and skipped
    pub blocks: (u64, u64),
}

/// A time by which a share of the fleet is there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Milestone {
    /// B10, B50, B90
    pub name: String,
    /// s, with bounds that assume no distribution; none beyond the horizon, or for too few clutches
    pub time: Bounds,
}

/// How often a part is the first to fail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// the part; none of them lasted to the horizon
    pub part: Option<Part>,
    /// clutches
    pub clutches: u64,
    /// share of the fleet, with bounds
    pub share: f64,
    /// lower bound
    pub low: f64,
    /// upper bound
    pub high: f64,
}

impl Share {
    /// The part's name; "none" where none was worn out.
    pub fn name(&self) -> &'static str {
        self.part.map_or("none", Part::name)
    }
}

/// How a part's life runs out over a fleet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Wearing {
    /// the part
    pub part: Part,
    /// for three quarters, half, a quarter and nothing of its life left: by when a tenth, half and nine tenths of the
    /// clutches are there, s; none where that lies beyond the ways of too many
    pub times: [[Option<f64>; 3]; 4],
}

/// A fleet of one variant under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fleet {
    /// the machine
    pub variant: String,
    /// what it was put through
    pub duty: String,
    /// how far, s
    pub horizon: f64,
    /// what was drawn for each clutch
    pub uncertain: Vec<Uncertain>,
    /// share of the time during which the motor ran, mean over the clutches
    pub running_share: f64,
    /// hours of running to the service of the oil; a clutch that was worn out before counts as later
    pub service_running: Vec<Milestone>,
    /// the same by the calendar
    pub service: Vec<Milestone>,
    /// hours of running to the first worn part, the oil set apart
    pub end_running: Vec<Milestone>,
    /// the same by the calendar
    pub end: Vec<Milestone>,
    /// which part is first
    pub first: Vec<Share>,
    /// a Weibull distribution through the running times to the first worn part; none with fewer than three of them
    pub weibull: Option<Weibull>,
    /// whether that distribution may be used
    pub statement: String,
    /// times of the curves, s
    pub times: Vec<f64>,
    /// remaining life at those times: tenth, fiftieth and ninetieth of a hundred clutches
    pub bands: Vec<[f64; 3]>,
    /// the parts one by one
    pub wearing: Vec<Wearing>,
    /// each clutch
    pub outcomes: Vec<Outcome>,
}

/// All fleets of a study.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Report {
    /// which kind of document it is
    pub kind: Is<Report>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// the machine that the others are held against, where the script names one
    #[serde(default)]
    pub reference: Option<String>,
    /// clutches of each fleet
    pub clutches: u64,
    /// one for each variant and duty, clutch for clutch of the same draws
    pub fleets: Vec<Fleet>,
    /// every fleet but the first against the first, clutch for clutch
    pub pairs: Vec<Paired>,
    /// clutches that could not be computed: they are left out
    #[serde(default)]
    pub failed: Vec<Failed>,
}

impl Document for Report {
    const KIND: Kind = Kind::Fleet;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        filled(&self.fleets, "fleets")?;
        for fleet in &self.fleets {
            let of = |what: &str| format!("{what} of {}, {}", fleet.variant, fleet.duty);
            filled(&fleet.outcomes, &of("outcomes"))?;
            oil_apart(fleet.outcomes.iter().map(|o| o.ended_by), &of("outcomes.ended_by"))?;
            for (set, what) in [
                (&fleet.end, "end"),
                (&fleet.end_running, "end_running"),
                (&fleet.service, "service"),
                (&fleet.service_running, "service_running"),
            ] {
                filled(set, &of(what))?;
            }
            let times = fleet.times.len();
            require(times > 1 && fleet.bands.len() == times, &of("bands"), "it has not a row for each time")?;
            let left = fleet.outcomes.iter().all(|o| o.left.len() == times);
            require(left, &of("outcomes.left"), "it has not a value for each time")?;
            let curves = fleet
                .times
                .iter()
                .copied()
                .chain(fleet.bands.iter().flatten().copied())
                .chain([fleet.horizon, fleet.running_share]);
            sound(curves, &of("bands"))?;
            sound(
                fleet
                    .outcomes
                    .iter()
                    .flat_map(|o| [o.end, o.running, o.service_due, o.service_running, Some(o.running_share)])
                    .flatten(),
                &of("outcomes"),
            )?;
        }
        Ok(())
    }
}

impl Fleet {
    /// The same without its clutches.
    fn summary(&self) -> Self {
        Self {
            variant: self.variant.clone(),
            duty: self.duty.clone(),
            horizon: self.horizon,
            uncertain: self.uncertain.clone(),
            running_share: self.running_share,
            service_running: self.service_running.clone(),
            service: self.service.clone(),
            end_running: self.end_running.clone(),
            end: self.end.clone(),
            first: self.first.clone(),
            weibull: self.weibull,
            statement: self.statement.clone(),
            times: self.times.clone(),
            bands: self.bands.clone(),
            wearing: self.wearing.clone(),
            outcomes: vec![],
        }
    }
}

impl Report {
    /// The clutches that could not be computed, in a sentence; none where all could.
    pub fn left_out(&self) -> Option<String> {
        left_out(&self.failed, self.clutches * self.fleets.len() as u64, "clutches")
    }

    /// The same without the clutches, of which there may be very many.
    #[must_use]
    pub fn summary(&self) -> Self {
        Self {
            kind: self.kind,
            head: self.head.clone(),
            reference: self.reference.clone(),
            clutches: self.clutches,
            fleets: self.fleets.iter().map(Fleet::summary).collect(),
            pairs: self.pairs.clone(),
            failed: self.failed.clone(),
        }
    }
}

impl Outcome {
    /// The outcome of a run that was made so.
    pub fn of_run(clutch: u64, run: &Run, horizon: f64) -> Self {
        let way = run.horizon.clone().unwrap_or_default();
        Self::of(clutch, run.launches, &way, horizon)
    }

    /// The outcome of a run whose block was repeated up to a horizon, s.
    pub fn of(clutch: u64, launches: u64, way: &Horizon, horizon: f64) -> Self {
        // What lies beyond the time asked for was not asked for, even where a block reaches there.
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
                // Beyond its end a clutch has nothing left.
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
            launches,
            blocks: (way.blocks_run, way.blocks_skipped),
        }
    }
}

/// When a part's use first came to so much, whole s.
fn reached(way: &Horizon, part: usize, used: f64) -> Option<f64> {
    let k = way.points.iter().position(|point| point.used[part] >= used)?;
    let (a, b) = (&way.points[k.saturating_sub(1)], &way.points[k]);
    let rise = b.used[part] - a.used[part];
    let share = if rise > 0.0 { (used - a.used[part]) / rise } else { 1.0 };
    Some((a.time + share * (b.time - a.time)).round())
}

fn times(horizon: f64) -> Vec<f64> {
    (1..=POINTS).map(|k| horizon * (k as f64 / POINTS as f64).powi(2)).collect()
}

/// The distribution of the running times to the first worn part, and in words whether it may be used.
fn distribution(outcomes: &[Outcome], horizon: f64) -> (Option<Weibull>, String) {
    let failures: Vec<f64> = outcomes.iter().filter_map(|o| o.running).collect();
    let lasting = outcomes.iter().filter(|o| o.running.is_none());
    let censored: Vec<f64> = lasting.map(|o| horizon * o.running_share).collect();
    let weibull = fit(&failures, &censored, CONFIDENCE);
    let statement = match &weibull {
        None => "too few clutches wore a part out to fit a distribution".to_owned(),
        Some(w) => {
            let most = failures.iter().chain(&censored).copied().fold(0.0, f64::max);
            let scale = if w.scale > most {
                format!("characteristic life beyond the {} of running that were followed", time(most))
            } else {
                format!("characteristic life {} of running (63 % have worn a part out by then)", time(w.scale))
            };
            let ((low, high), fits) = (w.shape_bounds, w.fits(&failures, &censored));
            format!("Weibull: shape {:.2} ({low:.2} to {high:.2}), {scale}; {fits}", w.shape)
        }
    };
    (weibull, statement)
}

/// Brings the outcomes of one fleet together; without outcomes, a fleet of which nothing is known.
pub fn report(variant: &str, duty: &str, horizon: f64, uncertain: &[Uncertain], outcomes: Vec<Outcome>) -> Fleet {
    let milestones = |of: fn(&Outcome) -> Option<f64>| -> Vec<Milestone> {
        let all: Vec<Option<f64>> = outcomes.iter().map(of).collect();
        let at = |(name, share): &(&str, f64)| Milestone {
            name: (*name).to_owned(),
            time: percentile(&all, *share, CONFIDENCE),
        };
        [("B10", 0.1), ("B50", 0.5), ("B90", 0.9)].iter().map(at).collect()
    };
    let n = outcomes.len() as u64;
    let parts = Part::ALL.map(Some).into_iter().chain([None]);
    let first = parts
        .map(|part| {
            let clutches = outcomes.iter().filter(|o| o.ended_by == part).count() as u64;
            let crate::statistics::Share { share, low, high, .. } = share_of(clutches, n, CONFIDENCE);
            Share { part, clutches, share, low, high }
        })
        .filter(|s| s.clutches > 0)
        .collect();
    let (weibull, statement) = distribution(&outcomes, horizon);
    let times = if outcomes.is_empty() { vec![] } else { times(horizon) };
    let bands = (0..times.len())
        .map(|k| {
            let mut left: Vec<f64> = outcomes.iter().map(|o| o.left[k]).collect();
            left.sort_by(f64::total_cmp);
            [0.1, 0.5, 0.9].map(|share| {
                let at = share * (left.len() - 1) as f64;
                let (low, part) = (at.floor() as usize, at.fract());
                left[low] + part * (left[(low + 1).min(left.len() - 1)] - left[low])
            })
        })
        .collect();
    let wearing = Part::ALL.into_iter().map(|part| {
        let times = std::array::from_fn(|level| {
            let all: Vec<Option<f64>> =
                outcomes.iter().map(|o| o.reached.get(part as usize).and_then(|r| r.get(level).copied())).collect();
            [0.1, 0.5, 0.9].map(|share| percentile(&all, share, CONFIDENCE).estimate)
        });
        Wearing { part, times }
    });
    Fleet {
        wearing: wearing.collect(),
        variant: variant.to_owned(),
        duty: duty.to_owned(),
        horizon,
        uncertain: uncertain.to_vec(),
        running_share: if n == 0 { 1.0 } else { outcomes.iter().map(|o| o.running_share).sum::<f64>() / n as f64 },
        service_running: milestones(|o| o.service_running),
        service: milestones(|o| o.service_due),
        end_running: milestones(|o| o.running),
        end: milestones(|o| o.end),
        first,
        weibull,
        statement,
        times,
        bands,
        outcomes,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::LifePoint;

    #[test]
    fn a_part_that_is_renewed_has_reached_its_levels_when_it_first_did() {
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
    fn no_end_lies_beyond_the_time_asked_for() {
        // A block that reaches past the horizon: one part ends at 80 s, where only 50 s were asked for.
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
    fn the_oil_at_its_limit_is_a_service_and_the_first_worn_part_ends_a_clutch() {
        let at = |time: f64, lining: f64, oil: f64| LifePoint {
            time,
            running: 0.5 * time,
            used: vec![lining, 0.0, 0.0, 0.0, oil, 0.0, 0.0],
        };
        let mut way = Horizon {
            points: vec![at(0.0, 0.0, 0.0), at(50.0, 0.25, 1.0), at(200.0, 1.0, 1.5)],
            ends: vec![Some(200.0), None, None, None, Some(50.0), None, None],
            running: vec![Some(100.0), None, None, None, Some(25.0), None, None],
            service_due: Some(30.0),
            service_running: Some(15.0),
            ..Horizon::default()
        };
        let outcome = Outcome::of(0, 0, &way, 400.0);
        assert_eq!((outcome.end, outcome.running, outcome.ended_by), (Some(200.0), Some(100.0), Some(Part::Lining)));
        assert_eq!((outcome.service_due, outcome.service_running), (Some(30.0), Some(15.0)));
        assert_eq!(outcome.running_share, 0.5);
        // 400 (k/24)²: at 100 s, the twelfth point, half of the lining is left, (1 − 0.25) − (50/150) 0.75; no oil is.
        assert!((outcome.left[11] - 0.5).abs() < 1e-12, "{:?}", outcome.left);
        // Within the block in which a part wears out, the oil's limit that lies later is none of this clutch.
        way.service_due = Some(201.0);
        assert_eq!(Outcome::of(0, 0, &way, 400.0).service_running, None);
        way.ends[0] = None;
        let outcome = Outcome::of(0, 0, &way, 400.0);
        assert_eq!((outcome.end, outcome.ended_by, outcome.service_due), (None, None, Some(201.0)));
    }

    #[test]
    fn a_fleet_without_clutches_says_that_nothing_is_known() {
        let fleet = report("A", "rounds", 3600.0, &[], vec![]);
        let known = fleet.end.iter().chain(&fleet.service_running).filter(|m| m.time.estimate.is_some()).count();
        assert_eq!((known, fleet.first.len(), fleet.bands.len(), fleet.times.len()), (0, 0, 0, 0));
        assert!(fleet.weibull.is_none() && fleet.statement.starts_with("too few"), "{}", fleet.statement);
    }
}
