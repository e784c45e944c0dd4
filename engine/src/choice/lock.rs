//! What follows from the numbers alone: what the clutch can carry, where it locks, the steepest start.

use crate::laws::{motor, shoe, vehicle};
use crate::parts::Machine;

/// The torque that the clutch can carry at a motor speed, cold and new, N·m.
pub fn capacity(machine: &Machine, w: f64) -> f64 {
    let (c, mu) = (&machine.clutch, machine.lining.friction);
    let spring = shoe::spring_force(machine.preload(), 0.0, 0.0, c.spring_rate, c.gap, 293.15);
    let normal = shoe::normal_force(c.shoe_mass, c.shoe_radius, w, spring);
    let gain = shoe::self_energising(machine.form, c.lever, c.guide_angle, mu);
    c.arc_factor * shoe::capacity(c.shoes, mu, normal, machine.drum.radius, gain)
}

/// The motor's torque at full throttle under its top governor, N·m.
fn full_throttle(machine: &Machine, w: f64) -> f64 {
    let m = &machine.motor;
    motor::torque_full(&machine.torque_curve, w) * motor::governor_top(m.no_load, m.full_load, w)
}

/// Motor speed at which the slipping clutch takes the full throttle's torque, rad/s: the lowest at which it can lock there.
/// None if it takes all of it as soon as it engages, or never.
/// ```text
/// T_c(ω) = T1(ω)   →   ω = √(ω_e² + T1(ω)/K),   K = n μ m r R G
/// ```
/// Cold, new lining, dry; neglects the friction of bushing and washer, which helps to drive: errs high.
/// ```
/// use slipsoak_engine::{choice::balance, laws::{motor, shoe}, parts::Machine};
/// let m = Machine::default();
/// let w = balance(&m).unwrap();
/// let torque = motor::torque_full(&m.torque_curve, w);
/// assert!((w - shoe::balance_speed(m.clutch.engagement, torque, 4.0 * 0.4 * 0.11 * 0.04 * 0.0508)).abs() < 1e-6);
/// ```
pub fn balance(machine: &Machine) -> Option<f64> {
    let over = |w: f64| capacity(machine, w) - full_throttle(machine, w);
    let (mut low, mut high) = (machine.clutch.engagement, machine.motor.no_load);
    if over(low) >= 0.0 || over(high) <= 0.0 {
        return None;
    }
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if over(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

/// Steepest slope, rise over run, on which a start at full throttle could bring the clutch to lock, however long it took and
/// however hot it became; none if it locks on none. A bound: a lining that fades locks on less.
///
/// While it slips at its balance the drum gets the torque of the balance; it must still gain speed there.
/// ```text
/// T_b η i/r_w = m g (C_rr cos θ + sin θ) + ½ ρ C_dA v_b²
/// ```
/// As cold and new as the balance.
pub fn steepest(machine: &Machine) -> Option<f64> {
    let v = &machine.vehicle;
    let at = balance(machine)?;
    let speed = at * v.wheel_radius / v.ratio;
    let pull = full_throttle(machine, at) * v.chain_efficiency * v.ratio / v.wheel_radius;
    let density = crate::laws::air::density(machine.surroundings.ambient);
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
