//! Another integrator in place of the stepper, for a comparison of costs on the same equations (`engine/peers`).

use crate::integrate::{Ended, Entries, Flow, Jacobian, Observer, Sizes, Step, Stuck, System};
use crate::model::Assembly;
use crate::observe::Watch;

/// An integrator in place of the stepper.
pub trait Integrator {
    /// Advances the system as [`Stepper::advance`](crate::numerics::Stepper::advance) does, at an error relative to
    /// [`System::abs_tol`]. It has to call [`System::bound`] and then [`System::accepted`] for each step.
    fn advance(
        &mut self,
        system: &mut dyn System,
        t: &mut f64,
        end: f64,
        y: &mut [f64],
        slow: &mut [f64],
    ) -> Result<Ended, Stuck>;
}

/// A machine and the observer of its steps as one system.
pub(super) struct Watched<'a> {
    pub assembly: &'a mut Assembly,
    pub watch: &'a mut Watch,
}

impl System for Watched<'_> {
    fn sizes(&self) -> Sizes {
        self.assembly.sizes()
    }
    fn pattern(&self) -> (Entries, Entries) {
        self.assembly.pattern()
    }
    fn patterns(&self) -> Vec<(Entries, Entries)> {
        self.assembly.patterns()
    }
    fn kind(&self) -> usize {
        self.assembly.kind()
    }
    fn rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.assembly.rates(t, y, slow, out);
    }
    fn constant_slopes(&self, out: &mut Jacobian) {
        self.assembly.constant_slopes(out);
    }
    fn jacobian(&self, t: f64, y: &[f64], slow: &[f64], rates: &[f64], out: &mut Jacobian) {
        self.assembly.jacobian(t, y, slow, rates, out);
    }
    fn time_slopes(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) -> bool {
        self.assembly.time_slopes(t, y, slow, out)
    }
    fn abs_tol(&self) -> &[f64] {
        self.assembly.abs_tol()
    }
    fn slow_rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.assembly.slow_rates(t, y, slow, out);
    }
    fn slow_advance(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        self.assembly.slow_advance(slow, mean, length);
    }
    fn guards(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.assembly.guards(t, y, slow, out);
    }
    fn cross(&mut self, guard: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow {
        self.assembly.cross(guard, t, y, slow)
    }
    fn mode(&self) -> u64 {
        self.assembly.mode()
    }
    fn imbalance(&self, before: &[f64], after: &[f64]) -> (f64, usize) {
        self.assembly.imbalance(before, after)
    }
    fn bound(&mut self, before: &[f64], after: &mut [f64], middle: &mut [f64]) {
        self.assembly.bound(before, after, middle);
    }
    fn accepted(&mut self, step: &Step<'_>) {
        self.assembly.accepted(step);
        self.watch.saw(self.assembly, step);
    }
}
