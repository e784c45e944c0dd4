//! Heat from surfaces to the surrounding air.

use crate::laws::air;
use crate::laws::vehicle::GRAVITY;
use crate::real::Real;

/// Stefan–Boltzmann constant, W/(m²·K⁴). CODATA 2018, exact.
pub const STEFAN_BOLTZMANN: f64 = 5.670374419e-8;

/// Smoothing of |ΔT| at rest, K².
const AT_REST: f64 = 0.01;

/// |ΔT| rounded at zero, K.
fn difference<R: Real>(a: R, b: f64) -> R {
    ((a - b).squared() + AT_REST).sqrt()
}

/// Heat transfer coefficient of the rotating drum's band, W/(m²·K).
///
/// Spin, driving wind and buoyancy stir the same layer of air; their squared Reynolds numbers add.
/// ```text
/// Nu = 0.135 [(½ Re_ω² + Re_V² + Gr) Pr]^⅓,   Re_ω = ω D²/2ν,  Re_V = V D/ν,  Gr = g β |ΔT| D³/ν²,  h = Nu k/D
/// ```
/// Air at the mean of surface and ambient. Neglects the hub, fins and neighbours: errs ±20 %; |ΔT| is rounded over 0.1 K.
/// Kays & Bjorklund, Trans. ASME 80 (1958) 70–78. ω in rad/s gives this Re_ω; a text that prints Re 2π larger is wrong.
/// ```
/// use slipsoak_engine::laws::{air::SEA_LEVEL, convection::band};
/// let still: f64 = band(SEA_LEVEL, 0.11, 0.0, 0.0, 373.15, 293.15);
/// let spun: f64 = band(SEA_LEVEL, 0.11, 300.0, 0.0, 373.15, 293.15);
/// assert!(still > 5.0 && still < 10.0 && spun > 4.0 * still);
/// ```
pub fn band<R: Real>(pressure: f64, diameter: f64, w: R, air_speed: R, t_surface: R, t_ambient: f64) -> R {
    let t = (t_surface + t_ambient) * 0.5;
    let nu = air::viscosity(t) / air::density(pressure, t);
    let spin = (w * (diameter * diameter * 0.5)).squared() * 0.5;
    let wind = (air_speed * diameter).squared();
    let rise = difference(t_surface, t_ambient) / t * (GRAVITY * diameter.powi(3));
    let bracket = (spin + wind + rise) / nu.squared() * air::PRANDTL;
    bracket.cbrt() * air::conductivity(t) * (0.135 / diameter)
}

/// Heat transfer coefficient of a disc spinning in still air, laminar, W/(m²·K).
///
/// The disc throws its own boundary layer outward; the same coefficient everywhere.
/// ```text
/// h = 0.326 k (ω² + 0.01)^¼/√ν
/// ```
/// Exact similarity solution at Pr 0.71 (0.3259) but for the rounding at rest; neglects turbulence beyond
/// ω R²/ν ≈ 2.4e5 (errs low) and the cross-flow of driving (errs low).
/// ```
/// let h: f64 = slipsoak_engine::laws::convection::disc(101_325.0, 200.0, 300.0);
/// assert!((h - 30.5).abs() < 0.5);
/// ```
pub fn disc<R: Real>(pressure: f64, w: R, t_film: R) -> R {
    let nu = air::viscosity(t_film) / air::density(pressure, t_film);
    (w.squared() + 0.01).sqrt().sqrt() * air::conductivity(t_film) / nu.sqrt() * 0.326
}

/// Conductance from the sprocket through the running chain to the air, W/K.
///
/// Links take heat up where they touch the teeth and lose it on their way.
/// ```text
/// G = G_ch [(ω² + 1)/200²]^¼
/// ```
/// G_ch at 200 rad/s. The square root is that of contact by conduction into links that stay for a time 1/ω; the chain's own
/// capacity rate, 600 W/K, is no limit. Form from that, G_ch assumed, 0 to 1 W/K: no source.
/// ```
/// let g: f64 = slipsoak_engine::laws::convection::chain(0.3, 200.0);
/// assert!((g - 0.3).abs() < 1e-5);
/// ```
pub fn chain<R: Real>(at_200: f64, w: R) -> R {
    const REFERENCE: f64 = 200.0;
    ((w.squared() + 1.0) / (REFERENCE * REFERENCE)).sqrt().sqrt() * at_200
}

/// Natural convection from a vertical plate, any Rayleigh number, W/(m²·K).
///
/// Warm air rises along the plate.
/// ```text
/// Nu = {0.825 + 0.387 Ra^⅙/[1 + (0.492/Pr)^(9/16)]^(8/27)}²,   Ra = g β |ΔT| L³ Pr/ν²
/// ```
/// ±10 %; |ΔT| rounded over 0.1 K. Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1323–1329.
/// ```
/// let h: f64 = slipsoak_engine::laws::convection::natural_plate(101_325.0, 0.1, 373.15, 293.15);
/// assert!(h > 6.0 && h < 9.0);
/// ```
pub fn natural_plate<R: Real>(pressure: f64, length: f64, t_surface: R, t_ambient: f64) -> R {
    /// 0.387/[1 + (0.492/Pr)^(9/16)]^(8/27) at Pr 0.70
    const SHAPE: f64 = 0.32407553881667833;
    let t = (t_surface + t_ambient) * 0.5;
    let nu = air::viscosity(t) / air::density(pressure, t);
    let rayleigh = difference(t_surface, t_ambient) / t / nu.squared() * (GRAVITY * length.powi(3) * air::PRANDTL);
    (rayleigh.cbrt().sqrt() * SHAPE + 0.825).squared() * air::conductivity(t) / length
}

/// Radiation to large surroundings as a coefficient, W/(m²·K).
/// ```text
/// h = ε σ (T² + T_a²)(T + T_a),   so that h (T − T_a) = ε σ (T⁴ − T_a⁴)
/// ```
/// Grey and diffuse, view factor 1: errs high where a guard reflects. Stefan–Boltzmann, exact.
/// ```
/// let h: f64 = slipsoak_engine::laws::convection::radiation(1.0, 300.0, 300.0);
/// assert!((h - 6.124).abs() < 1e-3); // 4σT³
/// ```
pub fn radiation<R: Real>(emissivity: f64, t_surface: R, t_ambient: f64) -> R {
    (t_surface.squared() + t_ambient * t_ambient) * (t_surface + t_ambient) * (emissivity * STEFAN_BOLTZMANN)
}
