//! Quadrature: what rates add up to over a step, for counters with the stages' own order and for slow quantities by Simpson's rule.

use super::super::Rows;
use super::super::rodas::{A, C, DENSE, GAMMA, STAGES};
use super::super::sparse::FIELD;
use super::super::system::{Stuck, System, interpolate};
use super::{Stepper, cubic};

/// A rate bends within a step if Simpson's rule differs from the middle's value by more than this share of the rate.
const BENT: f64 = 0.01;
/// Change of the rule at which its pieces are short enough, relative to the rate, and largest number of pieces.
const CHANGED: f64 = 0.002;
const MOST_PIECES: u32 = 16;

impl Stepper {
    /// Advances the slow quantities to the end of the step.
    pub(super) fn finish_step<S: System>(
        &mut self,
        system: &mut S,
        t: f64,
        h: f64,
        y: &[f64],
        slow: &mut [f64],
    ) -> Result<(), Stuck> {
        let n = self.sizes.states;
        system.bound(y, &mut self.next, &mut self.middle);
        // Wear depends on ageing: with the age at the start of the step the error would be of first order.
        self.slow_on_the_way.copy_from_slice(slow);
        system.slow_advance(&mut self.slow_on_the_way, &self.slow_start, 0.5 * h);
        system.slow_rates(t + 0.5 * h, &self.middle, &self.slow_on_the_way, &mut self.slow_middle);
        self.slow_on_the_way.copy_from_slice(slow);
        system.slow_advance(&mut self.slow_on_the_way, &self.slow_middle, h);
        system.slow_rates(t + h, &self.next[..n], &self.slow_on_the_way, &mut self.slow_end);
        self.sum_up(system, t, h, y, slow);
        self.slow_before.copy_from_slice(slow);
        system.slow_advance(slow, &self.slow_middle, h);
        if let Some(state) = self.next.iter().position(|x| !x.is_finite()) {
            return Err(Stuck::NotFinite { state, time: t });
        }
        Ok(())
    }

    /// Mean slow rates of the step, from those at its start, middle and end, into `slow_middle`: by Simpson's rule, with its
    /// pieces halved until it changes by little if a rate bends within the step.
    fn sum_up<S: System>(&mut self, system: &S, t: f64, h: f64, y: &[f64], slow: &[f64]) {
        let n = self.sizes.states;
        self.slow_odd.copy_from_slice(&self.slow_middle);
        self.slow_even.fill(0.0);
        let mut bends = false;
        for ((m, s), e) in self.slow_middle.iter_mut().zip(&self.slow_start).zip(&self.slow_end) {
            let sum = s + 4.0 * *m + e;
            bends |= (s - 2.0 * *m + e).abs() > BENT * sum.abs();
            *m = sum / 6.0;
        }
        let mut pieces = 1;
        while bends && pieces < MOST_PIECES {
            for (even, odd) in self.slow_even.iter_mut().zip(&mut self.slow_odd) {
                *even += std::mem::take(odd);
            }
            pieces *= 2;
            for k in 0..pieces {
                let share = (f64::from(k) + 0.5) / f64::from(pieces);
                interpolate(cubic(&self.dense), &y[..n], &self.next[..n], share, &mut self.trial[..n]);
                self.slow_on_the_way.copy_from_slice(slow);
                system.slow_advance(&mut self.slow_on_the_way, &self.slow_middle, share * h);
                system.slow_rates(t + share * h, &self.trial[..n], &self.slow_on_the_way, &mut self.slow_inside);
                for (odd, rate) in self.slow_odd.iter_mut().zip(&self.slow_inside) {
                    *odd += rate;
                }
            }
            bends = false;
            for (k, m) in self.slow_middle.iter_mut().enumerate() {
                let sum = self.slow_start[k] + self.slow_end[k] + 2.0 * self.slow_even[k] + 4.0 * self.slow_odd[k];
                let found = sum / f64::from(6 * pieces);
                bends |= (found - *m).abs() > CHANGED * found.abs();
                *m = found + (found - *m) / 15.0;
            }
        }
    }
}

/// Adds to counters what the stages count, by the weights of a sum of stages.
///
/// Since no rate depends on a counter, its stages need not be solved for one by one: the sum is one of its rates at the
/// stages, and of one product of its slopes with a sum of the states' stages. It is the same to rounding.
pub(super) fn count(
    stages: &[Vec<f64>; STAGES],
    slopes: &Rows,
    weights: &[f64; STAGES],
    h: f64,
    n: usize,
    out: &mut [f64],
) {
    let mut sum = [0.0; FIELD];
    let sum = &mut sum[..n + out.len()];
    add_all(sum, stages.each_ref(), *weights);
    let (moved, counted) = sum.split_at(n);
    for (x, rates) in out.iter_mut().zip(counted) {
        *x += h * rates;
    }
    slopes.add_products(moved, h, out);
}

/// Weights w of the stages of a pure integral c, for the step or a row of its dense output, with weights m of the states:
/// ```text
/// Δc = h Σ w_i (g_i + J_c u_i),   w_i = γ (m_i + Σ_{k>i} c_ki w_k)
/// ```
/// which is Σ m_i u_ci with each u_ci = h γ (g_i + J_c u_i) + γ Σ_j c_ij u_cj.
pub(super) fn counting(row: usize) -> [f64; STAGES] {
    let sums: &[f64] = if row == 0 { &A[STAGES - 1] } else { &DENSE[row - 1] };
    let mut w = [0.0; STAGES];
    for i in (0..STAGES).rev() {
        let own = sums.get(i).copied().unwrap_or(if row == 0 { 1.0 } else { 0.0 });
        w[i] = GAMMA * (own + (i + 1..STAGES).map(|k| C[k][i] * w[k]).sum::<f64>());
    }
    w
}

/// Adds the stages done so far, each times its coefficient and the scale.
pub(super) fn add(out: &mut [f64], done: &[Vec<f64>], coefficients: &[f64; STAGES - 1], scale: f64) {
    let c = coefficients.map(|c| c * scale);
    match done {
        [a] => add_all(out, [a], [c[0]]),
        [a, b] => add_all(out, [a, b], [c[0], c[1]]),
        [a, b, d] => add_all(out, [a, b, d], [c[0], c[1], c[2]]),
        [a, b, d, e] => add_all(out, [a, b, d, e], [c[0], c[1], c[2], c[3]]),
        [a, b, d, e, f] => add_all(out, [a, b, d, e, f], c),
        _ => {}
    }
}

/// Adds K slices, each times its coefficient, in one pass.
pub(super) fn add_all<const K: usize>(out: &mut [f64], slices: [&Vec<f64>; K], coefficients: [f64; K]) {
    let slices = slices.map(|s| &s[..out.len()]);
    for (k, x) in out.iter_mut().enumerate() {
        let mut sum = *x;
        for (s, c) in slices.iter().zip(coefficients) {
            sum += c * s[k];
        }
        *x = sum;
    }
}
