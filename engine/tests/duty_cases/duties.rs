//! Duties of the cases: rides, rests and services.

use super::super::bench_ride::{cycle, cycle_held, ride};
use slipsoak_engine::duty::{End, Segment, Service, Task, Trace};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::{Oil, parameter};
use slipsoak_engine::simulate::Simulation;
use slipsoak_engine::units::{KM_H, RPM};
use slipsoak_engine::usage::Usage;

fn perform(sim: &mut Simulation, segments: &[Segment]) {
    for segment in segments {
        sim.perform(segment).expect("it rides");
    }
}

fn go(sim: &mut Simulation, task: Task, end: End) {
    perform(sim, &[ride(task, end)]);
}

fn adjust(sim: &mut Simulation, path: &'static str, value: f64) {
    perform(sim, &[Segment::Service(Service::Adjust(parameter(path).expect("a setting"), value))]);
}

fn launch(sim: &mut Simulation, opening: f64, km_h: f64) {
    go(sim, Task::Throttle(opening), End::Reached { speed: km_h * KM_H, within: 60.0 });
}

fn hold(sim: &mut Simulation, km_h: f64, time: f64) {
    go(sim, Task::Hold(km_h * KM_H), End::After(time));
}

fn brake(sim: &mut Simulation, slowing: f64) {
    go(sim, Task::Brake(slowing), End::Still { within: 60.0 });
}

/// Stop-and-go by the minute.
pub fn rental(sim: &mut Simulation) {
    for _ in 0..40 {
        cycle(sim, 30.0, 25.0, 60.0);
    }
}

pub fn moderate(sim: &mut Simulation) {
    for _ in 0..20 {
        cycle(sim, 6.0, 30.0, 60.0);
    }
}

/// Full throttle, braking and idling by 20 s, while the lining burns but before the bushing grabs.
pub fn abuse(sim: &mut Simulation) {
    for _ in 0..75 {
        cycle(sim, 6.0, 20.0, 20.0);
    }
}

pub fn hold_slipping(sim: &mut Simulation) {
    go(sim, Task::Hold(8.0 * KM_H), End::After(300.0));
    go(sim, Task::Idle, End::After(60.0));
}

pub fn rides_and_soaks(sim: &mut Simulation) {
    for _ in 0..3 {
        for _ in 0..10 {
            cycle(sim, 30.0, 25.0, 60.0);
        }
        go(sim, Task::Off, End::After(4.0 * 3600.0));
    }
}

pub fn cold_rides(sim: &mut Simulation) {
    for _ in 0..3 {
        go(sim, Task::FastIdle(2600.0 * RPM), End::After(60.0));
        for _ in 0..10 {
            cycle(sim, 6.0, 30.0, 40.0);
        }
        go(sim, Task::Off, End::After(3600.0));
    }
}

pub fn trees(sim: &mut Simulation) {
    for _ in 0..20 {
        go(sim, Task::Idle, End::After(30.0));
        launch(sim, 1.0, 25.0);
        hold(sim, 25.0, 20.0);
        brake(sim, 1.5);
    }
}

pub fn hires(sim: &mut Simulation) {
    adjust(sim, "surroundings.ambient", 301.15);
    for _ in 0..2 {
        for _ in 0..6 {
            go(sim, Task::Idle, End::After(20.0));
            launch(sim, 0.6, 12.0);
            hold(sim, 22.0, 40.0);
            adjust(sim, "surroundings.grade", 0.04);
            hold(sim, 22.0, 60.0);
            adjust(sim, "surroundings.grade", 0.0);
            hold(sim, 24.0, 90.0);
            brake(sim, 1.2);
            go(sim, Task::Idle, End::After(70.0));
        }
        go(sim, Task::Off, End::After(900.0));
    }
    perform(sim, &[Segment::Service(Service::Oil { drops: 4.0, oil: Oil::named("SAE 30").expect("an oil") })]);
    go(sim, Task::Off, End::After(14.0 * 3600.0));
}

pub fn outings(sim: &mut Simulation) {
    perform(sim, &[Segment::Service(Service::Found(0.7))]);
    for _ in 0..2 {
        for _ in 0..8 {
            go(sim, Task::Idle, End::After(15.0));
            launch(sim, 1.0, 40.0);
            hold(sim, 40.0, 80.0);
            brake(sim, 2.0);
        }
        go(sim, Task::Off, End::After(300.0));
        perform(sim, &[Segment::Service(Service::Oil { drops: 3.0, oil: Oil::named("SAE 30").expect("an oil") })]);
        go(sim, Task::Off, End::After(7.0 * 86400.0));
    }
}

/// Starts and stops of the urban part of a published driving cycle (UN Regulation 83), in rough figures.
pub fn town(sim: &mut Simulation) {
    let points = [
        (0.0, 0.0),
        (11.0, 0.0),
        (15.0, 15.0),
        (23.0, 15.0),
        (28.0, 0.0),
        (49.0, 0.0),
        (61.0, 32.0),
        (85.0, 32.0),
        (96.0, 0.0),
        (117.0, 0.0),
        (143.0, 40.0),
        (155.0, 40.0),
        (163.0, 30.0),
        (176.0, 30.0),
        (188.0, 0.0),
        (195.0, 0.0),
    ];
    let points: Vec<(f64, f64)> = points.iter().map(|(t, v)| (*t, v * KM_H)).collect();
    for _ in 0..5 {
        let trace = Trace { points: points.clone() };
        go(sim, Task::Follow(trace.into()), End::After(195.0));
    }
}

pub fn dragging(sim: &mut Simulation) {
    go(sim, Task::Idle, End::After(400.0));
    go(sim, Task::Coast, End::After(60.0));
    brake(sim, 1.5);
}

pub fn hard(sim: &mut Simulation) {
    let usage = Usage::named("hard", sim.machine()).expect("a use");
    usage.ride(sim, 900.0).expect("it rides");
}

/// Up a hill, then down it on the overrun with the brake.
pub fn descents(sim: &mut Simulation) {
    for _ in 0..6 {
        adjust(sim, "surroundings.grade", 0.06);
        go(sim, Task::Idle, End::After(10.0));
        launch(sim, 1.0, 20.0);
        hold(sim, 20.0, 40.0);
        brake(sim, 1.5);
        adjust(sim, "surroundings.grade", -0.08);
        go(sim, Task::Coast, End::After(40.0));
        brake(sim, 1.0);
        adjust(sim, "surroundings.grade", 0.0);
    }
}

pub fn hot_weeks(sim: &mut Simulation) {
    for _ in 0..4 {
        for _ in 0..38 {
            cycle_held(sim, 6.0, 22.0, 24.0);
        }
        go(sim, Task::Off, End::After(1200.0));
    }
    go(sim, Task::Off, End::After(6.0 * 86400.0));
}

/// Until shortly before its bushing seizes, which ends a segment.
pub fn drying(sim: &mut Simulation) {
    perform(sim, &[Segment::Service(Service::Found(0.25))]);
    let usage = Usage::named("rental", sim.machine()).expect("a use");
    usage.ride(sim, 700.0).expect("it rides");
}

pub fn greased(sim: &mut Simulation) {
    perform(sim, &[Segment::Service(Service::New(Part::Washer)), Segment::Service(Service::Grease(1e-6))]);
    rental(sim);
}

pub fn glazing(sim: &mut Simulation) {
    for _ in 0..3 {
        hold(sim, 12.0, 200.0);
        go(sim, Task::Idle, End::After(20.0));
        launch(sim, 1.0, 30.0);
        brake(sim, 1.5);
    }
}

/// Warm from rest to rest for two days.
pub fn launches_and_rests(sim: &mut Simulation) {
    for _ in 0..200 {
        for _ in 0..2 {
            go(sim, Task::Idle, End::After(20.0));
            launch(sim, 1.0, 21.6);
            hold(sim, 21.6, 40.0);
            brake(sim, 2.0);
        }
        go(sim, Task::Off, End::After(600.0));
    }
}

pub fn half_throttle(sim: &mut Simulation) {
    for k in 0..20 {
        go(sim, Task::Idle, End::After(12.0));
        launch(sim, 0.35 + 0.03 * f64::from(k), 18.0);
        go(sim, Task::Coast, End::Slowed { speed: 8.0 * KM_H, within: 30.0 });
        launch(sim, 0.8, 28.0);
        brake(sim, 2.5);
    }
}
