//! A machine that idles from cold with its brake off.

use super::{Failure, Options, Simulation};
use crate::document::record::{Warned, Warning};
use crate::duty::{End, Segment, Task};
use crate::parts::Machine;

/// Time at idle, s. On its brake the bushing would warm by some degrees within seconds.
const IDLES: f64 = 10.0;

/// The warning of a machine which the friction of its cold bushing moves off at this idle on the level, rad/s; none if it stands, or if
/// the shoes touch.
pub fn cold_idle(machine: &Machine, idle: f64) -> Result<Option<Warning>, Failure> {
    let mut machine = machine.clone();
    machine.surroundings.grade = 0.0;
    machine.motor.idle = idle;
    let mut sim = Simulation::new(machine, Options::default())?;
    sim.perform(&Segment::Ride(Task::Coast, End::After(IDLES)))?;
    Ok(sim.finish("cold idle", "cold idle")?.warned(Warned::BushingDrives).copied())
}
