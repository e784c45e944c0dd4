//! What a lining keeps of its past: bedding in, glaze, and oil in its pores.

use crate::real::Real;

/// Share of the lined area that touches, 1: a new lining touches with 0.4 of it and beds in as it wears.
/// ```text
/// κ = 1 − 0.6 exp(−x/h_b)
/// ```
/// Neglects that a worn drum spoils the fit again: errs high on a new lining in an old drum. Form published, h_b assumed; anchor:
/// the burnish of 200 stops of FMVSS 105/135 (abstract).
/// ```
/// use slipsoak_engine::laws::history::bedded;
/// assert_eq!(bedded(0.0, 20e-6), 0.4);
/// assert!((bedded(35.835e-6, 20e-6) - 0.9).abs() < 1e-6);
/// ```
pub fn bedded(worn: f64, depth: f64) -> f64 {
    1.0 - 0.6 * libm::exp(-worn / depth)
}

/// Rate at which an overheated lining glazes and wears clean, 1/s, at a glaze of 0 to 1.
/// ```text
/// z′ = (1 − z) 2^((T − T_g)/12 K)/60 s − z x′/h_z,   T ≤ 500 °C
/// ```
/// Kinds of lining differ by T_g; sintered and bare metal do not glaze. Glaze seen by Begelinger & de Gee, ASTM STP (1974, from
/// memory); rate assumed.
/// ```
/// let rate = slipsoak_engine::laws::history::glaze_rate(0.0, 573.15, 573.15, 0.0, 1e-5);
/// assert!((rate - 1.0 / 60.0).abs() < 1e-15);
/// ```
pub fn glaze_rate(glaze: f64, t_face: f64, t_glaze: f64, wear_rate: f64, depth: f64) -> f64 {
    let grown = libm::exp2((t_face.min(773.15) - t_glaze) / 12.0) / 60.0;
    (1.0 - glaze) * grown - glaze * wear_rate / depth
}

/// Rate at which oil on the face soaks into a porous lining, kg/s; `filled` is the share of its pores that is full, `ease` that of
/// surface tension over viscosity against 80 °C.
/// ```text
/// m_l (1 − s)/τ · ease
/// ```
/// Neglects the depth already wetted: errs fast when nearly full. Time from E. W. Washburn, Phys. Rev. 17 (1921) 273.
/// ```
/// assert_eq!(slipsoak_engine::laws::history::soaking(6.0, 0.5, 60.0, 1.0), 0.05);
/// ```
pub fn soaking<R: Real>(on_face: R, filled: R, time: f64, ease: R) -> R {
    on_face * (-filled + 1.0) * ease / time
}

/// Time in which a hot lining smokes its oil out, s.
/// ```text
/// τ = τ_100 2^(−(T − 100 °C)/15 K),   T ≤ 400 °C
/// ```
/// Assumed throughout: 1 to 100 h at 100 °C.
/// ```
/// assert_eq!(slipsoak_engine::laws::history::smoking_time(36000.0, 388.15), 18000.0);
/// ```
pub fn smoking_time(at_100: f64, t: f64) -> f64 {
    at_100 * libm::exp2(-(t.min(673.15) - 373.15) / 15.0)
}

/// Share of a lining's grip that oil on its face and in its pores takes, ζ, 0..1.
/// ```text
/// ζ = 1 − exp(−V/(A h) − s/s_0)
/// ```
/// s_0 is assumed: 0.05 to 0.5.
/// ```
/// let share: f64 = slipsoak_engine::laws::history::oiled(0.0, 0.16, 0.15);
/// assert!((share - 0.65585).abs() < 5e-6);
/// ```
pub fn oiled<R: Real>(on_face: R, filled: R, spoils: f64) -> R {
    -(-(on_face + filled / spoils)).exp() + 1.0
}
