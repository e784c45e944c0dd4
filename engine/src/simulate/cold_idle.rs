//! A machine that idles from cold and is let off its brake.

use super::{Failure, Options, Simulation};
use crate::document::record::{Warned, Warning};
use crate::duty::{End, Segment, Task};
use crate::parts::Machine;

/// Time on the brake, and off it, s.
const STANDS: [f64; 2] = [3.0, 10.0];

/// The warning of a machine which the friction of its cold bushing moves off at this idle on the level, rad/s; none if it stands, or if
/// the shoes touch.
pub fn cold_idle(machine: &Machine, idle: f64) -> Result<Option<Warning>, Failure> {
    let mut machine = machine.clone();
    machine.surroundings.grade = 0.0;
    machine.motor.idle = idle;
    let mut sim = Simulation::new(machine, Options::default())?;
    for (task, time) in [Task::Idle, Task::Coast].into_iter().zip(STANDS) {
        sim.perform(&Segment::Ride(task, End::After(time)))?;
    }
    Ok(sim.finish("cold idle", "cold idle")?.warned(Warned::BushingDrives).copied())
}
