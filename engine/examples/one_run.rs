//! One launch from standstill to 20 km/h: how hot the lining gets, and how much heat the slip leaves.
#![allow(clippy::print_stdout)]

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::{Channel, Entry};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Failure, Options, Simulation};
use slipsoak_engine::units::{KM_H, in_celsius, rpm};

fn main() -> Result<(), Failure> {
    let mut machine = Machine::default();
    machine.clutch.engagement = rpm(2100.0);
    let mut simulation = Simulation::new(machine, Options::default())?;
    simulation.perform(&Segment::Ride(Task::Idle, End::After(5.0)))?;
    simulation.perform(&Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 20.0 * KM_H, within: 60.0 }))?;
    let run = simulation.finish("2100 rpm", "one launch")?;
    let lining = in_celsius(Channel::LiningSurface.of(&run.overall.most));
    let heat = run.ledgers.heat.inward[&Entry::SlipHeat] / 1e3;
    println!("lining {lining:.0} °C, slip heat {heat:.1} kJ");
    Ok(())
}
