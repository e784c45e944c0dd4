//! Textbook solutions of conduction and flash temperature, for checks.

use std::f64::consts::PI;

/// Temperature of the rubbed face, a node without mass that takes the slip heat, K.
///
/// What comes in by friction leaves by the two conductances beside it.
/// ```text
/// T = (P + G_l T_l + G_d T_d)/(G_l + G_d)
/// ```
/// Neglects flash peaks at asperities. Exact.
pub fn interface(power: f64, g_lining: f64, t_lining: f64, g_drum: f64, t_drum: f64) -> f64 {
    (power + t_lining * g_lining + t_drum * g_drum) / (g_lining + g_drum)
}

/// Two conductances one after the other, W/K.
/// ```text
/// 1/G = 1/G1 + 1/G2
/// ```
/// Exact.
pub fn in_series(first: f64, second: f64) -> f64 {
    second * first / (second + first)
}

/// Effusivity, J/(m²·K·√s).
/// ```text
/// e = √(k ρ c)
/// ```
/// Exact.
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
pub fn split(e_lining: f64, a_lining: f64, e_drum: f64, a_drum: f64) -> f64 {
    e_lining * a_lining / (e_lining * a_lining + e_drum * a_drum)
}

/// Rise of the shared face of two half-spaces under a constant power, K.
/// ```text
/// θ = 2 P √(t/π)/(e_l A_l + e_d A_d)
/// ```
/// Exact until heat reaches a back face.
pub fn half_spaces(power: f64, time: f64, ea_lining: f64, ea_drum: f64) -> f64 {
    2.0 * power * (time / PI).sqrt() / (ea_lining + ea_drum)
}

/// Rise of the shared face of two half-spaces under a power that fades to nothing at `stop`, K.
/// ```text
/// P(t) = P0 (1 − t/t_s),   θ = 2 P0 √(t/π) (1 − 2t/3t_s)/(e_l A_l + e_d A_d)
/// ```
/// Exact until heat reaches a back face. Limpert, Brake Design and Safety.
pub fn fading(power: f64, stop: f64, time: f64, ea: f64) -> f64 {
    half_spaces(power, time, ea, 0.0) * (1.0 - 2.0 * time / (3.0 * stop))
}

/// Rise in a half-space under a constant flux, K.
/// ```text
/// θ = q/k [2√(αt/π) exp(−x²/4αt) − x erfc(x/2√(αt))]
/// ```
/// Exact. Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., section 2.9.
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
pub fn repeated_bursts(heat: f64, capacity: f64, conductance: f64, period: f64, bursts: u32) -> f64 {
    let decay = -conductance * period / capacity;
    heat / capacity * libm::expm1(decay * f64::from(bursts)) / libm::expm1(decay)
}

/// Highest rise of a round spot that carries an even flux over a half-space, K.
///
/// The heat spreads into what stands still and is carried away by what passes; the hottest point moves from its middle to its rear.
/// ```text
/// θ = 2 q a/(k √(π (1.273 + Pe))),   Pe = U a/(2α)
/// ```
/// `flux` q W/m², `radius` a m, `speed` U m/s of the spot over the body, `k` W/(m·K), `diffusivity` α m²/s. One body takes all
/// heat: errs high, by the share the other takes. A fit to the exact moving source: within 2.5 %. Tian & Kennedy, J. Tribology
/// 116 (1994) 167–174.
pub fn highest(flux: f64, radius: f64, speed: f64, k: f64, diffusivity: f64) -> f64 {
    2.0 * flux * radius / (k * (std::f64::consts::PI * (1.273 + peclet(radius, speed, diffusivity))).sqrt())
}

/// Mean rise of the same spot, K.
/// ```text
/// θ = 1.22 q a/(k √(π (0.6575 + Pe)))
/// ```
/// Same neglect and source; within 4 % of the exact moving source.
pub fn mean(flux: f64, radius: f64, speed: f64, k: f64, diffusivity: f64) -> f64 {
    1.22 * flux * radius / (k * (std::f64::consts::PI * (0.6575 + peclet(radius, speed, diffusivity))).sqrt())
}

/// Péclet number of a moving spot, 1: how far heat lags behind it.
/// ```text
/// Pe = U a/(2α)
/// ```
/// Exact.
pub fn peclet(radius: f64, speed: f64, diffusivity: f64) -> f64 {
    speed * radius / (2.0 * diffusivity)
}
