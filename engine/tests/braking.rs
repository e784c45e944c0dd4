//! Braking to a lower speed.

use crate::bench_ride::ride;
use slipsoak_engine::duty::{End, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Warned;
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::units::KM_H;

fn under_way(speed: f64) -> Simulation {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    sim.perform(&ride(Task::Throttle(1.0), End::Reached { speed, within: 60.0 })).expect("it launches");
    sim
}

fn brake_to(sim: &mut Simulation, speed: f64) -> f64 {
    let start = sim.clock();
    sim.perform(&ride(Task::Brake(1.5), End::Slowed { speed, within: 60.0 })).expect("it brakes");
    sim.clock() - start
}

fn speed(sim: &Simulation) -> f64 {
    sim.reading(Channel::VehicleSpeed)
}

// Prescribed deceleration of 1.5 m/s², more than the closed motor and the road give by themselves: Δv/a. Events are
// located to 1e-9 s.
#[test]
fn braking_to_a_speed_takes_the_time_of_uniform_deceleration() {
    let mut sim = under_way(30.0 * KM_H);
    let before = speed(&sim);
    let took = brake_to(&mut sim, 10.0 * KM_H);
    assert!((speed(&sim) - 10.0 * KM_H).abs() < 1e-8, "{} m/s", speed(&sim));
    let uniform = (before - 10.0 * KM_H) / 1.5;
    assert!((took - uniform).abs() < 1e-8, "{took} s for {uniform} s");
    // still moving, and the ride continues
    sim.perform(&ride(Task::Hold(10.0 * KM_H), End::After(5.0))).expect("it holds");
    let run = sim.finish("standard", "brake to").expect("the ledgers close");
    assert!(run.warned(Warned::Brake).is_none(), "{:?}", run.warnings);
}

#[test]
fn a_machine_that_is_slow_enough_already_does_not_brake() {
    let mut sim = under_way(10.0 * KM_H);
    assert_eq!(brake_to(&mut sim, 20.0 * KM_H), 0.0);
    assert_eq!(brake_to(&mut sim, 10.0 * KM_H + 1e-6), 0.0);
}

#[test]
fn braking_to_nothing_is_a_stop() {
    let (mut slowed, mut stopped) = (under_way(15.0 * KM_H), under_way(15.0 * KM_H));
    let took = brake_to(&mut slowed, 0.0);
    let start = stopped.clock();
    stopped.perform(&ride(Task::Brake(1.5), End::Still { within: 60.0 })).expect("it stops");
    assert_eq!(speed(&slowed), 0.0);
    assert!((took - (stopped.clock() - start)).abs() < 1e-8, "{took} s");
}

#[test]
fn a_brake_task_that_misses_its_speed_in_time_gives_a_warning() {
    let mut sim = under_way(30.0 * KM_H);
    sim.perform(&ride(Task::Brake(0.1), End::Slowed { speed: 5.0 * KM_H, within: 0.5 })).expect("it brakes");
    let run = sim.finish("standard", "brake to").expect("the ledgers close");
    assert!(run.warned(Warned::Brake).is_some(), "{:?}", run.warnings);
}

#[test]
fn a_speed_to_brake_to_must_be_a_speed() {
    let mut sim = under_way(10.0 * KM_H);
    for speed in [-1.0, f64::NAN, 61.0] {
        assert!(sim.perform(&ride(Task::Brake(1.5), End::Slowed { speed, within: 60.0 })).is_err(), "{speed}");
    }
}
