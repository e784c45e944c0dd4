//! One step: its stages, its error, and attempts at shorter ones until the error is allowed.

use super::super::rodas::{A, ALPHA, C, DENSE, GAMMA, GAMMA_I, STAGES};
use super::super::system::{Stuck, System, interpolate};
use super::quadrature::{add, add_all, count};
use super::{Stepper, cubic};

/// A shorter step counts as helping if it reduces the error of the balances below this share of the former error.
const HELPED: f64 = 0.7;

impl Stepper {
    /// Makes a step with an acceptable error. Returns its length and the length to try next, s.
    pub(super) fn controlled_step<S: System>(
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
    pub(super) fn attempt<S: System>(&mut self, system: &S, t: f64, h: f64, y: &[f64]) -> (f64, usize) {
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
    pub(super) fn count_up(&mut self, h: f64, y: &[f64]) {
        let n = self.sizes.states;
        let out = &mut self.next[n..];
        out.copy_from_slice(&y[n..n + out.len()]);
        count(&self.stages, &self.jacobians[self.kind].counters, &self.counting[0], h, n, out);
    }

    /// Computes the dense output of the step and the states in its middle.
    pub(super) fn prepare_middle(&mut self, y: &[f64]) {
        let n = self.sizes.states;
        for (coefficients, out) in DENSE.iter().zip(&mut self.dense) {
            out.fill(0.0);
            add(&mut out[..n], &self.stages[..STAGES - 1], coefficients, 1.0);
        }
        interpolate(cubic(&self.dense), &y[..n], &self.next[..n], 0.5, &mut self.middle);
    }
}

fn fourth_root(x: f64) -> f64 {
    x.sqrt().sqrt()
}
