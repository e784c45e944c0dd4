//! Events: the guard that falls through zero first within a step, and the step shortened to it.

use super::super::system::{System, interpolate};
use super::quadrature::count;
use super::{Stepper, cubic};

/// A step is shortened on its own dense output to an event beyond this share of its length: the error of that cubic is of
/// the order of the one that is controlled. To an earlier event, near which the cubic may be less steep than the states,
/// it is computed anew.
const ON_DENSE: f64 = 0.5;

/// Share of a step computed anew by which it may end beside its event.
const NEAR: f64 = 1e-3;

/// Largest number of times that a step is computed anew for an event: two may jump where the step begins.
const MOST_ANEW: u32 = 8;

/// Share of a step after which a guard counts as fallen if it begins at zero and is not seen to rise.
const SOON: f64 = 1.0 / 64.0;

impl Stepper {
    /// The earliest guard that falls through zero within the step, and the share of the step at which it does.
    pub(super) fn crossing<S: System>(
        &mut self,
        system: &S,
        t: f64,
        h: f64,
        y: &[f64],
        slow: &[f64],
    ) -> Option<(usize, f64)> {
        let n = self.sizes.states;
        self.prepare_middle(y);
        let Self { dense, middle, next, guards: [before, half, after], inside, trial, .. } = self;
        system.guards(t + 0.5 * h, middle, slow, half);
        system.guards(t + h, &next[..n], slow, after);
        let mut earliest: Option<(usize, f64)> = None;
        for g in 0..before.len() {
            let (g0, gm, g1) = (before[g], half[g], after[g]);
            let mut at = |s: f64| {
                interpolate(cubic(dense), &y[..n], &next[..n], s, &mut trial[..n]);
                system.guards(t + s * h, trial, slow, inside);
                inside[g]
            };
            let share = if gm > 0.0 && g1 <= 0.0 {
                falling_root((0.5, gm), (1.0, g1), at)
            } else if g0 > 0.0 && gm <= 0.0 {
                falling_root((0.0, g0), (0.5, gm), at)
            } else if g0 <= 0.0 && g1 < g0 {
                // It begins at zero and may have risen first, for too short a time to be seen in a step of this length.
                let high = turn(g0, gm, g1).map(|s| (s, at(s))).filter(|high| high.1 > 0.0);
                high.map_or(SOON, |high| falling_root(high, (0.5, gm), at))
            } else {
                continue;
            };
            if earliest.is_none_or(|(_, s)| share < s) {
                earliest = Some((g, share));
            }
        }
        earliest
    }

    /// Shortens the present step to a crossing. A step computed anew may pass another event before, and then is shortened to
    /// that: its guard, once below zero, would be seen only at the end of the next step. Returns the guard that falls at the
    /// end, and the length, s.
    pub(super) fn cut<S: System>(
        &mut self,
        system: &S,
        (mut guard, mut share): (usize, f64),
        t: f64,
        mut h: f64,
        y: &[f64],
        slow: &[f64],
    ) -> (usize, f64) {
        for _ in 0..MOST_ANEW {
            if share > ON_DENSE {
                return (guard, self.cut_on_dense(share, h, y));
            }
            h *= share;
            self.attempt(system, t, h, y);
            let mut passed = self.crossing(system, t, h, y, slow);
            let [_, half, after] = &self.guards;
            let missed = after[guard] / (half[guard] - after[guard]) * 0.5;
            if missed.abs() > NEAR && missed.abs() < 0.5 {
                h += missed * h;
                self.attempt(system, t, h, y);
                passed = self.crossing(system, t, h, y, slow);
            }
            self.count_up(h, y);
            match passed {
                Some((other, at)) if other != guard && at < 1.0 => (guard, share) = (other, at),
                _ => break,
            }
        }
        (guard, h)
    }

    /// Shortens the present step to a share of its length, on its dense output.
    fn cut_on_dense(&mut self, share: f64, h: f64, y: &[f64]) -> f64 {
        let n = self.sizes.states;
        for (weights, out) in self.counting[1..].iter().zip(&mut self.dense) {
            count(&self.stages, &self.jacobians[self.kind].counters, weights, h, n, &mut out[n..]);
        }
        interpolate(cubic(&self.dense), &y[..n], &self.next[..n], 0.5 * share, &mut self.middle);
        interpolate(cubic(&self.dense), y, &self.next, share, &mut self.trial);
        self.next.copy_from_slice(&self.trial);
        // The same cubic over the shorter step.
        let [first, second] = &mut self.dense;
        for (a, b) in first.iter_mut().zip(second) {
            let (square, cube) = (share * share * (*b - *a), share * share * share * *b);
            (*a, *b) = (cube - square, cube);
        }
        share * h
    }
}

/// Share of a step, within its first half, at which the parabola through a value's start, middle and end turns.
fn turn(start: f64, middle: f64, end: f64) -> Option<f64> {
    let (slope, bend) = (4.0 * middle - 3.0 * start - end, 2.0 * (start - 2.0 * middle + end));
    Some(-0.5 * slope / bend).filter(|at| *at > 0.0 && *at < 0.5)
}

/// Root of a function that falls from above zero to below, as a share of the step, rounded to the far side, within
/// 1e-11.
fn falling_root(mut low: (f64, f64), mut high: (f64, f64), mut guard: impl FnMut(f64) -> f64) -> f64 {
    let mut side = 0;
    for _ in 0..60 {
        if high.0 - low.0 <= 1e-11 || high.1 == 0.0 {
            break;
        }
        let secant = low.0 + (high.0 - low.0) * low.1 / (low.1 - high.1);
        let inner = 0.25e-11;
        let s = secant.clamp(low.0 + inner, high.0 - inner);
        let g = guard(s);
        if g > 0.0 {
            low = (s, g);
            if side == 1 {
                high.1 *= 0.5;
            }
            side = 1;
        } else {
            high = (s, g);
            if side == -1 {
                low.1 *= 0.5;
            }
            side = -1;
        }
    }
    high.0
}
