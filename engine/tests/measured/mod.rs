//! Tables of measured values with what the whole model computes for them.
#![allow(dead_code)]

pub mod bare_metal;
pub mod bus_drum;
pub mod refill;
pub mod truck_drum;

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Options, Simulation};
use std::ops::RangeInclusive;

pub const MM: f64 = 1e-3;
/// A mile per hour, m/s.
pub const MPH: f64 = 0.44704;

/// A row of a table: what was measured, the measured value, what the model computes, and the second over the first.
pub type Row = (&'static str, f64, f64, f64);

/// Compares a computed value with its row, to 1 %, and with the measured value: their ratio lies within bounds. A row that
/// no longer holds is a change of physics: look whether the model has come nearer, then correct it.
pub fn hold(row: Row, computed: f64, bounds: RangeInclusive<f64>) {
    let (what, measured, model, ratio) = row;
    let now = computed / measured;
    assert!((computed / model - 1.0).abs() < 0.01, "{what}: the model gives {computed}, the table {model}");
    assert!((model / measured - ratio).abs() < 0.006, "{what}: the table's ratio {ratio} is not {model}/{measured}");
    assert!(bounds.contains(&now), "{what}: the model gives {now} of the measured value");
}

/// A simulation of a machine.
pub fn simulation(machine: Machine) -> Simulation {
    Simulation::new(machine, Options::default()).expect("a machine that can be built")
}

/// Performs a task.
pub fn go(sim: &mut Simulation, task: Task, end: End) {
    sim.perform(&Segment::Ride(task, end)).expect("the task is performed");
}

/// Takes out what the measured machines lack or what was not part of the measurement: friction of bushing and washer, losses of
/// tyres, air and chain. The sprocket is as large as it may be, so that the torque does not load the bushing.
pub fn bare_drive(m: &mut Machine) {
    let (b, v) = (&mut m.bushing, &mut m.vehicle);
    (b.weight, b.chain_pull, b.shake, m.washer.preload) = (0.0, 0.0, 0.0, 0.0);
    (b.clearance, b.length) = (0.5 * MM, 2.0 * MM);
    (m.drum.teeth, m.drum.pitch) = (60.0, 60.0 * MM);
    (v.rolling, v.drag_area, v.wheel_inertia, v.chain_efficiency) = (0.0, 0.0, 0.0, 1.0);
}
