//! A system to step: its dimensions, equations, guards and events, and the ways in which stepping it ends.

use super::Rows;
use super::sparse::Sparse;
use thiserror::Error;

/// Dimensions of a system.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sizes {
    /// coupled states
    pub states: usize,
    /// pure integrals that no rate depends on
    pub counters: usize,
    /// slow quantities, integrated by quadrature
    pub slow: usize,
    /// guards of events
    pub guards: usize,
}

/// Entries of a matrix: (row, column).
pub type Entries = Vec<(usize, usize)>;

/// Jacobian of the states and of the counters.
#[derive(Clone, Debug)]
pub struct Jacobian {
    /// states by states
    pub states: Sparse,
    /// counters by states
    pub counters: Rows,
}

impl Jacobian {
    /// Sets every entry to its constant part.
    pub fn clear(&mut self) {
        self.states.clear();
        self.counters.clear();
    }

    /// Stores the present entries as the constant part.
    pub fn keep(&mut self) {
        self.states.keep();
        self.counters.keep();
    }

    /// Sets every entry and its constant part to zero.
    pub fn forget(&mut self) {
        self.states.forget();
        self.counters.forget();
    }
}

/// Consequence of an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Flow {
    /// step on
    Continue,
    /// return to the caller
    Stop,
}

/// One accepted step, as seen by the system.
pub struct Step<'a> {
    /// start, s
    pub start: f64,
    /// length, s
    pub length: f64,
    /// states at the start
    pub before: &'a [f64],
    /// states at the end
    pub after: &'a [f64],
    /// states at the middle
    pub middle: &'a [f64],
    /// counters at the start
    pub counters_before: &'a [f64],
    /// counters at the end
    pub counters: &'a [f64],
    /// coefficients of the cubic between start and end
    pub dense: [&'a [f64]; 2],
    /// slow quantities at the start
    pub slow_before: &'a [f64],
    /// their mean rates
    pub slow_rates: &'a [f64],
    /// their rates at start and end
    pub slow_ends: [&'a [f64]; 2],
    /// slow quantities at the end
    pub slow: &'a [f64],
}

impl Step<'_> {
    /// States at a share of the step.
    pub fn inside(&self, share: f64) -> Vec<f64> {
        let mut out = vec![0.0; self.before.len()];
        interpolate(self.dense, self.before, self.after, share, &mut out);
        out
    }

    /// Slow quantities at a share of the step: along the cubic between its ends with the rates there, each at most three times the
    /// mean, so that nothing turns back.
    pub fn slow_inside(&self, share: f64) -> Vec<f64> {
        let at = |k: usize| {
            let (before, more) = (self.slow_before[k], self.slow[k] - self.slow_before[k]);
            if more == 0.0 {
                return before;
            }
            let [first, last] = self.slow_ends.map(|rates| (rates[k] * self.length / more).clamp(0.0, 3.0));
            let bend = 3.0 - 2.0 * first - last + share * (first + last - 2.0);
            before + more * share * (first + share * bend)
        };
        (0..self.slow.len()).map(at).collect()
    }

    /// Share of the step at which a state is highest between its ends, and its value there.
    pub fn crest(&self, state: usize) -> Option<(f64, f64)> {
        let [first, second] = self.dense.map(|row| row[state]);
        let (before, after) = (self.before[state], self.after[state]);
        // y = y0 + a s + b s² + c s³
        let (a, b, c) = (after - before + first, second - first, -second);
        if a <= 0.0 && after <= before {
            return None;
        }
        let root = (b * b - 3.0 * a * c).max(0.0).sqrt();
        // Of y′ = 0 the root at which y′ falls, without cancellation.
        let share = if b < 0.0 { a / (root - b) } else { -(b + root) / (3.0 * c) };
        let value = before + share * (a + share * (b + share * c));
        (share > 0.0 && share < 1.0 && value > before.max(after)).then_some((share, value))
    }
}

/// States at a share of a step, by the cubic of these coefficients.
pub(super) fn interpolate([first, second]: [&[f64]; 2], before: &[f64], after: &[f64], share: f64, out: &mut [f64]) {
    for (k, x) in out.iter_mut().enumerate() {
        *x = before[k] * (1.0 - share) + share * (after[k] + (1.0 - share) * (first[k] + share * second[k]));
    }
}

/// A system of equations with modes and events.
pub trait System {
    /// The system's dimensions.
    fn sizes(&self) -> Sizes;
    /// Entries of the Jacobian in any mode: (state, state) and (counter, state).
    fn pattern(&self) -> (Entries, Entries);
    /// The same for each kind of mode, if many entries are zero in some of them.
    fn patterns(&self) -> Vec<(Entries, Entries)> {
        vec![self.pattern()]
    }
    /// Kind of the present mode, as an index of those patterns.
    fn kind(&self) -> usize {
        0
    }
    /// Rates of states, then counters.
    fn rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]);
    /// Adds the entries of the Jacobian that never change.
    fn constant_slopes(&self, _out: &mut Jacobian) {}
    /// Adds the other entries to the constant ones; `rates` are those of the same state.
    fn jacobian(&self, t: f64, y: &[f64], slow: &[f64], rates: &[f64], out: &mut Jacobian);
    /// Partial derivatives of the states' rates with respect to time; false if all are zero.
    fn time_slopes(&self, _t: f64, _y: &[f64], _slow: &[f64], _out: &mut [f64]) -> bool {
        false
    }
    /// Absolute error allowed in each state per step at tolerance 1.
    fn abs_tol(&self) -> &[f64];
    /// Rates of the slow quantities.
    fn slow_rates(&self, _t: f64, _y: &[f64], _slow: &[f64], _out: &mut [f64]) {}
    /// Advances the slow quantities by their mean rates.
    fn slow_advance(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        for (s, m) in slow.iter_mut().zip(mean) {
            *s += m * length;
        }
    }
    /// Guards: an event happens where a guard falls through zero. A guard that is off stays at 1.
    fn guards(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]);
    /// Makes the transition of a guard.
    fn cross(&mut self, guard: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow;
    /// A number for the present mode; the first step length is remembered for each mode.
    fn mode(&self) -> u64;
    /// Error of the balances over a step, relative to the allowed error, and the state with the largest share of it. A
    /// step above 1 is repeated with a shorter length as long as that reduces the error; if it does not, the error does
    /// not come from the step length.
    fn imbalance(&self, _before: &[f64], _after: &[f64]) -> (f64, usize) {
        (0.0, 0)
    }
    /// Sees a step before it is accepted, counters included. Returns states that the step's error carried beyond their
    /// bounds to those bounds, and books the difference.
    fn bound(&mut self, _before: &[f64], _after: &mut [f64], _middle: &mut [f64]) {}
    /// Sees each accepted step.
    fn accepted(&mut self, _step: &Step<'_>) {}
}

/// Something that watches a system being stepped.
pub trait Observer<S> {
    /// Sees each step that the system has accepted.
    fn saw(&mut self, system: &mut S, step: &Step<'_>);
}

impl<S> Observer<S> for () {
    fn saw(&mut self, _system: &mut S, _step: &Step<'_>) {}
}

/// Reason why stepping ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// the end time was reached
    InTime,
    /// an event asked to stop
    AtEvent(usize),
}

/// Reason why stepping cannot go on.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum Stuck {
    /// a state or rate is not a number
    #[error("state {state} stops being a finite number at {time:.6} s")]
    NotFinite {
        /// index of the state
        state: usize,
        /// when, s
        time: f64,
    },
    /// the step size falls below rounding
    #[error("the step shrinks to nothing at {time:.6} s: state {state} cannot be followed to the tolerance")]
    NoProgress {
        /// index of the state with the largest error
        state: usize,
        /// when, s
        time: f64,
    },
    /// steps stay too short to reach the end time
    #[error(
        "{attempts} steps in a row have come only {progress:.3} s further by {time:.3} s: at {step:.1e} s a step the end is out of sight, and state {state} keeps the step so short"
    )]
    Crawls {
        /// index of the state that caused the most recent rejected steps
        state: usize,
        /// when, s
        time: f64,
        /// steps tried
        attempts: u64,
        /// time covered by them, s
        progress: f64,
        /// mean length of a step, s
        step: f64,
    },
    /// the same events repeat without end
    #[error("event {guard} repeats without end at {time:.6} s")]
    Chatter {
        /// index of the guard
        guard: usize,
        /// when, s
        time: f64,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A rate of 2 t over two seconds; one of which the rates at the ends say too much; and one that stands still.
    #[test]
    fn slow_quantities_inside_a_step_follow_their_rates_and_never_turn_back() {
        let (first, last) = ([0.0, 50.0, 1.0], [4.0, 0.0, 1.0]);
        let none: &[f64] = &[];
        let step = Step {
            start: 0.0,
            length: 2.0,
            before: none,
            after: none,
            middle: none,
            counters_before: none,
            counters: none,
            dense: [none; 2],
            slow_before: &[0.0, 1.0, 7.0],
            slow_rates: &[2.0, 0.5, 0.0],
            slow_ends: [&first, &last],
            slow: &[4.0, 2.0, 7.0],
        };
        let inside: Vec<Vec<f64>> = (0..=8).map(|k| step.slow_inside(f64::from(k) / 8.0)).collect();
        for (k, at) in (0..).zip(&inside) {
            let time = 0.25 * f64::from(k);
            assert!((at[0] - time * time).abs() < 1e-12 && at[2] == 7.0, "{at:?} at {time} s");
        }
        assert!(inside.windows(2).all(|two| two[1][1] >= two[0][1]), "{inside:?}");
        assert_eq!([inside[0][1], inside[8][1]], [1.0, 2.0]);
    }
}
