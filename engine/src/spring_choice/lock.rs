//! The steepest launch, by torque alone.

use crate::curve::edge;
use crate::parts::Machine;
use crate::simulate::{balance, full_throttle, road_force};

/// Largest slope that is looked at, up and down, rad.
const STEEP: f64 = 1.4;

/// Steepest slope, rise over run, on which the clutch can lock up at full throttle, regardless of time and temperature;
/// none if it locks on none. An upper bound: a lining that fades locks only on less.
///
/// While the clutch slips at its full-throttle slip speed, the drum receives the torque at that speed; the vehicle must
/// still accelerate.
/// ```text
/// T_b η i/r_w = m g (C_rr cos θ + sin θ) + ½ ρ C_dA v_b²
/// ```
/// Cold and new, like the full-throttle slip speed.
pub fn steepest(machine: &Machine) -> Option<f64> {
    let (at, per_drum) = (balance(machine)?, machine.speed_per_drum());
    let pull = full_throttle(machine, at) * machine.vehicle.chain_efficiency / per_drum;
    let climbs = |angle: f64| pull > road_force(machine, at * per_drum, angle);
    (climbs(-STEEP) && !climbs(STEEP)).then(|| edge(climbs, -STEEP, STEEP).tan())
}
