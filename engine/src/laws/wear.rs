//! Wear of bushing, washer and lining; relaxation of the spring; ageing of fibre.
//!
//! One dimensional constant per pair, m²/N, worn volume per force and sliding path; never a constant over a hardness.

use crate::real::Real;
use std::f64::consts::{LN_10, PI};

/// Molar gas constant, J/(mol·K). CODATA 2018, exact.
pub const GAS: f64 = 8.314462618;

/// Greatest share of its preload that a spring is let lose, 1. Assumed.
pub const RELAXED_MOST: f64 = 0.5;

/// Temperature up to which the relaxation of springs is known, K: data of spring makers end there.
const RELAXATION_KNOWN: f64 = 473.15;

/// Temperature at which the ageing of fibre is held, K: it is coal long before. Keeps the age finite.
const COAL: f64 = 500.0 + 273.15;

/// Growth of the bushing's bore by wear, m/s on the loaded side.
///
/// The worn volume of a shaft pressed on half the bore, deepest along the load.
/// ```text
/// h′ = (4/π) k F v/(D L)
/// ```
/// Neglects edge loading by a tilted drum: errs low. Shigley, Mechanical Engineering Design, 8th ed., eq. 12-32 in form.
/// ```
/// let h = slipsoak_engine::laws::wear::bushing_rate(std::f64::consts::PI, 1.0, 2.0, 2.0, 1.0);
/// assert!((h - 1.0).abs() < 1e-12);
/// ```
pub fn bushing_rate(k: f64, force: f64, bore: f64, length: f64, sliding_speed: f64) -> f64 {
    4.0 / PI * k * force / (bore * length) * sliding_speed
}

/// Thinning of an annular face, m/s.
///
/// Run-in faces wear evenly, so pressure times radius is the same everywhere.
/// ```text
/// h′ = k F |Δω|/[2π (r_o − r_i)]
/// ```
/// Neglects tilt: errs low at the rim. Exact for uniform wear.
/// ```
/// let h = slipsoak_engine::laws::wear::face_rate(1.0, std::f64::consts::TAU, -3.0, 1.0, 2.0);
/// assert!((h - 3.0).abs() < 1e-12);
/// ```
pub fn face_rate(k: f64, force: f64, slip_speed_rad: f64, inner_radius: f64, outer_radius: f64) -> f64 {
    k * force * slip_speed_rad.abs() / (2.0 * PI * (outer_radius - inner_radius))
}

/// Worn lining volume per slip energy, m³/J.
///
/// Grows exponentially with the face's temperature, and by an activation energy once the resin burns.
/// ```text
/// w = w100 exp(b (T − 100 °C)),                T ≤ T_k
/// w = w(T_k) exp[E/R (1/T_k − 1/T)],           T > T_k
/// ```
/// Average this rate, never the temperature. Form published, constants assumed (ranges of a factor 8).
/// ```
/// let w = slipsoak_engine::laws::wear::lining_constant(40e-15, 0.0075, 503.15, 60e3, 373.15);
/// assert!((w - 40e-15).abs() < 1e-24);
/// ```
pub fn lining_constant(w100: f64, slope: f64, knee: f64, energy: f64, t: f64) -> f64 {
    let below = w100 * crate::elementary::exp(slope * (t.min(knee) - 373.15));
    if t > knee { below * crate::elementary::exp(energy / GAS * (1.0 / knee - 1.0 / t)) } else { below }
}

/// Thinning of the lining, m/s.
/// ```text
/// x′ = w P/A
/// ```
/// Even over the lined area: errs low where one shoe carries more. Energy law of wear.
/// ```
/// assert_eq!(slipsoak_engine::laws::wear::lining_rate(0.5, 8.0, 2.0), 2.0);
/// ```
pub fn lining_rate(w: f64, power: f64, area: f64) -> f64 {
    w * power / area
}

/// Volume worn off a rubbing pair, m³/s.
///
/// Each piece of the face loses depth by its own pressure; summed over the face, only the normal force is left.
/// ```text
/// V′ = k N v
/// ```
/// Neglects running-in: errs low when new. Archard, J. Appl. Phys. 24 (1953) 981, with k for his constant over hardness. For a
/// lining k is w, volume per energy, and N v the power of its friction.
/// ```
/// assert_eq!(slipsoak_engine::laws::wear::volume_rate(0.5, 8.0, 2.0), 8.0);
/// ```
pub fn volume_rate(k: f64, force: f64, sliding_speed: f64) -> f64 {
    k * force * sliding_speed
}

/// Normal forces summed over a half bore, N, for a load across it.
///
/// The pressure follows the cosine of the angle from the load; only its part along the load carries.
/// ```text
/// p = p_0 cos θ:   F = p_0 D L π/4,   N = p_0 D L   →   N = (4/π) F
/// ```
/// Neglects edge loading. Exact for the cosine, which is the pressure in [`bushing_rate`]; the crescent worn off it is
/// depth · D L.
/// ```
/// let n = slipsoak_engine::laws::wear::pressed(std::f64::consts::PI);
/// assert!((n - 4.0).abs() < 1e-12);
/// ```
pub fn pressed(load: f64) -> f64 {
    load / std::f64::consts::FRAC_PI_4
}

/// Wear constant of the fibre washer, m²/N.
///
/// Between dry and oiled in the logarithm by how far it is soaked; heat ageing makes it brittle.
/// ```text
/// k = k_dry (k_oiled/k_dry)^soaked · (1 + age/age_life)
/// ```
/// Assumed throughout: no value for vulcanised fibre on steel has been published. `age` counts time at 105 °C.
/// ```
/// let k = slipsoak_engine::laws::wear::washer_constant(1e-14, 1e-12, 0.5, 10.0, 10.0);
/// assert!((k / 2e-13 - 1.0).abs() < 1e-12);
/// ```
pub fn washer_constant(oiled: f64, dry: f64, soaked: f64, age: f64, age_life: f64) -> f64 {
    dry * crate::elementary::exp(crate::elementary::ln(oiled / dry) * soaked.clamp(0.0, 1.0)) * (1.0 + age / age_life)
}

/// Whether a fibre washer that is soaked so far, 0..1, counts as impregnated, and stands for long what an oiled one stands; else it is
/// dry, and its limit is lower.
/// ```text
/// impregnated where soaked > ½
/// ```
/// The half is assumed; fibre goes from one to the other by degrees. Source of two limits: thermal classes of insulation, IEC 60085
/// (from memory): cellulose in oil is class A, 105 °C, bare cellulose class Y, 90 °C.
/// ```
/// assert_eq!([0.8, 0.5, 0.0].map(slipsoak_engine::laws::wear::impregnated), [true, false, false]);
/// ```
pub fn impregnated(soaked: f64) -> bool {
    soaked > 0.5
}

/// Share of its force that the spring loses per decade of time, 1.
/// ```text
/// a = a120 · 2^((min(T, 200 °C) − 120 °C)/ΔT)
/// ```
/// Held at 200 °C: errs low beyond, where no margin over the idle follows from it ([`relaxation_known`]). Assumed.
/// ```
/// let a = slipsoak_engine::laws::wear::relaxation_per_decade(0.02, 25.0, 418.15);
/// assert!((a - 0.04).abs() < 1e-12); // 145 °C
/// ```
pub fn relaxation_per_decade(at_120: f64, doubling: f64, t: f64) -> f64 {
    at_120 * crate::elementary::exp2((t.min(RELAXATION_KNOWN) - 393.15) / doubling)
}

/// Temperature up to which the relaxation of springs over a time is known, K: 200 °C, or that at which they lose half of their preload.
/// ```text
/// a(T) log10(1 + t/1 h) = 0.5
/// ```
/// Hotter springs relax more than the law says: how near to the idle they come is unknown.
/// ```
/// use slipsoak_engine::laws::wear::relaxation_known;
/// assert_eq!(relaxation_known(0.02, 25.0, 300.0 * 3600.0), 473.15);
/// assert_eq!(relaxation_known(0.0, 25.0, 300.0 * 3600.0), 473.15);
/// // 0.05 at 120 °C for one of two decades, 99 h: 0.25 a decade at 2.32 doublings of 25 K, 178 °C.
/// assert!((relaxation_known(0.05, 25.0, 99.0 * 3600.0) - 451.2).abs() < 0.1);
/// ```
pub fn relaxation_known(at_120: f64, doubling: f64, time: f64) -> f64 {
    let most = RELAXED_MOST / libm::log10(1.0 + time / 3600.0);
    (393.15 + doubling * libm::log2(most / at_120)).min(RELAXATION_KNOWN)
}

/// Relaxation of the spring after a further time at a constant loss per decade, 1.
///
/// The time already served at this temperature is read back from the relaxation itself, so splitting a step changes nothing.
/// ```text
/// R′ = a/(ln 10 · 1 h · 10^(R/a))   →   R = a log10(10^(R0/a) + Δt/1 h),   R ≤ 0.5
/// ```
/// Log-time creep; neglects recovery. Form as in spring makers' data, constants assumed.
/// ```
/// let r = slipsoak_engine::laws::wear::relaxed(0.0, 0.02, 99.0 * 3600.0);
/// assert!((r - 0.04).abs() < 1e-12); // log10(1 + 99) = 2 decades
/// assert_eq!(slipsoak_engine::laws::wear::relaxed(0.0, 0.0, 3600.0), 0.0); // a spring that does not relax
/// ```
pub fn relaxed(r0: f64, a: f64, dt: f64) -> f64 {
    if a <= 0.0 {
        return r0;
    }
    // a·log1p form: exact for steps far shorter than the time already served, and finite however long that is.
    let served = crate::elementary::exp(-LN_10 * r0 / a);
    (r0 + a / LN_10 * crate::elementary::ln_1p(dt / 3600.0 * served)).min(RELAXED_MOST.max(r0))
}

/// Rate at which fibre ages, seconds at 105 °C per second.
/// ```text
/// 2^((T − 105 °C)/10 K)
/// ```
/// The ten-degree rule of insulation classes; errs high far below 105 °C. Held at its value at 500 °C.
/// ```
/// assert!((slipsoak_engine::laws::wear::ageing_rate(388.15) - 2.0).abs() < 1e-12);
/// ```
pub fn ageing_rate(t: f64) -> f64 {
    crate::elementary::exp2((t.min(COAL) - 378.15) / 10.0)
}

/// Reference temperature of a fibre washer, K: that of dry cellulose, and of cellulose in oil as it is soaked.
/// ```text
/// T_r = 90 °C + 15 K smooth(m/m_full)
/// ```
/// Thermal classes Y and A of electrical insulation, IEC 60085 (abstract): ageing in place, not rubbing; uncertain by a factor 3.
/// ```
/// assert_eq!(slipsoak_engine::laws::wear::fibre_reference(1.0), 378.15);
/// ```
pub fn fibre_reference<R: Real>(soaked: R) -> R {
    soaked.smooth() * 15.0 + 363.15
}

/// Rate at which heat spends fibre, 1/s: 1 in its life at its reference temperature.
/// ```text
/// D′ = 2^((T − T_r)/10 K)/L,   L = 20 000 h
/// ```
/// Halving interval of 10 K, 8 to 12 by IEC 60216 (abstract). Held at its value at 500 °C.
/// ```
/// let hours = 1.0 / slipsoak_engine::laws::wear::fibre_dose_rate(473.15, 378.15, 20_000.0);
/// assert!((hours - 27.621).abs() < 1e-3);
/// ```
pub fn fibre_dose_rate(t: f64, reference: f64, life: f64) -> f64 {
    crate::elementary::exp2((t.min(COAL) - reference) / 10.0) / life
}
