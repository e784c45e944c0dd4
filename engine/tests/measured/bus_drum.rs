//! A bus whose launch warms its drum; sizes and sources stand in `measured_bus_drum.rs`.

use super::{MM, MPH, bare_drive, go, simulation};
use slipsoak_engine::duty::{End, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{LiningKind, Machine};
use slipsoak_engine::units::RPM;

/// Slip energy of the launch, J.
pub const ENERGY: f64 = 245e3;
/// Its duration, s.
pub const TIME: f64 = 8.0;
/// Speed at its end, m/s.
pub const SPEED: f64 = 24.0 * MPH;
/// Speed of the motor meanwhile, rad/s.
pub const MOTOR: f64 = 1500.0 * RPM;

/// The bus with a wall of this thickness, m.
pub fn bus(wall: f64) -> Machine {
    let mut machine = Machine::default();
    machine.change(|m| {
        (m.drum.radius, m.drum.band, m.drum.wall, m.drum.web) = (184.0 * MM, 254.0 * MM, wall, 10.0 * MM);
        (m.lining.width, m.lining.thickness) = (254.0 * MM, 6.0 * MM);
        (m.clutch.shoe_mass, m.clutch.shoe_radius) = (3.0, 150.0 * MM);
        bare_drive(m);
    });
    machine.line_with(LiningKind::Moulded);
    machine.change(|m| {
        // The heat falls evenly from T ω to none over the launch, so that its sum is T ω/2 times the time.
        let torque = 2.0 * ENERGY / (MOTOR * TIME);
        m.torque_curve = vec![(50.0, torque), (400.0, torque)];
        (m.motor.idle, m.motor.full_load, m.motor.no_load) = (900.0 * RPM, 3000.0 * RPM, 3200.0 * RPM);
        let c = &mut m.clutch;
        let grip = c.shoes * m.lining.friction * c.shoe_mass * c.shoe_radius * m.drum.radius;
        c.engagement = (MOTOR * MOTOR - torque / grip).sqrt();
        let (v, drum) = (&mut m.vehicle, 0.5 * m.drum.inertia * MOTOR * MOTOR);
        (v.mass, v.wheel_radius, v.ratio) = (2.0 * (ENERGY - drum) / (SPEED * SPEED), 0.5, MOTOR * 0.5 / SPEED);
    });
    machine
}

/// Rise over the launch: time, s; innermost cell and lining's face, K.
pub fn rises(wall: f64) -> Vec<(f64, [f64; 2])> {
    let mut sim = simulation(bus(wall));
    let ambient = sim.machine().surroundings.ambient;
    go(&mut sim, Task::Idle, End::After(2.0));
    let start = sim.clock();
    let mut all = vec![(0.0, [0.0; 2])];
    while sim.clock() - start < 12.0 {
        go(&mut sim, Task::Throttle(1.0), End::After(0.5));
        let rise = [Channel::DrumFace, Channel::LiningSurface].map(|channel| sim.reading(channel) - ambient);
        all.push((sim.clock() - start, rise));
    }
    all
}
