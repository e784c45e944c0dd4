//! A bushing that idles for 1000 h; sources stand in `measured_refill.rs`.

use super::{go, simulation};
use slipsoak_engine::duty::{End, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::Simulation;
use slipsoak_engine::units::ZERO_C;

pub const HOUR: f64 = 3600.0;
/// Air, °C, around a cool and a warm mount.
pub const COOL: f64 = 20.0;
pub const WARM: f64 = 55.0;

/// The example with an end leakage per hour in air of a temperature, °C.
pub fn mount(leak: f64, air: f64) -> Simulation {
    let mut machine = Machine::default();
    machine.oiling.leak = leak / HOUR;
    machine.surroundings.ambient = air + ZERO_C;
    simulation(machine)
}

/// The default end leakage, per hour.
pub fn default_leak() -> f64 {
    Machine::default().oiling.leak * HOUR
}

/// Oil fill over the hours of idling in air of a temperature, °C, until the bushing seizes and the motor stands.
pub fn fills(air: f64) -> Vec<(f64, f64)> {
    let mut sim = mount(default_leak(), air);
    let mut all = vec![(0.0, sim.reading(Channel::OilFill))];
    for _ in 0..24 {
        go(&mut sim, Task::Idle, End::After(50.0 * HOUR));
        if sim.reading(Channel::MotorSpeed) < 1.0 {
            break;
        }
        all.push((sim.clock() / HOUR, sim.reading(Channel::OilFill)));
    }
    all
}
