//! Slips with a closed form: two inertias under constant torque, and a mass that sticks and slips on a belt.

/// How a slip under constant torque ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slip {
    /// time until both speeds agree, s
    pub time: f64,
    /// common speed, rad/s
    pub speed: f64,
    /// heat of the slip, J
    pub heat: f64,
}

/// One side of a slipping clutch; an infinite inertia keeps its speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Side {
    /// moment of inertia, kg·m²
    pub inertia: f64,
    /// speed at the start, rad/s
    pub speed: f64,
    /// torque from outside in the direction of rotation, N·m
    pub outside: f64,
}

/// The slip of two inertias under a constant friction torque.
///
/// Friction slows the faster side and drives the slower one until they agree.
/// ```text
/// ω1′ = (T1 − T)/I1,  ω2′ = (T2 + T)/I2,  t = (ω1 − ω2)/(ω2′ − ω1′),  Q = ½ T (ω1 − ω2) t
/// ```
/// Neglects any change of the torque with speed or heat. Exact; time is negative if they never meet.
/// ```
/// use slipsoak_engine::laws::slip::{constant_torque, Side};
/// let side = |speed| Side { inertia: 2.0, speed, outside: 0.0 };
/// let slip = constant_torque(side(10.0), side(0.0), 5.0);
/// assert_eq!((slip.time, slip.speed, slip.heat), (2.0, 5.0, 50.0));
/// ```
pub fn constant_torque(driver: Side, driven: Side, torque: f64) -> Slip {
    let slowing = (driver.outside - torque) / driver.inertia;
    let rising = (driven.outside + torque) / driven.inertia;
    let difference = driver.speed - driven.speed;
    let time = difference / (rising - slowing);
    Slip { time, speed: driver.speed + slowing * time, heat: 0.5 * torque * difference * time }
}

/// Period of a sprung mass that sticks and slips on a moving belt, s.
///
/// It rides with the belt until the spring overcomes static friction, then swings back about kinetic friction until it sticks.
/// ```text
/// T = 2D/v + [π + 2 atan(v/(ωD))]/ω,   D = (F_s − F_k)/k,   ω = √(k/m)
/// ```
/// Neglects damping. Exact.
/// ```
/// // equal friction: no sticking, the bare swing
/// let t = slipsoak_engine::laws::slip::stick_slip_period(1.0, 1.0, 1e-9, 1.0, 1.0);
/// assert!((t - std::f64::consts::TAU).abs() < 1e-9);
/// ```
pub fn stick_slip_period(mass: f64, rate: f64, belt: f64, still: f64, moving: f64) -> f64 {
    let w = (rate / mass).sqrt();
    let d = (still - moving) / rate;
    2.0 * d / belt + (std::f64::consts::PI + 2.0 * libm::atan2(belt, w * d)) / w
}
