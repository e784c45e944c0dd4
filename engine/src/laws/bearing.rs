//! Friction of the porous bushing and of the washer.

use crate::real::Real;

/// Speed difference over which Coulomb friction turns its sign, rad/s. Assumed: small against any slip that heats.
pub const COULOMB_BAND: f64 = 0.5;

/// Coulomb friction torque, N·m, with the sign of the speed difference.
/// ```text
/// T = μ F r tanh(Δω/0.5)
/// ```
/// The smooth step replaces sticking: below 0.5 rad/s it creeps where a real bearing would hold. Textbook law, band assumed.
/// ```
/// let t = slipsoak_engine::laws::bearing::coulomb(0.1, 100.0, 0.01, 50.0);
/// assert!((t - 0.1).abs() < 1e-12);
/// ```
pub fn coulomb<R: Real>(mu: R, force: R, radius: f64, dw: R) -> R {
    mu * force * (dw / COULOMB_BAND).tanh() * radius
}

/// Viscous drag torque of the film in the clearance, N·m.
///
/// A centred shaft shears the film (Petroff); a cap stands for the film's own heating when cold.
/// ```text
/// T_P = 2π R³ L η Δω/c · fill,    T = T_P/(1 + |T_P|/T_most)
/// ```
/// Neglects eccentricity: errs low under load. Petroff's law is textbook; the cap is assumed.
/// ```
/// let t = slipsoak_engine::laws::bearing::viscous(0.01, 0.03, 25e-6, 1e9, 0.1, 100.0, 1.0);
/// assert!((t - 0.0754).abs() < 1e-4); // 2π·1e-6·0.03·0.1·100/25e-6
/// ```
pub fn viscous<R: Real>(radius: f64, length: f64, clearance: f64, most: f64, viscosity: R, dw: R, fill: R) -> R {
    let t = viscosity * dw * fill * (std::f64::consts::TAU * radius * radius * radius * length / clearance);
    t / (t.abs() / most + 1.0)
}

/// Friction coefficient between oiled and dry, 1.
/// ```text
/// μ = a μ_oiled + (1 − a) μ_dry
/// ```
/// Patches side by side; neglects a hydrodynamic regime: errs high in fast light running. Assumed.
/// ```
/// assert!((slipsoak_engine::laws::bearing::friction_mixed(0.1, 0.3, 0.5) - 0.2).abs() < 1e-12);
/// ```
pub fn friction_mixed<R: Real>(oiled: f64, dry: f64, a: R) -> R {
    a * (oiled - dry) + dry
}

/// How well the bushing is lubricated, a, 0 dry to 1 oiled.
///
/// Either the pores can still feed the face or there is oil in the clearance; only when both fail is it dry.
/// ```text
/// a = 1 − (1 − smooth((S − 0.2)/0.5))(1 − fill)
/// ```
/// Neglects the delay of feeding: errs high just after a start. Assumed.
/// ```
/// use slipsoak_engine::laws::bearing::lubrication;
/// assert_eq!(lubrication(1.0, 0.0), 1.0);
/// assert_eq!(lubrication(0.1, 0.25), 0.25);
/// assert!((lubrication(0.45_f64, 0.0) - 0.5).abs() < 1e-12);
/// ```
pub fn lubrication<R: Real>(saturation: R, fill: R) -> R {
    let pores = ((saturation - 0.2) / 0.5).smooth();
    -(-pores + 1.0) * (-fill + 1.0) + 1.0
}

/// Load of a plain bearing, PV, Pa·m/s.
///
/// Mean pressure on the bore's shadow times the sliding speed: friction heat per area is μ times this.
/// ```text
/// PV = F/(D L) · v
/// ```
/// Neglects edge loading: errs low. Mott, Machine Elements in Mechanical Design, chapter 16.
/// ```
/// assert_eq!(slipsoak_engine::laws::bearing::pressure_speed(8.0, 2.0, 2.0, 3.0), 6.0);
/// ```
pub fn pressure_speed(force: f64, bore: f64, length: f64, sliding_speed: f64) -> f64 {
    force / (bore * length) * sliding_speed
}
