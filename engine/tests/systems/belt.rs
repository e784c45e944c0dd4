//! A mass on a spring, dragged by a moving belt that sticks harder than it slips.

use slipsoak_engine::numerics::{Flow, Jacobian, Sizes, System};

/// A mass on a belt; the states are its position and speed.
pub struct Belt {
    /// kg
    pub mass: f64,
    /// N/m
    pub stiffness: f64,
    /// of the belt, m/s
    pub speed: f64,
    /// largest friction at rest, N
    pub stuck: f64,
    /// friction in motion, N
    pub sliding: f64,
    /// whether the mass slips
    pub slips: bool,
    /// time at which it broke away, s
    pub breaks: Vec<f64>,
}

impl System for Belt {
    fn sizes(&self) -> Sizes {
        Sizes { states: 2, counters: 0, slow: 0, guards: 1 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![(0, 1), (1, 0)], vec![])
    }
    fn rates(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        out[0] = y[1];
        out[1] = if self.slips { (self.sliding - self.stiffness * y[0]) / self.mass } else { 0.0 };
    }
    fn jacobian(&self, _: f64, _: &[f64], _: &[f64], _: &[f64], out: &mut Jacobian) {
        out.states.add(0, 1, 1.0);
        if self.slips {
            out.states.add(1, 0, -self.stiffness / self.mass);
        }
    }
    fn abs_tol(&self) -> &[f64] {
        &[1.0, 1.0]
    }
    fn guards(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        out[0] = if self.slips { self.speed - y[1] } else { self.stuck - self.stiffness * y[0] };
    }
    fn cross(&mut self, _: usize, t: f64, y: &mut [f64], _: &[f64]) -> Flow {
        self.slips = !self.slips;
        y[1] = self.speed;
        if self.slips {
            self.breaks.push(t);
        }
        if self.breaks.len() == 4 { Flow::Stop } else { Flow::Continue }
    }
    fn mode(&self) -> u64 {
        u64::from(self.slips)
    }
}
