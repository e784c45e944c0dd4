//! Life of a full bushing in a use: outing by outing, with jumps over outings of equal loss.

use super::wish::Wish;
use crate::document::oil_plan::Lasts;
use crate::duty::{End, Segment, Service, Task};
use crate::laws::bearing::{GRABS, SQUEALS};
use crate::names::{Channel, LeakCase, Part};
use crate::parts::{Machine, Oiling};
use crate::simulate::carried::{GREASE, LINING, OIL, OXIDATION, SCORE, WASHER};
use crate::simulate::{Failure, Options, Simulation};

/// Longest simulated time, outings: ten years of daily outings.
const OUTINGS: f64 = 3653.0;
/// Largest number of outings simulated until the bushing runs dry, if service is due within the first.
const TO_THE_END: f64 = 20.0;
/// Limits for equal losses of two successive outings: this relative difference, or this share of a full bushing.
const ALIKE: (f64, f64) = (0.05, 5e-5);
/// Shortest jump worth the two outings after it, and largest ratio of successive jumps.
const SHORTEST: f64 = 3.0;
const GROWTH: f64 = 1.6;
/// Largest change by one jump: share of the full bushing's oil, of the grease and of its remainder, of the oil's life,
/// of a worn part.
const OF_OIL: f64 = 0.025;
const OF_GREASE: (f64, f64) = (0.1, 0.5);
/// Share of its grease below which a bushing leaks as one without.
const NO_GREASE: f64 = 1e-3;
const OF_LIFE: f64 = 0.05;
const OF_PART: f64 = 0.1;
const OF_SCORE: f64 = 0.02;

/// A case of how long a full bushing lasts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Case {
    /// its name
    pub name: LeakCase,
    /// end leakage, 1/s
    pub leak: f64,
    /// life of the oil in heat, at 100 °C, s
    pub oil_life: f64,
    /// grease in the grooves, m³ of oil
    pub grease: f64,
}

impl Case {
    /// A machine as it is set, without grease.
    pub fn as_set(machine: &Machine) -> Self {
        let Oiling { leak, oxidation_life, .. } = machine.oiling;
        Self { name: LeakCase::AsSet, leak, oil_life: oxidation_life, grease: 0.0 }
    }
}

/// A machine during its outings.
struct Way<'a> {
    sim: Simulation,
    wish: &'a Wish,
    grease: f64,
    outings: f64,
    /// riding time so far and of the last outing, s
    riding: f64,
    ridden: f64,
    fill: Vec<(f64, f64)>,
    due: Option<f64>,
    end: Option<f64>,
    scored: Option<f64>,
}

impl<'a> Way<'a> {
    fn new(wish: &'a Wish, case: &Case) -> Result<Self, Failure> {
        let mut machine = wish.machine.clone();
        (machine.oiling.leak, machine.oiling.oxidation_life) = (case.leak, case.oil_life);
        let mut sim = Simulation::new(machine, Options::UNRECORDED)?;
        if case.grease > 0.0 {
            sim.perform(&Segment::Service(Service::Grease(case.grease)))?;
        }
        let grease = sim.slow()[GREASE];
        let fill = vec![(0.0, 1.0)];
        Ok(Self { sim, wish, grease, outings: 0.0, riding: 0.0, ridden: 0.0, fill, due: None, end: None, scored: None })
    }

    fn level(&self) -> f64 {
        self.sim.reading(Channel::OilFill).max(0.0)
    }

    /// Fill levels of service and end.
    fn levels(&self) -> [f64; 2] {
        let limits = &self.wish.machine.limits;
        [limits.oil_service, limits.oil_end]
    }

    fn score(&self) -> f64 {
        self.sim.slow()[SCORE]
    }

    /// A bushing that begins to squeal is due for service, whatever its fill; one that grabs its shaft has come to its end.
    fn squeal(&mut self, before: (f64, f64), after: (f64, f64)) {
        let falls = |level: f64| crossed(-level, (before.0, -before.1), (after.0, -after.1));
        let squeals = falls(SQUEALS);
        self.scored = self.scored.or(squeals);
        self.pass([squeals, falls(GRABS)]);
    }

    /// Stores the times at which the levels were first crossed.
    fn pass(&mut self, [service, end]: [Option<f64>; 2]) {
        self.due = self.due.or(service);
        self.end = self.end.or(end);
    }

    /// One outing in full, period by period, then rest with the motor off. A level counts as crossed, from the time
    /// when the fill first fell to it, if the fill is below it after the rest: oil driven out by warmth is drawn in
    /// again by cooling.
    fn outing(&mut self) -> Result<(), Failure> {
        let start = self.sim.clock();
        let mut last = (self.riding, self.level());
        let mut scored = (self.riding, self.score());
        let mut passed = [None; 2];
        while self.sim.clock() - start < self.wish.riding - 1e-6 {
            let before = self.sim.clock();
            self.wish.usage.ride(&mut self.sim, 1e-3)?;
            self.sim.going()?;
            let now = (self.riding + self.sim.clock() - start, self.level());
            for (passed, level) in passed.iter_mut().zip(self.levels()) {
                *passed = passed.or(crossed(level, last, now));
            }
            last = now;
            let score = (now.0, self.score());
            self.squeal(scored, score);
            scored = score;
            if self.sim.clock() <= before {
                break;
            }
        }
        self.ridden = self.sim.clock() - start;
        self.riding += self.ridden;
        self.outings += 1.0;
        self.sim.perform(&Segment::Ride(Task::Off, End::After(self.wish.rest)))?;
        let rested = self.level();
        let [service, end] = self.levels();
        let still = |passed: Option<f64>, level: f64| (rested <= level).then(|| passed.unwrap_or(self.riding));
        self.pass([still(passed[0], service), still(passed[1], end)]);
        self.fill.push((self.riding, rested));
        self.renew()
    }

    /// Renews worn linings and washers: only the oil is of interest.
    fn renew(&mut self) -> Result<(), Failure> {
        let slow = self.sim.slow();
        let left = self.left();
        if slow[LINING] >= left.0 {
            self.sim.perform(&Segment::Service(Service::New(Part::Lining)))?;
        }
        if slow[WASHER] >= left.1 {
            self.sim.perform(&Segment::Service(Service::New(Part::Washer)))?;
        }
        Ok(())
    }

    /// Remaining depths of linings and washers.
    fn left(&self) -> (f64, f64) {
        let m = &self.wish.machine;
        (m.lining.thickness - m.limits.lining, m.washer.thickness - m.limits.washer)
    }

    /// Number of outings that may be skipped, for these changes of the slow quantities per outing.
    fn jump(&self, slow: &[f64], step: &[f64], longest: f64) -> f64 {
        let full = self.sim.full_mass();
        let left = self.left();
        let over = |room: f64, rate: f64| room / rate.abs().max(1e-30);
        let to_due = (self.level() - self.wish.machine.limits.oil_service) * full;
        let grease = (OF_GREASE.0 * self.grease).min(OF_GREASE.1 * slow[GREASE]);
        let bounds = [
            longest,
            0.1 * OUTINGS,
            OUTINGS - self.outings,
            over(OF_OIL * full, step[OIL]),
            if step[OIL] < 0.0 { over(to_due, step[OIL]) - 2.0 } else { f64::INFINITY },
            if slow[GREASE] > NO_GREASE * self.grease { over(grease, step[GREASE]) } else { f64::INFINITY },
            over(OF_LIFE, step[OXIDATION]),
            over(OF_SCORE, step[SCORE]),
            over((OF_PART * left.0).min(left.0 - slow[LINING]), step[LINING]),
            over((OF_PART * left.1).min(left.1 - slow[WASHER]), step[WASHER]),
        ];
        bounds.into_iter().fold(f64::INFINITY, f64::min).floor()
    }

    /// Whether the simulation is complete.
    fn over(&self) -> bool {
        let limits = &self.wish.machine.limits;
        let first = self.due.is_some_and(|due| due <= self.first());
        let done = if first { self.end.is_some() || self.outings >= TO_THE_END } else { self.due.is_some() };
        done || self.level() < limits.oil_end || self.outings >= OUTINGS
    }

    /// Riding time of the first outing, s.
    fn first(&self) -> f64 {
        self.fill.get(1).map_or(0.0, |point| point.0)
    }
}

/// Time at which a fill falls to a level between two of its values, by linear interpolation.
pub(super) fn crossed(level: f64, (from, before): (f64, f64), (until, after): (f64, f64)) -> Option<f64> {
    (before > level && after <= level).then(|| from + (until - from) * (before - level) / (before - after))
}

/// Simulates the oil fill in a case from full to service, or to dry if service is
/// due within the first outing. Outings are simulated in full until two in a row lose the same. Then several are
/// skipped, by the change over one of them and its change since the last jump, and two are simulated in full again.
pub fn lasts(wish: &Wish, case: Case) -> Result<Lasts, Failure> {
    let mut way = Way::new(wish, &case)?;
    let full = way.sim.full_mass();
    let (mut last, mut longest) = (None::<f64>, SHORTEST);
    let mut earlier: Option<(f64, Vec<f64>)> = None;
    let mut ages = 0.0;
    while !way.over() {
        let before = way.sim.slow();
        way.outing()?;
        if way.outings == 1.0 {
            ages = way.sim.slow()[OXIDATION] / way.riding.max(1.0);
        }
        let now = way.sim.slow();
        let step: Vec<f64> = now.iter().zip(&before).map(|(n, b)| n - b).collect();
        let alike = |lost: f64| (lost - step[OIL]).abs() <= (ALIKE.0 * step[OIL].abs()).max(ALIKE.1 * full);
        let settled = last.is_some_and(alike);
        last = Some(step[OIL]);
        if !settled || way.over() {
            continue;
        }
        let n = way.jump(&now, &step, longest);
        if n < SHORTEST {
            continue;
        }
        // Change over one outing halfway along the jump, extrapolated from its change since the last jump.
        let at = way.outings - 0.5;
        let middle = |k: usize| {
            let bend = earlier.as_ref().map_or(0.0, |(then, was)| (step[k] - was[k]) / (at - then).max(1.0));
            let bent = 0.5 * (n + 1.0) * bend;
            step[k] + bent.clamp(-0.5 * step[k].abs(), 0.5 * step[k].abs())
        };
        let ahead: Vec<f64> = now.iter().enumerate().map(|(k, value)| value + n * middle(k)).collect();
        let from = (way.riding, way.level());
        let scored = (way.riding, way.score());
        way.sim.carry(&ahead);
        way.outings += n;
        way.riding += n * way.ridden;
        let until = (way.riding, way.level());
        way.pass(way.levels().map(|level| crossed(level, from, until)));
        way.squeal(scored, (way.riding, way.score()));
        way.fill.push(until);
        way.renew()?;
        (earlier, last, longest) = (Some((at, step)), None, GROWTH * n);
    }
    Ok(Lasts {
        name: case.name,
        leak: case.leak,
        oil_life: case.oil_life,
        grease: case.grease,
        outing: way.first(),
        ages,
        fill: way.fill,
        due: way.due,
        end: way.end,
        scored: way.scored,
    })
}
