//! For tests: the whole machine with one wrong law.

use super::{Options, Simulation, Tolerance};
use crate::duty::{End, Segment, Task};
use crate::integrate::{Entries, Flow, Jacobian, Sizes, Step, Stepper, System};
use crate::model::{Assembly, Group, Sink};
use crate::parts::Machine;
use crate::real::Real;

/// Adds a share of one law's flow into one row a second time.
pub(super) struct Again<G> {
    pub law: G,
    pub row: usize,
    pub share: f64,
}

struct OneRow<'a, S> {
    out: &'a mut S,
    row: usize,
    share: f64,
}

impl<R: Real, S: Sink<R>> Sink<R> for OneRow<'_, S> {
    fn add(&mut self, row: usize, value: R) {
        if row == self.row {
            self.out.add(row, value * self.share);
        }
    }
}

impl<const K: usize, G: Group<K>> Group<K> for Again<G> {
    const NAME: &'static str = G::NAME;
    const VARIABLES: [usize; K] = G::VARIABLES;
    fn flows<R: Real>(&self, x: [R; K], out: &mut impl Sink<R>) {
        self.law.flows(x, &mut OneRow { out, row: self.row, share: self.share });
    }
}

pub(super) type Error = fn(&Assembly, f64, &[f64], &[f64], &mut [f64]);

/// The whole machine with one wrong law.
struct Broken {
    whole: Assembly,
    error: Error,
    slow_row: usize,
    slow_factor: f64,
}

impl System for Broken {
    fn sizes(&self) -> Sizes {
        self.whole.sizes()
    }
    fn pattern(&self) -> (Entries, Entries) {
        self.whole.pattern()
    }
    fn rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.whole.rates(t, y, slow, out);
        (self.error)(&self.whole, t, y, slow, out);
    }
    fn jacobian(&self, t: f64, y: &[f64], slow: &[f64], rates: &[f64], out: &mut Jacobian) {
        self.whole.jacobian(t, y, slow, rates, out);
    }
    fn abs_tol(&self) -> &[f64] {
        self.whole.abs_tol()
    }
    fn slow_rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.whole.slow_rates(t, y, slow, out);
        out[self.slow_row] *= self.slow_factor;
    }
    fn slow_advance(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        self.whole.slow_advance(slow, mean, length);
    }
    fn guards(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.whole.guards(t, y, slow, out);
    }
    fn cross(&mut self, guard: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow {
        self.whole.cross(guard, t, y, slow)
    }
    fn mode(&self) -> u64 {
        self.whole.mode()
    }
    fn accepted(&mut self, step: &Step<'_>) {
        self.whole.accepted(step);
    }
}

pub(super) fn none(_: &Assembly, _: f64, _: &[f64], _: &[f64], _: &mut [f64]) {}

fn close() -> Options {
    Options { tolerance: Tolerance::CLOSE, ..Options::default() }
}

/// A launch uphill with the wrong law.
pub(super) fn launched(mut machine: Machine, error: Error, slow_row: usize, slow_factor: f64) -> Simulation {
    machine.surroundings.grade = 0.02;
    let mut sim = Simulation::new(machine.clone(), close()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Throttle(0.6), End::After(0.5))).expect("runs");
    let spare = Assembly::new(machine).expect("a machine");
    let whole = std::mem::replace(&mut sim.assembly, spare);
    let mut broken = Broken { whole, error, slow_row, slow_factor };
    let end = sim.time + 6.0;
    Stepper::new(&broken, 1.0)
        .advance(&mut broken, &mut sim.time, end, &mut sim.y, &mut sim.slow, &mut ())
        .expect("a wrong law steps like a right one");
    sim.assembly = broken.whole;
    sim
}
