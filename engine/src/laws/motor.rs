//! The motor's torque, its drag and its two governors.

use crate::real::Real;

/// Torque at full throttle, N·m.
///
/// Straight lines between the points of the curve, the end lines carried on, never below zero.
/// ```text
/// T = T_i + (T_{i+1} − T_i)(ω − ω_i)/(ω_{i+1} − ω_i),   T ≥ 0
/// ```
/// Neglects intake dynamics: errs high in fast transients. Shape of the default curve: public course data for about 200 cm³.
///
/// # Panics
/// With fewer than two points.
/// ```
/// use slipsoak_engine::laws::motor::torque_full;
/// assert_eq!(torque_full(&[(100.0, 8.0), (200.0, 10.0)], 150.0), 9.0);
/// assert_eq!(torque_full(&[(100.0, 10.0), (200.0, 2.0)], 300.0), 0.0);
/// ```
pub fn torque_full<R: Real>(curve: &[(f64, f64)], w: R) -> R {
    let last = curve.len() - 2;
    let i = curve[1..=last].iter().take_while(|p| p.0 <= w.value()).count();
    let ((w0, t0), (w1, t1)) = (curve[i], curve[i + 1]);
    ((w - w0) * ((t1 - t0) / (w1 - w0)) + t0).max(R::from(0.0))
}

/// Share of its indicated torque that a motor keeps in air of a pressure, Pa, and a temperature, K.
///
/// The cylinder is filled by volume: what burns goes with the density of the air, less what warm walls give back.
/// ```text
/// p/101 325 Pa · √(293.15 K/T)
/// ```
/// Neglects humidity and a mixture that becomes rich with altitude: errs high by a few per cent. Form of SAE J1349.
/// ```
/// use slipsoak_engine::laws::motor::air_share;
/// assert_eq!(air_share(101_325.0, 293.15), 1.0);
/// assert!((air_share(79_495.0, 293.15) - 0.785).abs() < 1e-3); // at 2000 m
/// ```
pub fn air_share(pressure: f64, ambient: f64) -> f64 {
    pressure / super::air::SEA_LEVEL * (293.15 / ambient).sqrt()
}

/// Torque that the shut motor takes from its shaft, N·m, ω ≥ 0.
///
/// Friction and pumping, a constant and a part that grows with speed.
/// ```text
/// T_d = T_0 + b ω
/// ```
/// Neglects temperature: errs low on a cold motor. Assumed.
/// ```
/// assert_eq!(slipsoak_engine::laws::motor::torque_drag(2.0, 0.01, 100.0), 3.0);
/// ```
pub fn torque_drag<R: Real>(drag: f64, slope: f64, w: R) -> R {
    w * slope + drag
}

/// Torque at a throttle opening, N·m.
///
/// The throttle shares between full torque and drag.
/// ```text
/// T = u T_full − (1 − u) T_d
/// ```
/// A real throttle is less linear; the error vanishes at both ends. Assumed.
/// ```
/// assert_eq!(slipsoak_engine::laws::motor::torque(0.5, 10.0, 2.0), 4.0);
/// ```
pub fn torque<R: Real>(opening: R, full: R, drag: R) -> R {
    opening * (full + drag) - drag
}

/// Throttle opening at which the motor just balances its own drag, 0..1.
/// ```text
/// u T_full = (1 − u) T_d   →   u = T_d/(T_full + T_d)
/// ```
/// Exact for the torque law above.
/// ```
/// assert_eq!(slipsoak_engine::laws::motor::balance_opening(9.0, 3.0), 0.25);
/// ```
pub fn balance_opening(full: f64, drag: f64) -> f64 {
    drag / (full + drag)
}

/// Opening that the idle governor asks for, 0..1.
///
/// Proportional: more throttle below the idle speed, less above.
/// ```text
/// u = clamp(u_0 + (ω_idle − ω)/ω_band, 0, 1)
/// ```
/// Neglects the governor's own inertia: errs toward a steadier idle. Assumed.
/// ```
/// assert_eq!(slipsoak_engine::laws::motor::governor_idle(0.25, 180.0, 40.0, 170.0), 0.5);
/// ```
pub fn governor_idle<R: Real>(u0: f64, idle: f64, band: f64, w: R) -> R {
    ((-w + idle) / band + u0).clamp(0.0, 1.0)
}

/// Pressure ratio of a throttle below which its flow is choked, 1. ISO 6358 calls it b; the isentropic value for air.
pub const CRITICAL_RATIO: f64 = 0.528;

/// Share of its choked flow that a throttle passes at a pressure ratio, 1.
///
/// An ellipse that leaves the choked flow without a kink and reaches no flow at equal pressures.
/// ```text
/// Ψ = 1 for y ≤ b,   √(1 − ((y − b)/(1 − b))²) above
/// ```
/// Neglects pulsation of the intake: errs a few per cent either way. Form of ISO 6358.
/// ```
/// assert_eq!(slipsoak_engine::laws::motor::flow_share(0.3), 1.0);
/// assert_eq!(slipsoak_engine::laws::motor::flow_share(1.0), 0.0);
/// ```
pub fn flow_share(ratio: f64) -> f64 {
    let beyond = ((ratio - CRITICAL_RATIO) / (1.0 - CRITICAL_RATIO)).clamp(0.0, 1.0);
    (1.0 - beyond * beyond).sqrt()
}

/// Indicated power of a throttle that rests on its stop, W, from the speed at which the motor idles on it.
///
/// At the idle speed the indicated torque balances the drag; choked air carries a power that does not depend on the speed.
/// ```text
/// P_0 = T_d ω_i/Ψ(y_i),   y_i = T_d/(T_full + T_d) at ω_i
/// ```
/// Neglects that pumping falls as the intake pressure rises: errs toward a deeper sag by up to 15 %.
/// ```
/// use slipsoak_engine::laws::motor::{stop_opening, stop_power};
/// assert_eq!(stop_power(9.0, 3.0, 100.0), 300.0);
/// // Too much drag for a choked throttle: the power found is that at which 3/4 of 4 N·m balance it.
/// assert!((stop_opening(stop_power(1.0, 3.0, 100.0), 4.0, 100.0) - 0.75).abs() < 1e-12);
/// ```
pub fn stop_power(full: f64, drag: f64, idle: f64) -> f64 {
    drag * idle / flow_share(balance_opening(full, drag))
}

/// Opening that a throttle on its stop amounts to, 0..1: indicated torque over that of the open throttle.
///
/// The lever rests on its screw. While the throttle is choked the air flow, and so the indicated power, is constant; at low
/// speed the intake fills and the flow falls along the ellipse of [`flow_share`].
/// ```text
/// A = (T_full + T_d) ω/P_0,   q = 1 − b
/// A b ≥ 1:  y = 1/A      else:  y = Ψ(y)/A  →  y = (b + √(b² − (A²q² + 1)(b² − q²)))/(A²q² + 1)
/// ```
/// Both branches meet with one slope. Neglects residual gas and lean misfire: the sag is uncertain by 20 % of the drag torque.
/// Choked flow: any text on gas dynamics; the ellipse: ISO 6358.
/// ```
/// use slipsoak_engine::laws::motor::stop_opening;
/// assert_eq!(stop_opening(300.0, 12.0, 100.0), 0.25);
/// assert_eq!(stop_opening(300.0, 12.0, 0.0), 1.0);
/// assert_eq!(stop_opening(0.0, 12.0, 100.0), 0.0);
/// ```
pub fn stop_opening<R: Real>(power: f64, indicated: R, w: R) -> R {
    let (b, q) = (CRITICAL_RATIO, 1.0 - CRITICAL_RATIO);
    let most = indicated * w;
    if most.value() * b >= power {
        return R::from(power) / most;
    }
    let a = most / power;
    let denominator = a * a * (q * q) + 1.0;
    (((denominator * (q * q - b * b)) + b * b).sqrt() + b) / denominator
}

/// Greatest opening that the top governor lets pass, 0..1.
///
/// Full throttle up to the full-load speed, none at the no-load speed.
/// ```text
/// u = clamp((ω_nl − ω)/(ω_nl − ω_fl), 0, 1)
/// ```
/// Neglects hunting. A droop of about 5 % is a published rule of thumb.
/// ```
/// assert_eq!(slipsoak_engine::laws::motor::governor_top(400.0, 380.0, 390.0), 0.5);
/// ```
pub fn governor_top<R: Real>(no_load: f64, full_load: f64, w: R) -> R {
    ((-w + no_load) / (no_load - full_load)).clamp(0.0, 1.0)
}
