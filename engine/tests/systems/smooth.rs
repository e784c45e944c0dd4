//! Smooth stiff systems with solutions in closed form.

use slipsoak_engine::numerics::{Flow, Jacobian, Sizes, Step, System};

/// u = 2 + sin t and v = 2 + cos t solve u' = cos t − 5 (u v − (2 + sin t)(2 + cos t)),
/// v' = −sin t − 30 (v² − (2 + cos t)²) + u − 2 − sin t.
#[derive(Default)]
pub struct Driven {
    /// largest error in the middle of a step of the longest length
    pub middle_error: f64,
    /// longest length
    pub longest: f64,
}

impl Driven {
    /// The solution.
    pub fn exact(t: f64) -> [f64; 2] {
        [2.0 + t.sin(), 2.0 + t.cos()]
    }
}

impl System for Driven {
    fn sizes(&self) -> Sizes {
        Sizes { states: 2, counters: 0, slow: 0, guards: 0 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![(0, 1), (1, 0)], vec![])
    }
    fn rates(&self, t: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        let [u, v] = Self::exact(t);
        out[0] = t.cos() - 5.0 * (y[0] * y[1] - u * v);
        out[1] = -t.sin() - 30.0 * (y[1] * y[1] - v * v) + y[0] - u;
    }
    fn jacobian(&self, _: f64, y: &[f64], _: &[f64], _: &[f64], out: &mut Jacobian) {
        out.states.add(0, 0, -5.0 * y[1]);
        out.states.add(0, 1, -5.0 * y[0]);
        out.states.add(1, 0, 1.0);
        out.states.add(1, 1, -60.0 * y[1]);
    }
    fn time_slopes(&self, t: f64, _: &[f64], _: &[f64], out: &mut [f64]) -> bool {
        let [u, v] = Self::exact(t);
        out[0] = -t.sin() + 5.0 * (t.cos() * v - t.sin() * u);
        out[1] = -t.cos() - 60.0 * v * t.sin() - t.cos();
        true
    }
    fn abs_tol(&self) -> &[f64] {
        &[1.0, 1.0]
    }
    fn guards(&self, _: f64, _: &[f64], _: &[f64], _: &mut [f64]) {}
    fn cross(&mut self, _: usize, _: f64, _: &mut [f64], _: &[f64]) -> Flow {
        Flow::Continue
    }
    fn mode(&self) -> u64 {
        0
    }
    fn accepted(&mut self, step: &Step<'_>) {
        if step.length > 0.9 * self.longest {
            let exact = Self::exact(step.start + 0.5 * step.length);
            for (m, e) in step.middle.iter().zip(exact) {
                self.middle_error = self.middle_error.max((m - e).abs());
            }
        }
    }
}

/// Two tanks, the first emptying into the second by the square of its level, the second leaking; the leaks are counted.
pub struct Tanks;

impl System for Tanks {
    fn sizes(&self) -> Sizes {
        Sizes { states: 2, counters: 2, slow: 0, guards: 0 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![(1, 0)], vec![(0, 1), (1, 0)])
    }
    fn rates(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        let over = 3.0 * y[0] * y[0];
        out.copy_from_slice(&[-over - 0.5 * y[0], over - 200.0 * y[1], 200.0 * y[1], 0.5 * y[0]]);
    }
    fn jacobian(&self, _: f64, y: &[f64], _: &[f64], _: &[f64], out: &mut Jacobian) {
        out.states.add(0, 0, -6.0 * y[0] - 0.5);
        out.states.add(1, 0, 6.0 * y[0]);
        out.states.add(1, 1, -200.0);
        out.counters.add(0, 1, 200.0);
        out.counters.add(1, 0, 0.5);
    }
    fn abs_tol(&self) -> &[f64] {
        &[1.0, 1.0]
    }
    fn guards(&self, _: f64, _: &[f64], _: &[f64], _: &mut [f64]) {}
    fn cross(&mut self, _: usize, _: f64, _: &mut [f64], _: &[f64]) -> Flow {
        Flow::Continue
    }
    fn mode(&self) -> u64 {
        0
    }
}

/// Two slow quantities, of which one sets the other's rate and that of a state: a' = cos t, w' = a, y' = a.
///
/// a = sin t and w = y = 1 − cos t, exactly.
pub struct Ageing;

impl System for Ageing {
    fn sizes(&self) -> Sizes {
        Sizes { states: 1, counters: 0, slow: 2, guards: 0 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![], vec![])
    }
    fn rates(&self, _: f64, _: &[f64], slow: &[f64], out: &mut [f64]) {
        out[0] = slow[0];
    }
    fn jacobian(&self, _: f64, _: &[f64], _: &[f64], _: &[f64], _: &mut Jacobian) {}
    fn abs_tol(&self) -> &[f64] {
        &[1.0]
    }
    fn slow_rates(&self, t: f64, _: &[f64], slow: &[f64], out: &mut [f64]) {
        out.copy_from_slice(&[t.cos(), slow[0]]);
    }
    fn guards(&self, _: f64, _: &[f64], _: &[f64], _: &mut [f64]) {}
    fn cross(&mut self, _: usize, _: f64, _: &mut [f64], _: &[f64]) -> Flow {
        Flow::Continue
    }
    fn mode(&self) -> u64 {
        0
    }
}
