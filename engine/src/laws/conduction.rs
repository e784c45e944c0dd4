//! Heat inside the lining and the drum's wall, and across the rubbed face.

use crate::real::Real;
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

/// Temperature of the rubbed face, a node without mass that takes the slip heat, K.
///
/// What comes in by friction leaves by the two conductances beside it.
/// ```text
/// T = (P + G_l T_l + G_d T_d)/(G_l + G_d)
/// ```
/// Neglects flash peaks at asperities. Exact.
/// ```
/// assert_eq!(slipsoak_engine::laws::conduction::interface(8.0, 1.0, 300.0, 3.0, 300.0), 302.0);
/// ```
pub fn interface<R: Real>(power: R, g_lining: f64, t_lining: R, g_drum: f64, t_drum: R) -> R {
    (power + t_lining * g_lining + t_drum * g_drum) / (g_lining + g_drum)
}

/// Two conductances one after the other, W/K.
/// ```text
/// 1/G = 1/G1 + 1/G2
/// ```
/// Exact.
/// ```
/// assert_eq!(slipsoak_engine::laws::conduction::in_series(6.0, 3.0), 2.0);
/// ```
pub fn in_series<R: Real>(first: f64, second: R) -> R {
    second * first / (second + first)
}

/// Effusivity, J/(m²·K·√s).
/// ```text
/// e = √(k ρ c)
/// ```
/// Exact.
/// ```
/// assert_eq!(slipsoak_engine::laws::conduction::effusivity(4.0, 9.0), 6.0);
/// ```
pub fn effusivity(k: f64, rho_c: f64) -> f64 {
    (k * rho_c).sqrt()
}

/// Share of the slip heat that enters the lining at short times, 1.
///
/// Both faces have one temperature, so the heat divides as effusivity times area.
/// ```text
/// s = e_l A_l/(e_l A_l + e_d A_d)
/// ```
/// Right until heat has crossed the thinner body. Exact for half-spaces.
/// ```
/// assert_eq!(slipsoak_engine::laws::conduction::split(1.0, 1.0, 3.0, 1.0), 0.25);
/// ```
pub fn split(e_lining: f64, a_lining: f64, e_drum: f64, a_drum: f64) -> f64 {
    e_lining * a_lining / (e_lining * a_lining + e_drum * a_drum)
}

/// Rise of the shared face of two half-spaces under a constant power, K.
/// ```text
/// θ = 2 P √(t/π)/(e_l A_l + e_d A_d)
/// ```
/// Exact until heat reaches a back face.
/// ```
/// let t = slipsoak_engine::laws::conduction::half_spaces(6.0, std::f64::consts::PI, 2.0, 1.0);
/// assert!((t - 4.0).abs() < 1e-12);
/// ```
pub fn half_spaces(power: f64, time: f64, ea_lining: f64, ea_drum: f64) -> f64 {
    2.0 * power * (time / PI).sqrt() / (ea_lining + ea_drum)
}

/// Rise in a half-space under a constant flux, K.
/// ```text
/// θ = q/k [2√(αt/π) exp(−x²/4αt) − x erfc(x/2√(αt))]
/// ```
/// Exact. Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., section 2.9.
/// ```
/// let t = slipsoak_engine::laws::conduction::semi_infinite(1.0, 1.0, 1.0, 0.0, std::f64::consts::PI);
/// assert!((t - 2.0).abs() < 1e-12);
/// ```
pub fn semi_infinite(flux: f64, k: f64, diffusivity: f64, depth: f64, time: f64) -> f64 {
    let at = diffusivity * time;
    flux / k
        * (2.0 * (at / PI).sqrt() * libm::exp(-depth * depth / (4.0 * at))
            - depth * libm::erfc(depth / (2.0 * at.sqrt())))
}

/// Dimensionless rise θ k/(q L) in a slab with constant flux on one face and the other insulated, 1.
///
/// `place` X = x/L runs from the insulated face (0) to the heated one (1).
/// ```text
/// θ = Fo + (3X² − 1)/6 − (2/π²) Σ (−1)ⁿ/n² exp(−n²π²Fo) cos nπX
/// ```
/// Exact; 4000 terms. Carslaw & Jaeger, 2nd ed., section 3.8.
/// ```
/// let t = slipsoak_engine::laws::conduction::slab(2.0, 1.0);
/// assert!((t - 2.0 - 1.0 / 3.0).abs() < 1e-8);
/// ```
pub fn slab(fourier: f64, place: f64) -> f64 {
    let series: f64 = (1..=4000)
        .map(|n: i32| {
            let m = f64::from(n);
            let sign = if n % 2 == 0 { 1.0 } else { -1.0 };
            sign / (m * m) * libm::exp(-m * m * PI * PI * fourier) * libm::cos(m * PI * place)
        })
        .sum();
    fourier + (3.0 * place * place - 1.0) / 6.0 - 2.0 / (PI * PI) * series
}

/// Temperature rise of one lump right after the n-th of equal, evenly spaced bursts of heat, K.
/// ```text
/// θ_n = Q/C (1 − qⁿ)/(1 − q),   q = exp(−hA Δt/C)
/// ```
/// One temperature for the whole lump: errs low on the surface. Exact for a lump.
/// ```
/// assert_eq!(slipsoak_engine::laws::conduction::repeated_bursts(6.0, 2.0, 1.0, 5.0, 1), 3.0);
/// ```
pub fn repeated_bursts(heat: f64, capacity: f64, conductance: f64, period: f64, bursts: u32) -> f64 {
    let decay = -conductance * period / capacity;
    heat / capacity * libm::expm1(decay * f64::from(bursts)) / libm::expm1(decay)
}
