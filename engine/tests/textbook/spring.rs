//! Textbook laws of coiled springs, for checks.

use std::f64::consts::PI;

/// Rate of a close-coiled spring, N/m.
///
/// The wire twists; each coil adds its share of deflection.
/// ```text
/// k = G d⁴/(8 D³ N)
/// ```
/// Neglects bending and hooks: errs high by a few per cent. Shigley, Mechanical Engineering Design, 9th ed., eq. 10-9.
pub fn rate(modulus: f64, wire: f64, mean_diameter: f64, active_coils: f64) -> f64 {
    modulus * wire.powi(4) / (8.0 * mean_diameter.powi(3) * active_coils)
}

/// Active coils that give a rate, 1; the inverse of [`rate`].
/// ```text
/// N = G d⁴/(8 D³ k)
/// ```
pub fn active_coils(modulus: f64, wire: f64, mean_diameter: f64, rate: f64) -> f64 {
    modulus * wire.powi(4) / (8.0 * mean_diameter.powi(3) * rate)
}

/// Factor on the wire's shear stress for its curvature and the direct shear (Wahl), 1.
/// ```text
/// K = (4C − 1)/(4C − 4) + 0.615/C,   C = D/d
/// ```
/// Within 1 % of the exact solution for C ≥ 4. Shigley, 9th ed., section 10-2.
pub fn wahl(index: f64) -> f64 {
    (4.0 * index - 1.0) / (4.0 * index - 4.0) + 0.615 / index
}

/// Greatest shear stress in the wire, Pa.
/// ```text
/// τ = K 8 F D/(π d³)
/// ```
/// Elastic; neglects the hooks' stress. Shigley, 9th ed., eq. 10-7.
pub fn shear_stress(force: f64, mean_diameter: f64, wire: f64) -> f64 {
    wahl(mean_diameter / wire) * 8.0 * force * mean_diameter / (PI * wire.powi(3))
}
