//! Rides shared by several tests.
#![allow(dead_code)]

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::Simulation;
use slipsoak_engine::units::KM_H;

pub fn ride(task: Task, end: End) -> Segment {
    Segment::Ride(task, end)
}

/// One stop-and-go period: idle, full throttle to a speed (km/h), hold, brake at 1.5 m/s². The abuse duty of 20 s
/// brakes as soon as it reaches its speed and idles for the rest.
pub fn cycle(sim: &mut Simulation, idle: f64, speed: f64, period: f64) {
    stop_and_go(sim, idle, speed, period, period > 20.0);
}

/// One stop-and-go period that holds its speed for the remaining time, however short it is.
pub fn cycle_held(sim: &mut Simulation, idle: f64, speed: f64, period: f64) {
    stop_and_go(sim, idle, speed, period, true);
}

fn stop_and_go(sim: &mut Simulation, idle: f64, speed: f64, period: f64, holds: bool) {
    let (start, speed) = (sim.clock(), speed * KM_H);
    let mut go = |task, end| sim.perform(&ride(task, end)).expect("the duty runs");
    go(Task::Idle, End::After(idle));
    go(Task::Throttle(1.0), End::Reached { speed, within: 60.0 });
    let hold = start + period - sim.clock() - speed / 1.5;
    if hold > 0.0 && holds {
        sim.perform(&ride(Task::Hold(speed), End::After(hold))).expect("the duty runs");
    }
    sim.perform(&ride(Task::Brake(1.5), End::Still { within: 60.0 })).expect("the duty runs");
    let rest = start + period - sim.clock();
    if rest > 0.0 {
        sim.perform(&ride(Task::Idle, End::After(rest))).expect("the duty runs");
    }
}

pub fn most(run: &Run, name: &str) -> f64 {
    run.overall.most[Channel::named(name).expect("a channel") as usize]
}
