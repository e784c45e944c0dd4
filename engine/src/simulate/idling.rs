//! Whether a motor holds its idle by itself.

use super::{Failure, Options, Simulation};
use crate::duty::{End, Segment, Task};
use crate::laws::bearing::SQUEALS;
use crate::names::{Channel, Happening};
use crate::parts::Machine;

/// Time for which the idle is watched from cold, s.
const WATCHED: f64 = 20.0;

/// Fails if the motor of a machine stalls at its idle, from cold, before a shoe touches the drum and with a sound bushing: then no
/// spring is at fault, and nothing that is computed of its use is an answer. Of a machine that cannot be built nothing is said.
pub fn holds_idle(machine: &Machine) -> Result<(), Failure> {
    if machine.check().is_err() {
        return Ok(());
    }
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    sim.perform(&Segment::Ride(Task::Idle, End::After(WATCHED)))?;
    let sound = sim.reading(Channel::Score) < SQUEALS;
    let run = sim.finish(&machine.name, "idle")?;
    let first = |what: Happening| run.events.iter().find(|e| e.what == what).map(|e| e.time);
    match first(Happening::Stalls) {
        Some(after) if sound && first(Happening::Engages).is_none_or(|touches| touches > after) => {
            Err(Failure::NoIdle { after })
        }
        _ => Ok(()),
    }
}
