//! A truck's drum that cools while it coasts; sizes and sources stand in `measured_truck_drum.rs`.

use super::{MM, MPH, bare_drive, go, simulation};
use slipsoak_engine::duty::{End, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::Simulation;
use slipsoak_engine::units::RPM;
use std::f64::consts::PI;

/// Heat capacity of a drum, J/K.
pub const CAPACITY: f64 = 39.27e3;
/// Thickness of the web of the example, mm.
pub const THIN: f64 = 3.59;
pub const THICK: f64 = 12.0;

/// The drum with a web of this thickness, mm.
pub fn truck(web: f64) -> Machine {
    let mut machine = Machine::default();
    machine.change(|m| {
        let d = &mut m.drum;
        (d.radius, d.wall, d.band, d.web) = (209.6 * MM, 25.4 * MM, 200.0 * MM, web * MM);
        let outside = d.radius + d.wall;
        let band = PI * (outside * outside - d.radius * d.radius) * d.band;
        d.specific_heat = CAPACITY / (d.density * (band + PI * d.radius * d.radius * d.web));
        m.heat.band_web *= web / THIN;
        (m.heat.web_sprocket, m.heat.drum_shoes, m.lining.open_gap) = (0.0, 0.0, 0.0);
        let c = &mut m.clutch;
        (c.shoe_mass, c.shoe_radius, c.engagement) = (2.0, 170.0 * MM, 1200.0 * RPM);
        m.lining.width = 180.0 * MM;
        m.torque_curve = vec![(50.0, 700.0), (400.0, 700.0)];
        (m.motor.idle, m.motor.full_load, m.motor.no_load) = (900.0 * RPM, 3000.0 * RPM, 3200.0 * RPM);
        (m.vehicle.mass, m.vehicle.wheel_radius, m.vehicle.ratio) = (5000.0, 0.5, 1.0);
        bare_drive(m);
    });
    machine
}

/// hA while the drum coasts at a speed, mph, from 120 to 45 K over the air, W/K: C ln(120/45) over the time.
pub fn conductance(machine: Machine, mph: f64) -> f64 {
    let (speed, ambient) = (mph * MPH, machine.surroundings.ambient);
    let mut sim = simulation(machine);
    let rise = |sim: &Simulation| sim.reading(Channel::Band) - ambient;
    let launch = |sim: &mut Simulation| go(sim, Task::Throttle(1.0), End::Reached { speed, within: 200.0 });
    while rise(&sim) < 140.0 {
        launch(&mut sim);
        go(&mut sim, Task::Brake(5.0), End::Still { within: 60.0 });
        assert!(sim.clock() < 600.0, "the launches heat the drum");
    }
    launch(&mut sim);
    let mut passed = [0.0; 2];
    let mut before = (sim.clock(), rise(&sim));
    while before.1 > 45.0 {
        go(&mut sim, Task::Coast, End::After(20.0));
        let now = (sim.clock(), rise(&sim));
        for (at, level) in passed.iter_mut().zip([120.0, 45.0]) {
            if before.1 > level && now.1 <= level {
                *at = before.0 + (now.0 - before.0) * f64::ln(before.1 / level) / f64::ln(before.1 / now.1);
            }
        }
        before = now;
    }
    assert!((sim.reading(Channel::VehicleSpeed) / speed - 1.0).abs() < 0.01, "it coasts on");
    CAPACITY * f64::ln(120.0 / 45.0) / (passed[1] - passed[0])
}
