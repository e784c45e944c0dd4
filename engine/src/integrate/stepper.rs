//! The stepper: adaptive steps, from mode to mode.

mod crossing;
mod quadrature;
mod visits;

use self::quadrature::{add, add_all, count, counting};
pub(crate) use self::visits::FirstSteps;
use self::visits::{Expected, FIRST, FIRST_ALIKE, Visit};
use super::rodas::{A, ALPHA, C, DENSE, GAMMA, GAMMA_I, STAGES};
use super::sparse::{FIELD, Sparse};
use super::system::{Ended, Flow, Jacobian, Observer, Sizes, Step, Stuck, System, interpolate};
use super::{Rows, Work};
use std::collections::BTreeMap;

/// Number of steps over which progress is measured. The first FREE steps of a call are not counted.
const WATCHED: u64 = 50_000;
const FREE: u64 = 8;
/// Smallest acceptable mean step length, s. Stop-and-go riding, the busiest duty, averages half a second.
const LEAST_STEP: f64 = 3e-3;

/// Largest number of times in a row that a step shortened at an event is rejected for its balances.
const MOST_CUTS: u32 = 12;

/// A shorter step counts as helping if it reduces the error of the balances below this share of the former error.
const HELPED: f64 = 0.7;

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

    /// Makes a step with an acceptable error. Returns its length and the length to try next, s.
    fn controlled_step<S: System>(
        &mut self,
        system: &S,
        t: f64,
        remaining: f64,
        wanted: f64,
        y: &[f64],
    ) -> Result<(f64, f64), Stuck> {
        let mut length = wanted.min(self.longest);
        let mut rejected = false;
        let mut missed = f64::INFINITY;
        loop {
            let cut = length * 1.01 >= remaining;
            if cut {
                length = remaining;
            }
            let (mut error, mut worst) = self.attempt(system, t, length, y);
            if error <= 1.0 {
                self.count_up(length, y);
                let (missing, state) = system.imbalance(y, &self.next);
                let missing = missing / self.tolerance;
                if missing < HELPED * missed {
                    missed = missing;
                    (error, worst) = if missing > error { (missing, state) } else { (error, worst) };
                }
            }
            if error <= 1.0 {
                let growth = (0.9 / fourth_root(error.max(1e-8))).clamp(0.2, if rejected { 1.0 } else { 6.0 });
                let next = length * growth;
                return Ok((length, if cut { next.max(wanted.min(next * 4.0)) } else { next }));
            }
            self.work.rejected += 1;
            self.progress.worst = worst;
            rejected = true;
            length *= if error.is_finite() { (0.9 / fourth_root(error)).clamp(0.1, 0.9) } else { 0.1 };
            if length < 1e-13 * t.abs().max(1.0) {
                return Err(Stuck::NoProgress { state: worst, time: t });
            }
        }
    }

    /// Computes the stages of one step, and its states into `next`. Returns the error over the allowed error and the state with
    /// the largest error.
    fn attempt<S: System>(&mut self, system: &S, t: f64, h: f64, y: &[f64]) -> (f64, usize) {
        let (n, all) = (self.sizes.states, self.sizes.states + self.sizes.counters);
        let jacobian = &mut self.jacobians[self.kind];
        if !jacobian.states.factorise(1.0 / (h * GAMMA)) {
            return (f64::INFINITY, 0);
        }
        let over_h = 1.0 / h;
        for i in 0..STAGES {
            let (done, rest) = self.stages.split_at_mut(i);
            let field = &mut rest[0][..];
            let stage = &mut field[..all];
            if i == 0 {
                stage.copy_from_slice(&self.start_rates);
            } else {
                let trial = &mut self.trial[..n];
                if i < STAGES - 1 {
                    trial.copy_from_slice(&y[..n]);
                    add(trial, done, &A[i], 1.0);
                } else {
                    // The last stage is evaluated at the end of the stage before it.
                    add_all(trial, [&done[i - 1]], [1.0]);
                }
                system.rates(t + ALPHA[i] * h, trial, &self.slow_ahead, stage);
                add(&mut stage[..n], done, &C[i], over_h);
            }
            if self.driven {
                let slope = GAMMA_I[i] * h;
                for (s, d) in stage.iter_mut().zip(&self.slopes) {
                    *s += slope * d;
                }
            }
            jacobian.states.solve(field);
        }
        let last = &self.stages[STAGES - 1];
        for ((x, trial), u) in self.next[..n].iter_mut().zip(&self.trial).zip(last) {
            *x = trial + u;
        }
        let allowed = 1.0 / self.tolerance;
        let errors = || last.iter().zip(system.abs_tol()).map(|(u, w)| u.abs() / w);
        let (largest, sum) = errors().fold((0.0_f64, 0.0), |(m, s), e| (if e > m { e } else { m }, s + e));
        let error = if f64::is_finite(sum) { largest * allowed } else { f64::INFINITY };
        if error <= 1.0 {
            return (error, 0);
        }
        let worst = errors().position(|e| if sum.is_finite() { e == largest } else { !e.is_finite() });
        (error, worst.unwrap_or(0))
    }

    /// Adds what the present step counts to the counters in `next`.
    fn count_up(&mut self, h: f64, y: &[f64]) {
        let n = self.sizes.states;
        let out = &mut self.next[n..];
        out.copy_from_slice(&y[n..n + out.len()]);
        count(&self.stages, &self.jacobians[self.kind].counters, &self.counting[0], h, n, out);
    }

    /// Computes the dense output of the step and the states in its middle.
    fn prepare_middle(&mut self, y: &[f64]) {
        let n = self.sizes.states;
        for (coefficients, out) in DENSE.iter().zip(&mut self.dense) {
            out.fill(0.0);
            add(&mut out[..n], &self.stages[..STAGES - 1], coefficients, 1.0);
        }
        interpolate(cubic(&self.dense), &y[..n], &self.next[..n], 0.5, &mut self.middle);
    }
}

fn cubic([first, second]: &[Vec<f64>; 2]) -> [&[f64]; 2] {
    [first, second]
}

fn fourth_root(x: f64) -> f64 {
    x.sqrt().sqrt()
}
