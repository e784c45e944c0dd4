//! Two events that follow closely on each other early in a step: a decay that falls to a level, and a clock that runs out.

use slipsoak_engine::numerics::{Flow, Jacobian, Sizes, System};

/// States are the decaying value, 1 at first, and the time left, s. Each event happens once.
pub struct TwoEvents {
    /// of the decay, 1/s
    pub rate: f64,
    /// level to which it falls
    pub level: f64,
    /// which events have happened, in order, and when
    pub seen: Vec<(usize, f64)>,
    /// the other guard, while it has yet to fall, at each event: below zero it was passed
    pub other: f64,
}

impl System for TwoEvents {
    fn sizes(&self) -> Sizes {
        Sizes { states: 2, counters: 0, slow: 0, guards: 2 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![(0, 0)], vec![])
    }
    fn rates(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        (out[0], out[1]) = (-self.rate * y[0], -1.0);
    }
    fn jacobian(&self, _: f64, _: &[f64], _: &[f64], _: &[f64], out: &mut Jacobian) {
        out.states.add(0, 0, -self.rate);
    }
    fn abs_tol(&self) -> &[f64] {
        &[1.0, 1.0]
    }
    fn guards(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        (out[0], out[1]) = (y[0] - self.level, y[1]);
        for (guard, _) in &self.seen {
            out[*guard] = 1.0;
        }
    }
    fn cross(&mut self, guard: usize, t: f64, y: &mut [f64], _: &[f64]) -> Flow {
        let mut guards = [0.0; 2];
        self.guards(t, y, &[], &mut guards);
        self.other = self.other.min(guards[1 - guard]);
        self.seen.push((guard, t));
        Flow::Continue
    }
    fn mode(&self) -> u64 {
        self.seen.len() as u64
    }
}
