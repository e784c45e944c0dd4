//! The stepper: adaptive steps, from mode to mode.

mod attempt;
mod crossing;
mod quadrature;
mod visits;

use self::quadrature::counting;
pub(crate) use self::visits::FirstSteps;
use self::visits::{Expected, FIRST, FIRST_ALIKE, Visit};
use super::rodas::STAGES;
use super::sparse::{FIELD, Sparse};
use super::system::{Ended, Flow, Jacobian, Observer, Sizes, Step, Stuck, System};
use super::{Rows, Work};
use std::collections::BTreeMap;

/// Number of steps over which progress is measured. The first FREE steps of a call are not counted.
const WATCHED: u64 = 50_000;
const FREE: u64 = 8;
/// Smallest acceptable mean step length, s. Stop-and-go riding, the busiest duty, averages half a second.
const LEAST_STEP: f64 = 3e-3;

/// Largest number of times in a row that a step shortened at an event is rejected for its balances.
const MOST_CUTS: u32 = 12;

/// Steps tried since progress was last measured, and the time they covered.
#[derive(Clone, Copy, Debug, Default)]
struct Progress {
    attempts: u64,
    /// s
    time: f64,
    /// state with the largest error in the latest rejected step
    worst: usize,
}

/// Steps a system through time.
pub struct Stepper {
    sizes: Sizes,
    /// one for each kind of mode
    jacobians: Vec<Jacobian>,
    kind: usize,
    stages: [Vec<f64>; STAGES],
    /// weights of the stages in a step of the counters and in their dense output
    counting: [[f64; STAGES]; 3],
    start_rates: Vec<f64>,
    slopes: Vec<f64>,
    driven: bool,
    dense: [Vec<f64>; 2],
    trial: Vec<f64>,
    next: Vec<f64>,
    middle: Vec<f64>,
    slow_before: Vec<f64>,
    slow_start: Vec<f64>,
    slow_middle: Vec<f64>,
    slow_end: Vec<f64>,
    slow_on_the_way: Vec<f64>,
    slow_inside: Vec<f64>,
    /// sums of the slow rates at the points that Simpson's rule takes twice and four times
    slow_even: Vec<f64>,
    slow_odd: Vec<f64>,
    /// slow quantities foreseen for the middle of the step, on which its rates depend
    slow_ahead: Vec<f64>,
    guards: [Vec<f64>; 3],
    inside: Vec<f64>,
    visits: BTreeMap<u64, Visit>,
    progress: Progress,
    /// whether first steps lengthen slowly from visit to visit of a mode, as skipped blocks need, which have to be alike
    pub(crate) alike: bool,
    /// error allowed, relative to the system's absolute tolerances
    pub tolerance: f64,
    /// longest step, s
    pub longest: f64,
    /// work done
    pub work: Work,
}

impl Stepper {
    /// A stepper for this system at a tolerance relative to its absolute tolerances.
    pub fn new(system: &impl System, tolerance: f64) -> Self {
        let sizes = system.sizes();
        let (n, all) = (sizes.states, sizes.states + sizes.counters);
        let zeros = |n| vec![0.0; n];
        let of = |(states, counters)| Jacobian {
            states: Sparse::new(n, states),
            counters: Rows::new(sizes.counters, n, counters),
        };
        let field = all.max(FIELD);
        let mut made = Self {
            sizes,
            jacobians: system.patterns().into_iter().map(of).collect(),
            kind: 0,
            stages: std::array::from_fn(|_| zeros(field)),
            counting: std::array::from_fn(counting),
            start_rates: zeros(all),
            slopes: zeros(n),
            driven: false,
            dense: [zeros(all), zeros(all)],
            trial: zeros(all),
            next: zeros(all),
            middle: zeros(n),
            slow_before: zeros(sizes.slow),
            slow_start: zeros(sizes.slow),
            slow_middle: zeros(sizes.slow),
            slow_end: zeros(sizes.slow),
            slow_on_the_way: zeros(sizes.slow),
            slow_inside: zeros(sizes.slow),
            slow_even: zeros(sizes.slow),
            slow_odd: zeros(sizes.slow),
            slow_ahead: zeros(sizes.slow),
            guards: [zeros(sizes.guards), zeros(sizes.guards), zeros(sizes.guards)],
            inside: zeros(sizes.guards),
            visits: BTreeMap::new(),
            progress: Progress::default(),
            alike: false,
            tolerance,
            longest: f64::INFINITY,
            work: Work::default(),
        };
        made.refresh(system);
        made
    }

    /// Recomputes the constant slopes, after the system was changed.
    pub fn refresh(&mut self, system: &impl System) {
        for jacobian in &mut self.jacobians {
            jacobian.forget();
            system.constant_slopes(jacobian);
            jacobian.keep();
        }
    }

    /// Steps from `t` to `end`, or until an event stops it, with an observer of each step. `y` holds states, then counters.
    pub fn advance<S: System>(
        &mut self,
        system: &mut S,
        t: &mut f64,
        end: f64,
        y: &mut [f64],
        slow: &mut [f64],
        observer: &mut impl Observer<S>,
    ) -> Result<Ended, Stuck> {
        let n = self.sizes.states;
        let mut quiet_since = *t;
        let mut chatter = 0;
        let mut free = FREE;
        'mode: loop {
            let mode = system.mode();
            self.kind = system.kind();
            let began = *t;
            let visit = self.visits.get(&mode).copied();
            let expected = Expected::at(began, visit);
            let mut length = visit.map_or(if self.alike { FIRST_ALIKE } else { FIRST }, |v| v.first_step);
            let mut recut = 0;
            system.slow_rates(*t, &y[..n], slow, &mut self.slow_start);
            system.guards(*t, &y[..n], slow, &mut self.guards[0]);
            while end - *t > 1e-12 * end.abs().max(1.0) {
                self.foresee(system, expected.aimed(*t, length).min(end - *t), slow);
                system.rates(*t, &y[..n], &self.slow_ahead, &mut self.start_rates);
                self.linearise(system, *t, y)?;
                let remaining = end - *t;
                let tried = expected.aimed(*t, length);
                let refused = self.work.rejected;
                let (taken, wanted) = self.controlled_step(system, *t, remaining, tried, y)?;
                let attempts = 1 + self.work.rejected - refused;
                let spared = attempts.min(free);
                free -= spared;
                self.watch(attempts - spared, taken, *t)?;
                if *t == began {
                    let most = if self.alike { 2.0 * taken } else { wanted };
                    let first_step = wanted.min(most).max(taken * 0.5);
                    self.visits.insert(mode, Visit { first_step, lasted: None });
                }
                length = wanted;
                let mut crossing = self.crossing(system, *t, taken, y, slow);
                let mut taken = taken;
                if let Some((guard, share)) = &mut crossing
                    && *share < 1.0
                {
                    (*guard, taken) = self.cut(system, (*guard, *share), *t, taken, y, slow);
                    // The whole step kept its balances; its shortened part need not.
                    if recut < MOST_CUTS && system.imbalance(y, &self.next).0 > self.tolerance {
                        recut += 1;
                        self.work.rejected += 1;
                        length = 0.5 * taken;
                        continue;
                    }
                }
                recut = 0;
                self.finish_step(system, *t, taken, y, slow)?;
                let step = Step {
                    start: *t,
                    length: taken,
                    before: &y[..n],
                    after: &self.next[..n],
                    middle: &self.middle,
                    counters_before: &y[n..],
                    counters: &self.next[n..],
                    dense: cubic(&self.dense),
                    slow_before: &self.slow_before,
                    slow_rates: &self.slow_middle,
                    slow_ends: [&self.slow_start, &self.slow_end],
                    slow,
                };
                system.accepted(&step);
                observer.saw(system, &step);
                y[..self.next.len()].copy_from_slice(&self.next);
                *t = if (*t + taken - end).abs() <= 1e-12 * end.abs().max(1.0) { end } else { *t + taken };
                self.work.steps += 1;
                std::mem::swap(&mut self.slow_start, &mut self.slow_end);
                if let Some((guard, _)) = crossing {
                    if let Some(visit) = self.visits.get_mut(&mode) {
                        visit.lasted = Some(*t - began);
                    }
                    self.work.events += 1;
                    chatter = if *t - quiet_since < 1e-6 { chatter + 1 } else { 0 };
                    quiet_since = if chatter == 0 { *t } else { quiet_since };
                    if chatter > 40 {
                        return Err(Stuck::Chatter { guard, time: *t });
                    }
                    let flow = system.cross(guard, *t, y, slow);
                    if flow == Flow::Stop {
                        return Ok(Ended::AtEvent(guard));
                    }
                    continue 'mode;
                }
                self.guards.swap(0, 2);
            }
            return Ok(Ended::InTime);
        }
    }

    /// Fails if many steps make almost no progress.
    fn watch(&mut self, attempts: u64, taken: f64, time: f64) -> Result<(), Stuck> {
        let seen = &mut self.progress;
        seen.attempts += attempts;
        seen.time += taken;
        if seen.attempts < WATCHED {
            return Ok(());
        }
        let Progress { attempts, time: progress, worst: state } = std::mem::take(seen);
        let step = progress / attempts as f64;
        if step < LEAST_STEP { Err(Stuck::Crawls { state, time, attempts, progress, step }) } else { Ok(()) }
    }

    /// Foresees the slow quantities in the middle of a step of this length. With those of its start the error would be of
    /// first order.
    fn foresee<S: System>(&mut self, system: &S, length: f64, slow: &[f64]) {
        self.slow_ahead.copy_from_slice(slow);
        system.slow_advance(&mut self.slow_ahead, &self.slow_start, 0.5 * length.clamp(0.0, self.longest));
    }

    fn linearise<S: System>(&mut self, system: &S, t: f64, y: &[f64]) -> Result<(), Stuck> {
        let n = self.sizes.states;
        if let Some(state) = self.start_rates.iter().position(|r| !r.is_finite()) {
            return Err(Stuck::NotFinite { state, time: t });
        }
        let jacobian = &mut self.jacobians[self.kind];
        jacobian.clear();
        system.jacobian(t, &y[..n], &self.slow_ahead, &self.start_rates, jacobian);
        self.driven = system.time_slopes(t, &y[..n], &self.slow_ahead, &mut self.slopes);
        Ok(())
    }
}

fn cubic([first, second]: &[Vec<f64>; 2]) -> [&[f64]; 2] {
    [first, second]
}
