//! A body thrown up from the ground, whose height is zero when it leaves and when it is back.

use slipsoak_engine::numerics::{Flow, Jacobian, Sizes, System};

/// States are height, m, and upward speed, m/s.
pub struct Throw {
    /// fall, m/s²
    pub fall: f64,
    /// time, s, and height, m, at which it is back
    pub back: Option<(f64, f64)>,
}

impl System for Throw {
    fn sizes(&self) -> Sizes {
        Sizes { states: 2, counters: 0, slow: 0, guards: 1 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![(0, 1)], vec![])
    }
    fn rates(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        (out[0], out[1]) = (y[1], -self.fall);
    }
    fn jacobian(&self, _: f64, _: &[f64], _: &[f64], _: &[f64], out: &mut Jacobian) {
        out.states.add(0, 1, 1.0);
    }
    fn abs_tol(&self) -> &[f64] {
        &[1.0, 1.0]
    }
    fn guards(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        out[0] = y[0];
    }
    fn cross(&mut self, _: usize, t: f64, y: &mut [f64], _: &[f64]) -> Flow {
        self.back = Some((t, y[0]));
        Flow::Stop
    }
    fn mode(&self) -> u64 {
        0
    }
}
