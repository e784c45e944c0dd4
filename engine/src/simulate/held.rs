//! Slip that goes on while a speed is held, though the clutch when cold and new would stay locked.

use super::simulation::Simulation;
use crate::curve::edge;
use crate::model::{Contact, read, state};
use crate::names::Happening;

/// Time for which a clutch has to slip while a speed is held, s: after a launch it locks within some seconds. Assumed.
const LONG: f64 = 10.0;
/// Change of the road speed below which it counts as steady, m/s². Assumed.
const STEADY: f64 = 0.02;

impl Simulation {
    /// Road speed of a clutch that has slipped throughout a segment which began at that time, and the lowest speed at which its
    /// shoes, as hot, worn and oiled as they are now, would carry the road load, m/s; none if it locked, or its speed still changes.
    pub(super) fn slips_on(&self, start: f64) -> Option<[f64; 2]> {
        let (a, slow) = (&self.assembly, &self.slow);
        let locked = self.watch.events.since(start).any(|event| event.what == Happening::Locks);
        let long = self.time - start >= LONG - 1e-6;
        if locked || !long || a.contact != Contact::Slip(1.0) {
            return None;
        }
        let rate = a.drive(read(&self.y), a.on_drum(&self.y, slow)).drum_rate;
        if (rate * a.speed_per_drum).abs() > STEADY {
            return None;
        }
        let slips = |w: f64| {
            let mut y = self.y.clone();
            (y[state::MOTOR], y[state::DRUM]) = (w, w);
            a.torque_capacity(read(&y), slow) < a.road(w, 1.0) / a.machine.vehicle.chain_efficiency
        };
        let (drum, top) = (self.y[state::DRUM], a.machine.motor.no_load.max(self.y[state::DRUM]));
        let lock = if slips(top) { top } else { edge(slips, drum, top) };
        (lock > drum).then(|| [drum, lock].map(|w| w * a.speed_per_drum))
    }
}
