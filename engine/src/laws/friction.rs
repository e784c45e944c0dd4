//! Friction of the lining on the drum.

use crate::real::Real;

/// Friction coefficient of the dry lining, 1.
///
/// Constant until the rubbed face is hot, then it fades by a share over a span; it falls a little with slip speed, by
/// at most a half in proportion, then ever less, so that it stays above 0.
/// ```text
/// μ = μ0 [1 − q smooth((T − T1)/ΔT)] s(g v),   s(x) = 1 + x for x ≥ −½, else ½ e^(2x + 1)
/// ```
/// Neglects running-in and the recovery after a fade: errs high on a new lining, low after cooling is slow. Knee published
/// (The Tribology Handbook, tables 7.4–7.5), shape assumed.
/// ```
/// let mu = slipsoak_engine::laws::friction::dry(0.4, 473.15, 150.0, 0.5, 0.0, 548.15, 3.0);
/// assert!((mu - 0.3).abs() < 1e-12); // half-way through the fade
/// ```
pub fn dry<R: Real>(mu0: f64, knee: f64, span: f64, share: f64, slope: f64, t_face: R, slip_speed: R) -> R {
    let change = slip_speed * slope;
    let moving = if change.value() >= -0.5 { change + 1.0 } else { (change * 2.0 + 1.0).exp() * 0.5 };
    (-((t_face - knee) / span).smooth() * share + 1.0) * moving * mu0
}

/// Share ζ of the lining that oil has taken over the oil that is there, x, 1.
///
/// Oil spread over the lined area, against the thickness that fills its roughness. What a small dose does is in proportion
/// to it: the quotient is 1 without oil, and smooth through it.
/// ```text
/// ζ = 1 − e⁻ˣ,   ζ/x = (1 − e⁻ˣ)/x,   x = V/(A h)
/// ```
/// Neglects uneven wetting: errs high when the oil sits in one streak. Assumed.
/// ```
/// let wet = slipsoak_engine::laws::friction::wet_share_over(std::f64::consts::LN_2);
/// assert!((wet * std::f64::consts::LN_2 - 0.5).abs() < 1e-15);
/// ```
pub fn wet_share_over<R: Real>(x: R) -> R {
    if x.value().abs() < 1e-3 {
        -x * ((x * (-1.0 / 24.0) + 1.0 / 6.0) * -x + 0.5) + 1.0
    } else {
        (-(-x).exp() + 1.0) / x
    }
}

/// Friction of a lining with plain oil and oil that lasts on it, 1, each with its own friction and by how much it covers.
/// ```text
/// μ = μ_dry (1 − ζ) + μ_wet ζ,   ζ = (e_plain + e_lasting) z,   μ_wet ζ = (e_plain μ_plain + e_lasting μ_lasting) z
/// ```
/// z is (1 − e^−E)/E for the sum E of both covers ([`wet_share_over`]). Shares side by side, without a division by no oil;
/// neglects squeeze-out during one launch: errs low. Assumed.
/// ```
/// let mu = slipsoak_engine::laws::friction::oiled(0.4, [1.0, 1.0], [0.1, 0.06], 0.25);
/// assert!((mu - 0.24).abs() < 1e-12); // half of it wet, at 0.08
/// ```
pub fn oiled<R: Real>(dry: R, [plain, lasting]: [R; 2], frictions: [f64; 2], over: R) -> R {
    let when_wet = plain * frictions[0] + lasting * frictions[1];
    dry * (-(plain + lasting) * over + 1.0) + when_wet * over
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against `exp_m1` of the standard library, on either side of where a series is used.
    #[test]
    fn the_share_over_the_oil_is_exact_through_no_oil() {
        for x in [-1.1e-3, -9e-4, 1e-5, 9e-4, 1.1e-3, 0.3, 4.0] {
            assert!((wet_share_over(x) + f64::exp_m1(-x) / x).abs() < 2e-13, "{x}");
        }
        assert_eq!(wet_share_over(0.0), 1.0);
    }

    #[test]
    fn friction_never_falls_below_zero_with_speed_and_has_no_kink() {
        let at = |v: f64| dry(0.4, 473.15, 150.0, 0.5, -0.02, 300.0, v);
        assert!((at(10.0) - 0.32).abs() < 1e-12);
        assert!((at(25.0 - 1e-6) - at(25.0 + 1e-6) - 2e-6 * 0.008).abs() < 1e-11);
        let mut last = f64::INFINITY;
        for speed in 0..200 {
            let now = at(f64::from(speed));
            assert!(now > 0.0 && now < last, "{now} at {speed} m/s");
            last = now;
        }
    }
}
