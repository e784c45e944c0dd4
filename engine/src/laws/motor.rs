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
