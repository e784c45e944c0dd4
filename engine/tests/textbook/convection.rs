//! Textbook correlations of convection, for checks.

/// Nusselt number of a horizontal cylinder in still fluid, 1.
/// ```text
/// Nu = {0.60 + 0.387 Ra^⅙/[1 + (0.559/Pr)^(9/16)]^(8/27)}²,   Ra ≤ 1e12
/// ```
/// ±20 %, long cylinder. Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049–1053.
pub fn natural_cylinder(rayleigh: f64, prandtl: f64) -> f64 {
    (0.60 + 0.387 * rayleigh.powf(1.0 / 6.0) / (1.0 + (0.559 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0)).powi(2)
}

/// Nusselt number of a cylinder in cross-flow, 1.
/// ```text
/// Nu = 0.3 + 0.62 Re^½ Pr^⅓/[1 + (0.4/Pr)^⅔]^¼ · [1 + (Re/282 000)^⅝]^⅘,   Re Pr > 0.2
/// ```
/// ±20 %. Churchill & Bernstein, J. Heat Transfer 99 (1977) 300–306.
pub fn crossflow(reynolds: f64, prandtl: f64) -> f64 {
    let laminar = 0.62 * reynolds.sqrt() * prandtl.cbrt() / (1.0 + (0.4 / prandtl).powf(2.0 / 3.0)).powf(0.25);
    0.3 + laminar * (1.0 + (reynolds / 282_000.0).powf(0.625)).powf(0.8)
}

/// Nusselt number of a horizontal cylinder that spins in wind and buoyancy, given the bare numbers, 1.
/// ```text
/// Nu = 0.135 [(½ Re_ω² + Re_V² + Gr) Pr]^⅓
/// ```
/// The law of [`band`] with the fluid's properties left to the caller; same source and error.
pub fn rotating_cylinder(reynolds_spin: f64, reynolds_wind: f64, grashof: f64, prandtl: f64) -> f64 {
    0.135 * ((0.5 * reynolds_spin.powi(2) + reynolds_wind.powi(2) + grashof) * prandtl).cbrt()
}

/// Nusselt number of a horizontal cylinder that spins in still fluid, 1.
/// ```text
/// Nu = 0.11 [(½ Re_ω² + Gr) Pr]^0.35,   Re_ω = ω D²/2ν
/// ```
/// ±20 %; an older fit beside [`rotating_cylinder`], for comparison. Etemad (1955), as in Kreith, Principles of Heat
/// Transfer, 7th ed., section 5.5.
pub fn rotating_cylinder_still(reynolds_spin: f64, grashof: f64, prandtl: f64) -> f64 {
    0.11 * ((0.5 * reynolds_spin.powi(2) + grashof) * prandtl).powf(0.35)
}
