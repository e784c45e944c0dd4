//! Torques of motor, clutch and vehicle over the motor's speed: they determine engagement and lock-up.

use crate::curve::edge;
use crate::document::record::Engagement;
use crate::laws::{air, motor, shoe, vehicle, wear};
use crate::parts::Machine;

/// Number of intervals of the table, evenly from the stall speed to the governed top speed.
const SPEEDS: u32 = 120;

/// Torques of motor, clutch and vehicle, for a new clutch at 20 °C.
pub fn engagement(machine: &Machine) -> Engagement {
    let m = &machine.motor;
    let step = (m.no_load - m.stall) / f64::from(SPEEDS);
    let mut speed: Vec<f64> = (0..=SPEEDS).map(|k| m.stall + f64::from(k) * step).collect();
    // The clutch's curve has a corner where each shoe touches.
    speed.extend(touches(machine));
    speed.sort_by(f64::total_cmp);
    speed.dedup();
    Engagement {
        motor: speed.iter().map(|w| full_throttle(machine, *w)).collect(),
        capacity: speed.iter().map(|w| capacity(machine, *w)).collect(),
        load: speed.iter().map(|w| load(machine, *w)).collect(),
        balance: balance(machine),
        first: Some(machine.first_touch()),
        lock: Some(locks_from(machine)),
        idle: None,
        settled: None,
        renewed: None,
        speed,
    }
}

/// Speeds at which the shoes touch, new at 20 °C, rad/s; of shoes that touch below the motor's stall speed, none.
fn touches(machine: &Machine) -> Vec<f64> {
    if !machine.one_by_one() {
        return vec![machine.first_touch()];
    }
    let c = &machine.clutch;
    let spring = shoe::spring_force(machine.preload(), 0.0, 0.0, c.spring_rate, c.gap, 293.15);
    let touch = |share: f64| shoe::engagement_speed(c.shoe_mass, c.shoe_radius, (spring * share).max(0.0));
    machine.spring_shares().into_iter().map(touch).filter(|w| *w > machine.motor.stall).collect()
}

/// Lowest speed of the drum at which the clutch stays locked while a speed is held, rad/s: from it on the shoes carry the road
/// load. The motor's governed top speed if they carry it at none.
/// ```text
/// T_c(ω) = T_load(ω)   →   ω = √(ω_e² + T_load/K) with equal springs,   K = n μ m r R G
/// ```
fn locks_from(machine: &Machine) -> f64 {
    let slips = |w: f64| capacity(machine, w) < load(machine, w);
    let (first, top) = (machine.first_touch(), machine.motor.no_load);
    if slips(top) { top } else { edge(slips, first, top) }
}

/// Lock-up speed, m/s: the lowest road speed that can be held without slip, on the machine's slope. At a lower one the shoes do
/// not carry the road load.
///
/// Cold, new lining, dry; neglects the friction of bushing and washer, which helps to drive: errs high.
/// ```
/// use slipsoak_engine::{laws::shoe, parts::Machine, simulate::lock_up_speed};
/// let mut m = Machine::default();
/// let held = lock_up_speed(&m);
/// // By hand: rolling, and air at that speed, through the chain, over K = 4·0.4·0.11·0.04·0.0508 kg·m².
/// let force = 190.0 * 9.80665 * 0.03 + 0.5 * 1.204 * 0.6 * held * held;
/// let w = shoe::balance_speed(m.clutch.engagement, force * 0.165 / 6.0 / 0.95, 4.0 * 0.4 * 0.11 * 0.04 * 0.0508);
/// assert!((held / (w * 0.165 / 6.0) - 1.0).abs() < 1e-3, "{held} m/s");
/// m.surroundings.grade = 0.08;
/// assert!(lock_up_speed(&m) > 1.05 * held);
/// ```
pub fn lock_up_speed(machine: &Machine) -> f64 {
    locks_from(machine) * machine.speed_per_drum()
}

/// Lock-up speed, m/s, if a held speed is below it.
pub(crate) fn held_below_lock_up(machine: &Machine, speed: f64) -> Option<f64> {
    let w = speed / machine.speed_per_drum();
    // What carries the road load at one speed does so at every higher one, and is not searched.
    let slips = w < machine.first_touch() || capacity(machine, w) < load(machine, w);
    slips.then(|| lock_up_speed(machine)).filter(|lock| speed < *lock)
}

/// Engagement speed with a new lining, when the spring has the highest temperature of the use and has relaxed for a
/// season at that temperature, rad/s. A worn lining engages later, so this is the lowest value; friction in the guides holds
/// the shoes on the drum until a lower speed.
pub fn settled(machine: &Machine, hottest: f64, season: f64) -> f64 {
    let c = &machine.clutch;
    let per_decade = wear::relaxation_per_decade(c.relaxation, c.relaxation_doubling, hottest);
    let lost = wear::relaxed(0.0, per_decade, season);
    let force = shoe::spring_force(machine.preload(), lost, c.hot_modulus, c.spring_rate, c.gap, hottest)
        * machine.weakest_spring()
        - c.guide_friction;
    shoe::engagement_speed(c.shoe_mass, c.shoe_radius, force.max(0.0))
}

/// Torque of the motor at full throttle, limited by its top governor, N·m.
pub(crate) fn full_throttle(machine: &Machine, w: f64) -> f64 {
    let m = &machine.motor;
    let opening = motor::governor_top(m.no_load, m.full_load, w);
    motor::torque(opening, machine.motor_full(w), machine.motor_drag(w))
}

/// Torque capacity of the new clutch at 20 °C at a motor speed, N·m.
pub fn capacity(machine: &Machine, w: f64) -> f64 {
    let (c, mu) = (&machine.clutch, machine.lining.friction);
    let spring = shoe::spring_force(machine.preload(), 0.0, 0.0, c.spring_rate, c.gap, 293.15);
    let pressed = |share: f64| shoe::normal_force(c.shoe_mass, c.shoe_radius, w, spring * share);
    let shares = machine.spring_shares();
    let normal = shares.iter().copied().map(pressed).sum::<f64>() / shares.len() as f64;
    let gain = shoe::self_energising(machine.form, c.lever, c.guide_angle, mu, 1.0);
    shoe::capacity(c.shoes, mu, normal, machine.drum.radius, gain) * c.arc_factor
}

/// Torque at the drum to hold the vehicle's speed, N·m.
fn load(machine: &Machine, w: f64) -> f64 {
    let (per_drum, efficiency) = (machine.speed_per_drum(), machine.vehicle.chain_efficiency);
    let force = road_force(machine, w * per_drum, machine.surroundings.grade.atan());
    force * per_drum * if force > 0.0 { 1.0 / efficiency } else { efficiency }
}

/// Force that holds the vehicle's speed, m/s, on a slope, rad, N.
pub(crate) fn road_force(machine: &Machine, speed: f64, slope: f64) -> f64 {
    let (v, s) = (&machine.vehicle, &machine.surroundings);
    let drag = vehicle::air(air::density(s.pressure, s.ambient), v.drag_area, speed);
    vehicle::rolling(v.mass, v.rolling, slope) + vehicle::grade(v.mass, slope) + drag
}

/// Full-throttle slip speed: motor speed at which the slipping clutch transmits the full-throttle torque, rad/s; the
/// clutch can lock up at full throttle only at or above it. None if the clutch transmits all of the torque as soon as
/// it engages, or never.
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
    let (low, high) = (machine.first_touch().max(machine.motor.stall), machine.motor.no_load);
    (over(low) < 0.0 && over(high) > 0.0).then(|| edge(|w| over(w) < 0.0, low, high))
}
