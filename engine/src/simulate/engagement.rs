//! The torques that decide when a clutch engages and locks, over the motor's speed.

use crate::document::record::Engagement;
use crate::laws::{air, motor, shoe, vehicle, wear};
use crate::parts::Machine;

/// Speeds of the table, evenly from the stall to the governed top.
const SPEEDS: u32 = 120;

/// Torques of motor, clutch and vehicle, the clutch new and at 20 °C.
pub fn engagement(machine: &Machine) -> Engagement {
    let m = &machine.motor;
    let step = (m.no_load - m.stall) / f64::from(SPEEDS);
    let mut speed: Vec<f64> = (0..=SPEEDS).map(|k| m.stall + f64::from(k) * step).collect();
    // The clutch's curve has its corner there.
    speed.push(machine.clutch.engagement);
    speed.sort_by(f64::total_cmp);
    Engagement {
        motor: speed.iter().map(|w| full_throttle(machine, *w)).collect(),
        capacity: speed.iter().map(|w| capacity(machine, *w)).collect(),
        load: speed.iter().map(|w| load(machine, *w)).collect(),
        balance: balance(machine),
        idle: None,
        settled: None,
        speed,
    }
}

/// Engagement speed with the new lining when the spring is as hot as in the use and has relaxed for a season at that heat,
/// rad/s. A worn lining engages later, so that this is the lowest.
pub fn settled(machine: &Machine, hottest: f64, season: f64) -> f64 {
    let c = &machine.clutch;
    let per_decade = wear::relaxation_per_decade(c.relaxation, c.relaxation_doubling, hottest);
    let lost = wear::relaxed(0.0, per_decade, season);
    let force = shoe::spring_force(machine.preload(), lost, c.hot_modulus, c.spring_rate, c.gap, hottest);
    shoe::engagement_speed(c.shoe_mass, c.shoe_radius, force.max(0.0))
}

/// What the motor gives at full throttle as far as its top governor lets it, N·m.
pub fn full_throttle(machine: &Machine, w: f64) -> f64 {
    let m = &machine.motor;
    let opening = motor::governor_top(m.no_load, m.full_load, w);
    motor::torque(opening, motor::torque_full(&machine.torque_curve, w), motor::torque_drag(m.drag, m.drag_slope, w))
}

/// What the clutch can carry at a motor speed, new and at 20 °C, N·m.
pub fn capacity(machine: &Machine, w: f64) -> f64 {
    let (c, mu) = (&machine.clutch, machine.lining.friction);
    let spring = shoe::spring_force(machine.preload(), 0.0, 0.0, c.spring_rate, c.gap, 293.15);
    let normal = shoe::normal_force(c.shoe_mass, c.shoe_radius, w, spring);
    let gain = shoe::self_energising(machine.form, c.lever, c.guide_angle, mu);
    shoe::capacity(c.shoes, mu, normal, machine.drum.radius, gain) * c.arc_factor
}

/// What the drum needs to hold the vehicle's speed, N·m.
fn load(machine: &Machine, w: f64) -> f64 {
    let (v, s) = (&machine.vehicle, &machine.surroundings);
    let (per_drum, slope) = (v.wheel_radius / v.ratio, s.grade.atan());
    let drag = vehicle::air(air::density(s.ambient), v.drag_area, w * per_drum);
    let force = vehicle::rolling(v.mass, v.rolling, slope) + vehicle::grade(v.mass, slope) + drag;
    force * per_drum * if force > 0.0 { 1.0 / v.chain_efficiency } else { v.chain_efficiency }
}

/// Motor speed at which the slipping clutch takes the full throttle's torque, rad/s: the lowest at which it can lock there.
/// None if it takes all of it as soon as it engages, or never.
/// ```text
/// T_c(ω) = T1(ω)   →   ω = √(ω_e² + T1(ω)/K),   K = n μ m r R G
/// ```
/// Cold, new lining, dry; neglects the friction of bushing and washer, which helps to drive: errs high.
/// ```
/// use slipsoak_engine::{laws::{motor, shoe}, parts::Machine, simulate::balance};
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
