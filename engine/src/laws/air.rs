//! Properties of dry air, −20..500 °C, and its pressure over the altitude.

use crate::real::Real;

/// Temperature at which the fits are held, K: both turn down beyond, and the one of conductivity below zero at 3950 K.
const HOTTEST: f64 = 1500.0;

/// Prandtl number of air, 1. Constant over the range within 3 %.
pub const PRANDTL: f64 = 0.70;

/// Thermal conductivity, W/(m·K), within 0.7 %.
/// ```text
/// k = −2.1748e-8 T² + 8.5268e-5 T + 2.7492e-3
/// ```
/// A fit to CoolProp 8.0.0 over −20..500 °C, held above 1500 K; humidity is neglected (under 1 % below 40 °C).
/// ```
/// let k = slipsoak_engine::laws::air::conductivity(300.0);
/// assert!((k - 0.02637).abs() < 1e-5);
/// ```
pub fn conductivity<R: Real>(t: R) -> R {
    let t = t.min(R::from(HOTTEST));
    (t * -2.1748e-8 + 8.5268e-5) * t + 2.7492e-3
}

/// Dynamic viscosity, Pa·s, within 0.7 %.
/// ```text
/// μ = −1.8253e-11 T² + 5.7426e-8 T + 2.9418e-6
/// ```
/// A fit to CoolProp 8.0.0 over −20..500 °C, held above 1500 K; humidity is neglected.
/// ```
/// let mu = slipsoak_engine::laws::air::viscosity(300.0);
/// assert!((mu - 1.853e-5).abs() < 1e-8);
/// ```
pub fn viscosity<R: Real>(t: R) -> R {
    let t = t.min(R::from(HOTTEST));
    (t * -1.8253e-11 + 5.7426e-8) * t + 2.9418e-6
}

/// Pressure of the standard atmosphere at sea level, Pa.
pub const SEA_LEVEL: f64 = 101_325.0;

/// Density, kg/m³, of an ideal gas at a pressure, Pa.
/// ```text
/// ρ = p/(R T),   R 287.055 J/(kg·K)
/// ```
/// Neglects humidity: errs high by up to 2 % on a hot wet day.
/// ```
/// use slipsoak_engine::laws::air::{SEA_LEVEL, density};
/// assert!((density(SEA_LEVEL, 293.15) - 1.204).abs() < 1e-3);
/// ```
pub fn density<R: Real>(pressure: f64, t: R) -> R {
    R::from(pressure / 287.055) / t
}

/// Pressure of the standard atmosphere at an altitude, Pa; altitude in m, up to 11 000 m.
/// ```text
/// p = 101 325 (1 − 2.25577e-5 z)^5.25588
/// ```
/// Neglects the weather: ± 3 %. ISO 2533.
/// ```
/// assert_eq!(slipsoak_engine::laws::air::pressure(0.0), 101_325.0);
/// ```
pub fn pressure(altitude: f64) -> f64 {
    SEA_LEVEL * libm::pow(1.0 - 2.25577e-5 * altitude, 5.25588)
}
