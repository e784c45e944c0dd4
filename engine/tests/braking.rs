//! Braking to a lower speed.

use crate::bench_ride::ride;
use slipsoak_engine::duty::{End, Task, Trace};
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

// The length of the trace is that of its trapezia; a clutch that engages late and a rider's lag cost a little of it.
#[test]
fn a_trace_is_followed_down_every_slope_on_the_brake() {
    let points =
        [(0.0, 0.0), (5.0, 0.0), (20.0, 6.0), (60.0, 6.0), (80.0, 3.0), (110.0, 3.0), (140.0, 0.0), (150.0, 0.0)];
    let length: f64 = points.windows(2).map(|p| 0.5 * (p[0].1 + p[1].1) * (p[1].0 - p[0].0)).sum();
    for grade in [0.0, -0.03, -0.05, -0.08, -0.12, -0.2] {
        let mut machine = Machine::default();
        machine.surroundings.grade = grade;
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        let trace = Trace { points: points.to_vec() };
        sim.perform(&ride(Task::Follow(trace.into()), End::After(150.0))).expect("it follows");
        assert_eq!(speed(&sim), 0.0, "{grade}");
        let run = sim.finish("standard", "follow").expect("the ledgers close");
        let fastest = Channel::VehicleSpeed.of(&run.overall.most);
        assert!(
            (run.distance / length - 1.0).abs() < 0.03 && fastest < 6.2,
            "{grade}: {} m, {fastest} m/s",
            run.distance
        );
        assert!(run.warned(Warned::RunsAway).is_none(), "{grade}: {:?}", run.warnings);
    }
}

#[test]
fn a_speed_to_brake_to_must_be_a_speed() {
    let mut sim = under_way(10.0 * KM_H);
    for speed in [-1.0, f64::NAN, 61.0] {
        assert!(sim.perform(&ride(Task::Brake(1.5), End::Slowed { speed, within: 60.0 })).is_err(), "{speed}");
    }
}
