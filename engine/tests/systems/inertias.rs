//! Two inertias joined by a clutch until they turn together.

use slipsoak_engine::numerics::{Flow, Jacobian, Sizes, System};

/// Torque transmitted by a slipping clutch.
pub enum Carried {
    /// the same at all speeds, N·m
    Constant(f64),
    /// K (ω² − ω₀²): K and ω₀
    Centrifugal(f64, f64),
}

/// Driver and driven, with the heat of the clutch as a counter.
pub struct Inertias {
    /// of driver and driven, kg·m²
    pub inertia: [f64; 2],
    /// torque of the clutch
    pub carried: Carried,
    /// on the driver, N·m
    pub drive: f64,
    /// on the driven, N·m
    pub load: f64,
    /// time at which they locked together, s
    pub locked: Option<f64>,
    /// whether they separated again
    pub released: bool,
}

impl Inertias {
    fn carried(&self, driver: f64) -> (f64, f64) {
        match self.carried {
            Carried::Constant(torque) => (torque, 0.0),
            Carried::Centrifugal(k, free) => (k * (driver * driver - free * free), 2.0 * k * driver),
        }
    }

    /// Torque that keeps both at one speed.
    pub fn locked_torque(&self) -> f64 {
        let [a, b] = self.inertia;
        (b * self.drive + a * self.load) / (a + b)
    }
}

impl System for Inertias {
    fn sizes(&self) -> Sizes {
        Sizes { states: 2, counters: 1, slow: 0, guards: 1 }
    }
    fn pattern(&self) -> (Vec<(usize, usize)>, Vec<(usize, usize)>) {
        (vec![(1, 0)], vec![(0, 0), (0, 1)])
    }
    fn rates(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        let [a, b] = self.inertia;
        if self.locked.is_some() {
            let both = (self.drive - self.load) / (a + b);
            out.copy_from_slice(&[both, both, 0.0]);
        } else {
            let torque = self.carried(y[0]).0;
            out.copy_from_slice(&[(self.drive - torque) / a, (torque - self.load) / b, torque * (y[0] - y[1])]);
        }
    }
    fn jacobian(&self, _: f64, y: &[f64], _: &[f64], _: &[f64], out: &mut Jacobian) {
        if self.locked.is_none() {
            let (torque, slope) = self.carried(y[0]);
            out.states.add(0, 0, -slope / self.inertia[0]);
            out.states.add(1, 0, slope / self.inertia[1]);
            out.counters.add(0, 0, torque + slope * (y[0] - y[1]));
            out.counters.add(0, 1, -torque);
        }
    }
    fn abs_tol(&self) -> &[f64] {
        &[1.0, 1.0]
    }
    fn guards(&self, _: f64, y: &[f64], _: &[f64], out: &mut [f64]) {
        out[0] = if self.locked.is_none() { y[0] - y[1] } else { self.carried(y[0]).0 - self.locked_torque() };
    }
    fn cross(&mut self, _: usize, t: f64, _: &mut [f64], _: &[f64]) -> Flow {
        self.released = self.locked.is_some();
        self.locked = Some(t);
        if self.released { Flow::Stop } else { Flow::Continue }
    }
    fn mode(&self) -> u64 {
        u64::from(self.locked.is_some())
    }
}
