//! The steepest start, by torque alone.

use crate::laws::vehicle;
use crate::parts::Machine;
use crate::simulate::{balance, full_throttle};

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
    let v = &machine.vehicle;
    let at = balance(machine)?;
    let speed = at * machine.speed_per_drum();
    let pull = full_throttle(machine, at) * v.chain_efficiency / machine.speed_per_drum();
    let density = crate::laws::air::density(machine.surroundings.pressure, machine.surroundings.ambient);
    let left = |angle: f64| {
        pull - vehicle::rolling(v.mass, v.rolling, angle)
            - vehicle::grade(v.mass, angle)
            - vehicle::air(density, v.drag_area, speed)
    };
    let (mut low, mut high) = (-1.4, 1.4);
    if left(low) <= 0.0 || left(high) >= 0.0 {
        return None;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if left(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low.tan())
}
