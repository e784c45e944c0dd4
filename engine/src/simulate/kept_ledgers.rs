//! Tests: services leave every ledger closed, and a false entry fails the run.

use super::culprit::Culprit;
use super::{Failure, Options, Simulation, Tolerance};
use crate::duty::{End, Segment, Service, Task};
use crate::model::{counter, slow};
use crate::names::{self, Entry, Part};
use crate::parts::{Machine, settings};

#[test]
fn new_parts_and_adjusted_sizes_keep_the_wear_ledger_closed() {
    let ride = Segment::Ride(Task::Hold(2.2), End::After(120.0));
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    sim.perform(&ride).expect("runs");
    for service in
        [Service::Adjust(&settings::lining::width, 0.020), Service::Adjust(&settings::bushing::length, 0.028)]
    {
        sim.perform(&Segment::Service(service)).expect("serves");
    }
    sim.perform(&ride).expect("runs");
    for service in [Part::Lining, Part::Washer, Part::Bushing].map(Service::New) {
        sim.perform(&Segment::Service(service)).expect("serves");
    }
    sim.perform(&ride).expect("runs");
    let wear = sim.finish("served", "wear").expect("the ledgers close").ledgers.wear;
    assert!(wear.outward[&Entry::TakenOffWithWornParts] > wear.held[&Entry::Lining], "{wear:?}");
    assert!(wear.outward[&Entry::Adjusted] > 0.0, "{wear:?}");
    assert!(
        wear.inward[&Entry::BushingBore] > wear.held[&Entry::BushingBore] && wear.held[&Entry::BushingBore] > 0.0,
        "{wear:?}"
    );
}

#[test]
fn a_part_adjusted_while_hot_and_turning_leaves_every_ledger_closed() {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Hold(7.0), End::After(60.0))).expect("runs");
    let adjusted = [
        (&settings::lining::width, 0.02),
        (&settings::heat::block, 9e3),
        (&settings::motor::inertia, 0.03),
        (&settings::drum::inertia, 2e-3),
        (&settings::vehicle::mass, 210.0),
    ];
    for (setting, value) in adjusted {
        sim.perform(&Segment::Service(Service::Adjust(setting, value))).expect("serves");
    }
    sim.perform(&Segment::Ride(Task::Hold(7.0), End::After(60.0))).expect("runs");
    let books = sim.finish("adjusted", "hot").expect("the ledgers close").ledgers;
    for book in [names::Book::Mechanics, names::Book::Chain, names::Book::Heat] {
        let book = books.of(book);
        assert!(book.outward[&Entry::Adjusted].abs() > 1.0, "{book:?}");
    }
}

#[test]
fn the_bushing_face_enters_the_wear_ledger_once_the_washer_is_worn_through() {
    let mut machine = Machine::default();
    // Worn through within minutes, by a constant far above the range of real fibre.
    machine.washer.wear_oiled = 1e-10;
    machine.washer.wear_dry = 1e-10;
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Hold(2.2), End::After(600.0))).expect("runs");
    let wear = sim.finish("bare", "wear").expect("the ledgers close").ledgers.wear;
    assert!(wear.held[&Entry::BushingFace] > 0.0 && wear.relative < 1e-9, "{wear:?}");
}

/// A run with a wrong entry at its end.
fn falsified(lie: impl FnOnce(&mut Simulation)) -> Result<(), Failure> {
    let mut sim = Simulation::new(Machine::default(), Options { tolerance: Tolerance::CLOSE, ..Options::default() })?;
    sim.perform(&Segment::Ride(Task::Hold(7.0), End::After(60.0)))?;
    lie(&mut sim);
    sim.finish("false", "books").map(drop)
}

#[test]
fn a_false_entry_fails_the_run_without_blaming_a_term() {
    assert_eq!(falsified(|_| ()), Ok(()));
    for (counter, by, wanted) in [
        (counter::LOST, 1e-6, names::Book::Heat),
        (counter::LEAKED, 1e-3, names::Book::Oil),
        (counter::ROLLING, 1e-4, names::Book::Chain),
        (counter::MOTOR_WORK, 1e-4, names::Book::Mechanics),
    ] {
        match falsified(|sim| sim.y[counter] *= 1.0 + by) {
            Err(Failure::Ledger { ledger, culprit, .. }) => assert_eq!((ledger, *culprit), (wanted, Culprit::None)),
            other => panic!("{wanted}: {other:?}"),
        }
    }
}

#[test]
fn wear_that_vanishes_without_a_new_part_fails_the_wear_ledger() {
    match falsified(|sim| sim.slow[slow::LINING] = 0.0) {
        Err(Failure::Ledger { ledger: names::Book::Wear, culprit, .. }) => {
            assert_eq!(*culprit, Culprit::Pair { pair: Entry::Lining, ratio: 0.0 });
        }
        other => panic!("{other:?}"),
    }
}
