//! The shoe: its spring, the force on the drum, the torque it can carry and the speeds at which it moves.

use crate::real::Real;

/// Effect of friction on the shoe's normal force.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Form {
    /// the shoe slides straight out: friction has no effect on the normal force
    #[default]
    Floating,
    /// friction turns the shoe into the drum
    Leading,
    /// friction turns the shoe away from the drum
    Trailing,
    /// friction pushes the shoe up an inclined guide
    Wedge,
}

/// Spring force on one shoe, N.
///
/// The preload less what has relaxed and what heat takes from the modulus, plus the rate over the travel (gap and lining wear).
/// ```text
/// F_s = F0 (1 − R)(1 − β (T − 20 °C)) + k_s s
/// ```
/// The rate's own loss with heat is neglected: errs by under 1 % of the total at 200 °C with the default spring.
/// β of music wire is published; R is [`crate::laws::wear::relaxed`].
/// ```
/// let f = slipsoak_engine::laws::shoe::spring_force(100.0, 0.1, 0.001, 1e4, 0.001, 393.15);
/// assert!((f - 91.0).abs() < 1e-9); // 100·0.9·0.9 + 10
/// ```
pub fn spring_force<R: Real>(preload: f64, relaxation: f64, hot_modulus: f64, rate: f64, travel: f64, t_shoe: R) -> R {
    (-(t_shoe - 293.15) * hot_modulus + 1.0) * (preload * (1.0 - relaxation)) + rate * travel
}

/// Force of one shoe on the drum, N, never below zero.
///
/// What the spring leaves of the centrifugal force.
/// ```text
/// F_n = max(0, m r ω² − F_s)
/// ```
/// Neglects the shoe's friction in its guides: errs either way with the direction of travel. Exact otherwise.
/// ```
/// assert_eq!(slipsoak_engine::laws::shoe::normal_force(0.1, 0.04, 200.0, 100.0), 60.0);
/// ```
pub fn normal_force<R: Real>(mass: f64, radius: f64, w: R, spring: R) -> R {
    (w * w * (mass * radius) - spring).max(R::from(0.0))
}

/// Speed at which the shoe touches the drum and torque begins, rad/s.
/// ```text
/// m r ω_e² = F_s   →   ω_e = √(F_s/(m r))
/// ```
/// Exact; `radius` and `spring_force` are those at contact.
/// ```
/// assert!((slipsoak_engine::laws::shoe::engagement_speed(0.1, 0.04, 160.0) - 200.0).abs() < 1e-9);
/// ```
pub fn engagement_speed(mass: f64, radius: f64, spring_force: f64) -> f64 {
    (spring_force / (mass * radius)).sqrt()
}

/// Speed at which the shoe leaves its seat, rad/s.
/// ```text
/// m r0 ω² = F0   →   ω = √(F0/(m r0))
/// ```
/// Exact; below engagement whenever the spring's rate counts.
/// ```
/// assert!((slipsoak_engine::laws::shoe::lift_off_speed(0.1, 0.04, 160.0) - 200.0).abs() < 1e-9);
/// ```
pub fn lift_off_speed(mass: f64, rest_radius: f64, preload: f64) -> f64 {
    (preload / (mass * rest_radius)).sqrt()
}

/// Gain of the torque by self-energising, G, 1 for a floating shoe.
///
/// Moments about the pivot (or forces along the guide): friction adds to the force that presses the shoe, or takes from it. Where
/// the drum overruns the motor friction turns round, and a leading shoe trails.
/// ```text
/// G = 1/(1 − s μ a),   s = 1 driving, −1 overrunning
/// a: floating 0    leading the lever    trailing −lever    wedge tan α
/// ```
/// One lever stands for the whole arc: within some per cent for short shoes. Self-locking (μ a ≥ 1) must be refused before.
/// Derived here.
/// ```
/// use slipsoak_engine::{laws::shoe::self_energising, parts::Form};
/// assert_eq!(self_energising(Form::Leading, 0.5, 0.0, 0.4, 1.0), 1.25);
/// assert_eq!(self_energising(Form::Trailing, 0.5, 0.0, 0.4, -1.0), 1.25);
/// assert_eq!(self_energising(Form::Wedge, 0.0, 0.5_f64.atan(), 0.4, 1.0), 1.25);
/// assert_eq!(self_energising(Form::Floating, 0.5, 0.0, 0.4, 1.0), 1.0);
/// ```
pub fn self_energising<R: Real>(form: Form, lever: f64, guide_angle: f64, mu: R, drives: f64) -> R {
    let arm = match form {
        Form::Floating => 0.0,
        Form::Leading => lever,
        Form::Trailing => -lever,
        Form::Wedge => libm::tan(guide_angle),
    };
    R::from(1.0) / (-mu * (drives * arm) + 1.0)
}

/// Torque that the clutch can carry, N·m.
///
/// Friction of all shoes at the drum's radius.
/// ```text
/// T_c = n μ F_n R G
/// ```
/// Pressure is taken as even over the arc: errs low by up to a tenth for long shoes. Textbook law.
/// ```
/// let t = slipsoak_engine::laws::shoe::capacity(4.0, 0.4, 100.0, 0.05, 1.25);
/// assert!((t - 10.0).abs() < 1e-12);
/// ```
pub fn capacity<R: Real>(shoes: f64, mu: R, normal: R, radius: f64, gain: R) -> R {
    mu * normal * gain * (shoes * radius)
}

/// Motor speed at which the slipping clutch just carries a torque, rad/s.
/// ```text
/// T = K(ω² − ω_e²)   →   ω = √(ω_e² + T/K),   K = n μ m r R G
/// ```
/// Exact for constant friction.
/// ```
/// assert_eq!(slipsoak_engine::laws::shoe::balance_speed(3.0, 16.0, 1.0), 5.0);
/// ```
pub fn balance_speed(engagement: f64, torque: f64, k: f64) -> f64 {
    (engagement * engagement + torque / k).sqrt()
}
