//! A washer without its oil has the lower limit of dry fibre.

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::{Channel, IdleKind};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Warned;
use slipsoak_engine::simulate::{Options, Simulation};

/// A machine whose washer throws its oil off, with a spring below idle: it drags and heats.
fn throwing() -> Machine {
    let mut machine = Machine { idle_kind: IdleKind::Governed, ..Machine::default() };
    machine.washer.fling = 1.0;
    machine.clutch.engagement = 1500.0 * std::f64::consts::PI / 30.0;
    machine
}

#[test]
fn the_limit_of_a_dry_washer_applies_once_half_of_its_oil_is_lost() {
    let mut sim = Simulation::new(throwing(), Options::default()).expect("a machine");
    let full = sim.reading(Channel::WasherOil);
    let mut hottest_dry: f64 = 0.0;
    for _ in 0..240 {
        sim.perform(&Segment::Ride(Task::Idle, End::After(5.0))).expect("it runs");
        if sim.reading(Channel::WasherOil) <= 0.5 * full {
            hottest_dry = hottest_dry.max(sim.reading(Channel::Washer));
        }
    }
    let run = sim.finish("machine", "idle").expect("the ledgers close");
    let warning = run.warned(Warned::DryWasher).expect("it is dry and hot");
    assert_eq!(warning.limit, 363.15, "class Y of IEC 60085");
    assert!(hottest_dry > 363.15 && (warning.value - hottest_dry).abs() < 0.5, "{warning:?}, read {hottest_dry} K");
    // With its oil only the limit of an oiled washer applies.
    let machine = Machine { washer: Machine::default().washer, ..throwing() };
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Idle, End::After(1200.0))).expect("it runs");
    assert!(sim.reading(Channel::Washer) > 363.15);
    assert!(sim.finish("machine", "idle").expect("the ledgers close").warned(Warned::DryWasher).is_none());
}
