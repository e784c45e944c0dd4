//! Heat inside the lining and the drum's wall.

use std::f64::consts::{PI, TAU};

/// Heat capacity of a ring, J/K.
/// ```text
/// C = π (r_o² − r_i²) w φ ρc
/// ```
/// `share` φ is the part of the circumference that is there. Exact.
/// ```
/// let c = slipsoak_engine::laws::conduction::ring_capacity(1.0, 2.0, 1.0, 0.5, 2.0);
/// assert!((c - 3.0 * std::f64::consts::PI).abs() < 1e-12);
/// ```
pub fn ring_capacity(inner: f64, outer: f64, width: f64, share: f64, rho_c: f64) -> f64 {
    PI * (outer - inner) * (outer + inner) * width * share * rho_c
}

/// Conductance of a ring from its inner to its outer face, W/K.
/// ```text
/// G = 2π w k φ/ln(r_o/r_i)
/// ```
/// Exact for radial flow.
/// ```
/// let g = slipsoak_engine::laws::conduction::ring_conductance(1.0, std::f64::consts::E, 1.0, 1.0, 1.0);
/// assert!((g - std::f64::consts::TAU).abs() < 1e-12);
/// ```
pub fn ring_conductance(inner: f64, outer: f64, width: f64, share: f64, k: f64) -> f64 {
    TAU * width * k * share / libm::log(outer / inner)
}

/// Cell thicknesses of a graded mesh, m, the thinnest first.
/// ```text
/// d_i = d_1 q^(i−1),   Σ d_i = thickness
/// ```
/// Exact.
/// ```
/// assert_eq!(slipsoak_engine::laws::conduction::graded(7.0, 3, 2.0), [1.0, 2.0, 4.0]);
/// ```
pub fn graded(thickness: f64, n: usize, ratio: f64) -> Vec<f64> {
    let mut cells = vec![1.0; n];
    for i in 1..n {
        cells[i] = cells[i - 1] * ratio;
    }
    let sum: f64 = cells.iter().sum();
    cells.iter().map(|d| thickness * d / sum).collect()
}
