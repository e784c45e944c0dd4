//! The oil: viscosity, density, surface tension; soaking in, being flung, drying and ageing.

use crate::elementary::{exp, ln};
use crate::laws::wear::GAS;
use crate::real::Real;
use std::f64::consts::{LN_2, LN_10};

/// Temperature at which these laws are held, K: oil cracks from 350 °C or so, and none is left beyond.
const HOTTEST: f64 = 500.0 + 273.15;
/// Temperature of a surface at which mineral oil on it smokes, K: base oils flash at 200 to 240 °C in an open cup, and smoke
/// before. Published (abstract).
pub const SMOKES: f64 = 200.0 + 273.15;
/// Temperature of a surface that can light oil vapour, K: rules for ships call it a high-temperature surface from 220 °C on (IMO,
/// abstract).
pub const LIGHTS: f64 = 220.0 + 273.15;
/// Temperature of a surface on which oil may catch fire without a spark, K. Published (abstract).
pub const IGNITES: f64 = 300.0 + 273.15;
/// Least surface tension, over that at 20 °C: the straight line would reach zero at 463 °C and turn the oil's motion about.
const LEAST_TENSION: f64 = 0.1;
/// Greatest evaporation, kg/(m²·s): what leaves a face at a vapour pressure of 1 atm by the kinetic theory of gases
/// (Hertz and Knudsen, p √(M/(2πRT)) with 0.4 kg/mol at 700 K).
const MOST_EVAPORATION: f64 = 335.0;

/// Viscosity of one oil over temperature: Walther's line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walther {
    /// ordinate, 1
    pub a: f64,
    /// slope, 1
    pub b: f64,
}

impl Walther {
    /// The line through two measured points, temperatures in K, kinematic viscosities in m²/s.
    /// ```text
    /// log10 log10(ν/1 cSt + 0.7) = A − B log10 T
    /// ```
    /// Good to about 1 % between the points, worse far outside and below 2 cSt. ASTM D341, eq. (1) in form.
    /// ```
    /// use slipsoak_engine::laws::oil::Walther;
    /// let oil = Walther::through(313.15, 100e-6, 373.15, 11.2e-6);
    /// assert!((oil.a - 9.15482).abs() < 1e-5 && (oil.b - 3.54728).abs() < 1e-5);
    /// ```
    pub fn through(t1: f64, nu1: f64, t2: f64, nu2: f64) -> Self {
        let y = |nu: f64| libm::log10(libm::log10(nu * 1e6 + 0.7));
        let b = (y(nu1) - y(nu2)) / (libm::log10(t2) - libm::log10(t1));
        Self { a: y(nu1) + b * libm::log10(t1), b }
    }

    /// Kinematic viscosity, m²/s.
    /// ```text
    /// ν = (10^10^(A − B log10 T) − 0.7) cSt
    /// ```
    /// ```
    /// use slipsoak_engine::laws::oil::Walther;
    /// let nu = Walther::through(313.15, 100e-6, 373.15, 11.2e-6).kinematic(313.15);
    /// assert!((nu - 100e-6_f64).abs() < 1e-12);
    /// ```
    pub fn kinematic<R: Real>(&self, t: R) -> R {
        let (nu, falls) = self.falling(t.value());
        t.chain(nu, -nu * falls)
    }

    /// Kinematic viscosity, m²/s, and the share of it lost per kelvin, 1/K.
    /// ```text
    /// −ν′/ν = B ln 10 · log10(ν + 0.7) (ν + 0.7)/(ν T),   ν in cSt
    /// ```
    /// Exact slope of [`Self::kinematic`].
    /// ```
    /// use slipsoak_engine::laws::oil::Walther;
    /// let oil = Walther::through(313.15, 100e-6, 373.15, 11.2e-6);
    /// assert!((oil.falling(293.15_f64).1 - 0.0707).abs() < 1e-4);
    /// ```
    pub fn falling<R: Real>(&self, t: R) -> (R, R) {
        let at = t.value();
        let logarithm = exp(ln(at) * -self.b + self.a * LN_10);
        let shifted = exp(logarithm * LN_10);
        let nu = shifted - 0.7;
        let falls = logarithm * shifted / (nu * at) * (self.b * LN_10);
        // log10(ν + 0.7) falls as T^−B.
        let steeper = falls * (0.7 / shifted) - (self.b + 1.0) / at;
        (t.chain(nu * 1e-6, -nu * falls * 1e-6), t.chain(falls, falls * steeper))
    }
}

/// Thermal expansion of lubricating oil at 15 °C, 1/K.
/// ```text
/// α = 0.6278/ρ15
/// ```
/// ASTM D1250-80, table 54D.
fn expansion_15(rho15: f64) -> f64 {
    0.6278 / rho15
}

/// Density of lubricating oil, kg/m³.
/// ```text
/// ρ = ρ15 exp[−αΔT (1 + 0.8 αΔT)],   ΔT = T − 15 °C
/// ```
/// Neglects pressure. ASTM D1250-80, table 54D; valid to 150 °C or so, beyond it errs a little. Held at its value at 500 °C.
/// ```
/// assert_eq!(slipsoak_engine::laws::oil::density(885.0, 288.15), 885.0);
/// ```
pub fn density<R: Real>(rho15: f64, t: R) -> R {
    let x = (t.value().min(HOTTEST) - 288.15) * expansion_15(rho15);
    let density = exp(-x * (x * 0.8 + 1.0)) * rho15;
    let slope = if t.value() <= HOTTEST { -density * expansion(rho15, t.value()) } else { 0.0 };
    t.chain(density, slope)
}

/// Thermal expansion of lubricating oil by volume, 1/K; minus the logarithmic slope of [`density`].
/// ```text
/// β = α (1 + 1.6 α ΔT)
/// ```
/// Exact for that law up to 500 °C, where it is held.
/// ```
/// let b = slipsoak_engine::laws::oil::expansion(627.8, 288.15);
/// assert!((b - 0.001_f64).abs() < 1e-15);
/// ```
pub fn expansion<R: Real>(rho15: f64, t: R) -> R {
    let alpha = expansion_15(rho15);
    ((t.min(R::from(HOTTEST)) - 288.15) * (1.6 * alpha) + 1.0) * alpha
}

/// Surface tension, N/m.
/// ```text
/// γ = γ20 + s (T − 20 °C)
/// ```
/// Straight over −20..200 °C, never below a tenth of γ20; neglects additives. Handbook values for mineral oil.
/// ```
/// let g = slipsoak_engine::laws::oil::tension(0.031, -7e-5, 393.15);
/// assert!((g - 0.024_f64).abs() < 1e-12);
/// ```
pub fn tension<R: Real>(at20: f64, slope: f64, t: R) -> R {
    ((t - 293.15) * slope + at20).max(R::from(LEAST_TENSION * at20))
}

/// Volume thrown off an area of standing film, m³/s: spin thins an even film, which stays even.
/// ```text
/// q = A · 2 ρ ω² h³/(3η)
/// ```
/// Neglects tension at the rim: errs high on the last micrometres. Emslie, Bonner & Peck, J. Appl. Phys. 29 (1958) 858.
/// ```
/// assert_eq!(slipsoak_engine::laws::oil::fling(0.5, 3.0, 1.0, 2.0, 1.0), 4.0);
/// ```
pub fn fling<R: Real>(area: f64, density: R, viscosity: R, w: R, film: R) -> R {
    density * w.squared() * film.squared() * film / viscosity * (2.0 / 3.0 * area)
}

/// Evaporation from an oiled face, kg/(m²·s).
/// ```text
/// J = J100 exp[−(H/R)(1/T − 1/373.15 K)]
/// ```
/// Neglects the wind over the face and the loss of light ends: errs high late in life. Constants assumed. Held at its value
/// at 500 °C, and never above 335 kg/(m²·s), the most that leaves a boiling face (Hertz and Knudsen).
/// ```
/// let j: f64 = slipsoak_engine::laws::oil::evaporation(3e-8, 105e3, 373.15);
/// assert!((j - 3e-8).abs() < 1e-20);
/// ```
pub fn evaporation<R: Real>(j100: f64, h: f64, t: R) -> R {
    let at = t.value().min(HOTTEST);
    let flux = exp((1.0 / at - 1.0 / 373.15) * (-h / GAS)) * j100;
    let held = t.value() > HOTTEST || flux > MOST_EVAPORATION;
    t.chain(flux.min(MOST_EVAPORATION), if held { 0.0 } else { flux * (h / GAS) / (at * at) })
}

/// Growth of the oxidation x, 1/s.
/// ```text
/// x′ = 2^((T − 100 °C)/10 K)/L100
/// ```
/// The ten-degree rule; neglects metal catalysis: errs low on bronze. Range of L100 two decades.
/// ```
/// let x: f64 = slipsoak_engine::laws::oil::oxidation_rate(1000.0, 393.15);
/// assert!((x - 0.004).abs() < 1e-15); // four times as fast at 120 °C
/// ```
pub fn oxidation_rate<R: Real>(life_100: f64, t: R) -> R {
    ((t - 373.15) * (LN_2 / 10.0)).exp() / life_100
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn oil_keeps_a_weight_a_thickness_and_a_pull_however_hot_a_part_is_computed() {
        let walther = Walther::through(313.15, 100e-6, 373.15, 11.2e-6);
        for t in [233.15, 293.15, 736.0, 773.15, 774.0, 1500.0, 4000.0, 3e5] {
            let all = [density(885.0, t), tension(0.031, -7e-5, t), walther.kinematic(t), evaporation(1e-4, 500e3, t)];
            assert!(all.iter().all(|value| *value > 0.0 && value.is_finite()), "{all:?} at {t} K");
            assert!(expansion(885.0, t) < 2e-3, "at {t} K");
        }
        // Evaporation is held from 500 °C on, though far below the most that leaves a boiling face.
        assert_eq!(evaporation(3e-8, 105e3, 4000.0), evaporation(3e-8, 105e3, 773.15));
        assert!(evaporation(3e-8, 105e3, 773.15) > 1.5 * evaporation(3e-8, 105e3, 753.15));
        // Up to 400 °C nothing is held.
        assert_eq!(tension(0.031, -7e-5, 673.15), 0.031 - 7e-5 * 380.0);
    }
}
