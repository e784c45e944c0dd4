//! A small clutch without lining; sizes and sources stand in `measured_bare_metal.rs`.

use super::{MM, bare_drive, go, simulation};
use slipsoak_engine::duty::{End, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{LiningKind, Machine};
use slipsoak_engine::units::RPM;

/// Measured friction coefficient.
pub const FRICTION: f64 = 0.165;

/// The clutch with shoes of bare metal, on a small motor, turning a mass.
pub fn clutch() -> Machine {
    let mut machine = Machine::default();
    machine.line_with(LiningKind::BareMetal);
    machine.change(|m| {
        (m.drum.radius, m.drum.wall, m.drum.band) = (37.0 * MM, 1.5 * MM, 18.0 * MM);
        m.lining.width = 12.0 * MM;
        let c = &mut m.clutch;
        (c.shoes, c.shoe_mass, c.shoe_radius) = (3.0, 0.06, 26.0 * MM);
        (c.engagement, c.spring_rate, c.gap) = (3800.0 * RPM, 5e3, 0.5 * MM);
        m.torque_curve = [(2000.0, 2.5), (9000.0, 3.5), (14000.0, 2.0)].map(|(n, t)| (n * RPM, t)).to_vec();
        (m.motor.idle, m.motor.full_load, m.motor.no_load) = (2800.0 * RPM, 13000.0 * RPM, 14000.0 * RPM);
        (m.motor.drag, m.motor.inertia) = (0.4, 6e-4);
        (m.vehicle.mass, m.vehicle.wheel_radius, m.vehicle.ratio) = (40.0, 0.10, 2.0);
        bare_drive(m);
    });
    machine
}

/// Torque by the measured friction at a speed of the motor, rad/s, N·m.
pub fn by_friction(machine: &Machine, speed: f64) -> f64 {
    let c = &machine.clutch;
    let grip = c.shoes * FRICTION * c.shoe_mass * c.shoe_radius * machine.drum.radius;
    grip * (speed * speed - c.engagement * c.engagement).max(0.0)
}

/// Torque of the slipping clutch over the motor's speed: rpm and N·m.
pub fn torques() -> Vec<(f64, f64)> {
    let mut sim = simulation(clutch());
    go(&mut sim, Task::Idle, End::After(2.0));
    let mut all = vec![];
    for _ in 0..60 {
        go(&mut sim, Task::Throttle(1.0), End::After(0.01));
        all.push((sim.reading(Channel::MotorSpeed) / RPM, sim.reading(Channel::ClutchTorque)));
    }
    all
}
