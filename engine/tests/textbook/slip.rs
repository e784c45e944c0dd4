//! The closed form of a slip under constant torque, for checks.

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
pub fn constant_torque(driver: Side, driven: Side, torque: f64) -> Slip {
    let slowing = (driver.outside - torque) / driver.inertia;
    let rising = (driven.outside + torque) / driven.inertia;
    let difference = driver.speed - driven.speed;
    let time = difference / (rising - slowing);
    Slip { time, speed: driver.speed + slowing * time, heat: 0.5 * torque * difference * time }
}
