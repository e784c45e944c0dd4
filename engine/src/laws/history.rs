//! What a lining keeps of its past: bedding in, glaze, and oil in its pores.

use crate::real::Real;

/// Share of the lined area that touches, 1: a new lining touches with 1 − a of it and beds in as it wears.
/// ```text
/// κ = 1 − a exp(−x/h_b),   a = 0.6
/// ```
/// Neglects that a worn drum spoils the fit again: errs high on a new lining in an old drum. Form published, a and h_b assumed;
/// anchor: the burnish of 200 stops of FMVSS 105/135 (abstract).
/// ```
/// use slipsoak_engine::laws::history::bedded;
/// assert_eq!(bedded(0.0, 20e-6, 0.6), 0.4);
/// assert!((bedded(35.835e-6, 20e-6, 0.6) - 0.9).abs() < 1e-6);
/// ```
pub fn bedded(worn: f64, depth: f64, share: f64) -> f64 {
    1.0 - share * crate::elementary::exp(-worn / depth)
}

/// Rate at which an overheated face glazes, 1/s.
/// ```text
/// 2^((T − T_g)/12 K)/60 s,   T ≤ 500 °C
/// ```
/// Kinds of lining differ by T_g; sintered and bare metal do not glaze. Glaze seen by Begelinger & de Gee, ASTM STP (1974, from
/// memory); rate assumed.
/// ```
/// let rate = slipsoak_engine::laws::history::glaze_rate(573.15, 573.15);
/// assert!((rate - 1.0 / 60.0).abs() < 1e-15);
/// ```
pub fn glaze_rate(t_face: f64, t_glaze: f64) -> f64 {
    crate::elementary::exp2((t_face.min(773.15) - t_glaze) / 12.0) / 60.0
}

/// Glaze of a lining, 0 to 1, after a time in which it grows and is worn off at constant rates, 1/s.
/// ```text
/// z′ = (1 − z) g − z d:   z = z_∞ + (z_0 − z_∞) e^(−(g + d) t),   z_∞ = g/(g + d),   d = x′/h_z
/// ```
/// Exact for constant rates.
/// ```
/// let z = slipsoak_engine::laws::history::glazed(0.0, 1.0 / 60.0, 0.0, 120.0);
/// assert!((z - 0.86466).abs() < 5e-6);
/// assert_eq!(slipsoak_engine::laws::history::glazed(0.3, 0.0, 0.0, 120.0), 0.3); // cold and unworn
/// ```
pub fn glazed(z0: f64, grows: f64, cleaned: f64, time: f64) -> f64 {
    let both = grows + cleaned;
    if both <= 0.0 {
        return z0;
    }
    let end = grows / both;
    end + (z0 - end) * crate::elementary::exp(-both * time)
}

/// Rate at which oil on the face soaks into a porous lining, kg/s; `filled` is the share of its pores that is full, `ease` that of
/// surface tension over viscosity against 80 °C.
/// ```text
/// m_l (1 − s)/τ · ease
/// ```
/// Neglects the depth already wetted: errs fast when nearly full. Time from E. W. Washburn, Phys. Rev. 17 (1921) 273.
/// ```
/// assert_eq!(slipsoak_engine::laws::history::soaking(6.0, 0.5, 60.0, 2.0), 0.1);
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
/// assert_eq!(slipsoak_engine::laws::history::smoking_time(36000.0, 388.15_f64).round(), 18000.0);
/// ```
pub fn smoking_time<R: Real>(at_100: f64, t: R) -> R {
    ((t.min(R::from(673.15)) - 373.15) * (-std::f64::consts::LN_2 / 15.0)).exp() * at_100
}
