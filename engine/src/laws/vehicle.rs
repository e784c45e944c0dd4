//! What resists the vehicle, and its mass as the drum feels it.

use crate::real::Real;

/// Standard gravity, m/s². Exact by definition.
pub const GRAVITY: f64 = 9.80665;

/// Rolling resistance, N.
///
/// The tyre loses a fixed share of the load that presses it on the road.
/// ```text
/// F = C_rr m g cos θ
/// ```
/// Neglects growth with speed: errs low when fast. The coefficient is chosen for the ground.
/// ```
/// let f = slipsoak_engine::laws::vehicle::rolling(100.0, 0.03, 0.0);
/// assert!((f - 29.41995).abs() < 1e-9);
/// let steep = slipsoak_engine::laws::vehicle::rolling(100.0, 0.03, std::f64::consts::FRAC_PI_3);
/// assert!((steep - 0.5 * f).abs() < 1e-9); // cos 60°
/// ```
pub fn rolling(mass: f64, coefficient: f64, slope_angle: f64) -> f64 {
    mass * GRAVITY * coefficient * slope_angle.cos()
}

/// Weight along the slope, N, positive uphill.
/// ```text
/// F = m g sin θ
/// ```
/// Exact.
/// ```
/// assert_eq!(slipsoak_engine::laws::vehicle::grade(100.0, 0.0), 0.0);
/// ```
pub fn grade(mass: f64, slope_angle: f64) -> f64 {
    mass * GRAVITY * slope_angle.sin()
}

/// Air drag, N, against the motion.
///
/// The pressure of the stopped stream on the drag area.
/// ```text
/// F = ½ ρ C_dA v |v|
/// ```
/// Neglects side wind: errs low in gusts. Textbook law; the drag area is chosen.
/// ```
/// assert_eq!(slipsoak_engine::laws::vehicle::air(1.2, 0.5, 10.0), 30.0);
/// assert_eq!(slipsoak_engine::laws::vehicle::air(1.2, 0.5, -10.0), -30.0);
/// ```
pub fn air<R: Real>(density: f64, drag_area: f64, v: R) -> R {
    v * v.abs() * (0.5 * density * drag_area)
}

/// Inertia of the moving vehicle as the drum feels it, M′, kg·m².
///
/// Equal kinetic energy at the drum's speed, v = ω r_w/i.
/// ```text
/// M′ = (m + ΣJ_wheel/r_w²) r_w²/i²
/// ```
/// Neglects the chain's mass (under 1 %). Exact otherwise.
/// ```
/// let m = slipsoak_engine::laws::vehicle::reduced_mass(100.0, 1.0, 0.2, 5.0);
/// assert!((m - 0.2).abs() < 1e-12);
/// ```
pub fn reduced_mass(mass: f64, wheel_inertia: f64, wheel_radius: f64, ratio: f64) -> f64 {
    (mass * wheel_radius * wheel_radius + wheel_inertia) / (ratio * ratio)
}
