//! Friction of the lining on the drum.

use crate::real::Real;

/// Friction coefficient of the dry lining, 1.
///
/// Constant until the rubbed face is hot, then it fades by a share over a span; it falls a little with slip speed.
/// ```text
/// μ = μ0 [1 − q smooth((T − T1)/ΔT)] (1 + g v)
/// ```
/// Neglects running-in and the recovery after a fade: errs high on a new lining, low after cooling is slow. Knee published
/// (The Tribology Handbook, tables 7.4–7.5), shape assumed.
/// ```
/// let mu = slipsoak_engine::laws::friction::dry(0.4, 473.15, 150.0, 0.5, 0.0, 548.15, 3.0);
/// assert!((mu - 0.3).abs() < 1e-12); // half-way through the fade
/// ```
pub fn dry<R: Real>(mu0: f64, knee: f64, span: f64, share: f64, slope: f64, t_face: R, slip_speed: R) -> R {
    (-((t_face - knee) / span).smooth() * share + 1.0) * (slip_speed * slope + 1.0) * mu0
}

/// Share of the lining that oil has taken, ζ, 0..1.
///
/// Oil spread over the lined area, against the thickness that fills its roughness.
/// ```text
/// ζ = 1 − exp(−V/(A h))
/// ```
/// Neglects uneven wetting: errs high when the oil sits in one streak. Assumed.
/// ```
/// assert_eq!(slipsoak_engine::laws::friction::wet_share(0.0, 0.005, 1e-6), 0.0);
/// ```
pub fn wet_share<R: Real>(oil_volume: R, area: f64, film: f64) -> R {
    -(-oil_volume / (area * film)).exp() + 1.0
}

/// Friction of a partly oiled lining, 1.
/// ```text
/// μ = μ_dry (1 − ζ) + μ_wet ζ
/// ```
/// Shares side by side; neglects squeeze-out during one launch: errs low. Assumed.
/// ```
/// assert!((slipsoak_engine::laws::friction::mixed(0.4, 0.1, 0.5) - 0.25).abs() < 1e-12);
/// ```
pub fn mixed<R: Real>(dry: R, wet: R, zeta: R) -> R {
    dry * (-zeta + 1.0) + wet * zeta
}
