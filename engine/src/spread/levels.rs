//! Levels of an assumed spread: what is the same for all clutches of a shop, and what differs between them.

use super::distribution::Spread;
use super::draw::deviate;
use crate::parts::settings::{heat, motor, oiling, springs, washer};
use crate::parts::{Parameter, SPRINGS};
use crate::statistics::{normal_quantile, normal_share};

/// Factor between clutches of one kind in which a constant varies, where nobody knows the constant itself. Wear within one
/// laboratory varies by about 20 %, between laboratories by 40 % (ASTM G99, from memory); assumed for all others.
const AMONG: f64 = 1.4;

/// Constants that vary more or less between clutches, by mounting, dirt and air.
static AMONG_CLUTCHES: [(&Parameter, f64); 14] = [
    (&oiling::leak, 3.0),
    (&oiling::imbibe_time, 3.0),
    (&oiling::run_off_time, 3.0),
    (&oiling::fling_area, 2.0),
    (&oiling::fling_least, 2.0),
    (&washer::fling, 3.0),
    (&washer::contact, 1.3),
    (&heat::convection, 1.1),
    (&heat::lining_shoes, 1.3),
    (&heat::band_web, 1.3),
    (&heat::web_sprocket, 1.3),
    (&heat::sprocket_bushing, 1.3),
    (&heat::shoes_carrier, 1.3),
    (&heat::carrier_shaft, 1.3),
];

/// Factor in which a constant varies between clutches, within its own factor of uncertainty.
pub fn among_clutches(p: &Parameter, factor: f64) -> f64 {
    AMONG_CLUTCHES.iter().find(|row| row.0 == p).map_or(AMONG, |row| row.1).min(factor)
}

/// Share of the variance of an assumed constant that is common to all clutches of a shop, because nobody knows its value, 0 to 1.
/// ```text
/// ρ = 1 − (ln F_i/ln F)²
/// ```
/// F is the constant's factor of uncertainty, F_i that between clutches. Idle speeds and single springs differ from clutch to
/// clutch; a shop's springs are of one lot. Treating a common part as individual errs low on what a shop needs in a bad season.
/// ```
/// use slipsoak_engine::fleet::{Spread, common_share};
/// use slipsoak_engine::parts::settings::{lining, oiling, washer};
/// let of = |p, factor| (1e3 * common_share(p, Spread::Factor(factor))).round() / 1e3;
/// assert_eq!([of(&lining::wear, 2.8), of(&washer::wear_oiled, 10.0), of(&oiling::leak, 18.0)], [0.893, 0.979, 0.856]);
/// ```
pub fn common_share(p: &Parameter, spread: Spread) -> f64 {
    match spread {
        _ if p == &motor::idle || SPRINGS.contains(&p) => 0.0,
        _ if p == &springs::lot => 1.0,
        Spread::Factor(factor) if factor > 1.0 => 1.0 - (among_clutches(p, factor).ln() / factor.ln()).powi(2),
        _ => 0.0,
    }
}

/// Normal deviates of one clutch of one sampled shop.
#[derive(Clone, Copy, Debug)]
pub struct Levels {
    /// seed
    pub seed: u64,
    /// number of the sampled shop
    pub shop: u64,
    /// number of the clutch in the shop
    pub clutch: u64,
}

/// Largest number of clutches of a shop.
pub const MOST_CLUTCHES: u64 = 1000;

impl Levels {
    /// Normal deviate of a variable of which this share of the variance is common to the shop.
    /// ```text
    /// z = √ρ z_shop + √(1 − ρ) z_clutch
    /// ```
    /// For one clutch its distribution is the same for every ρ; for ρ = 1 all clutches are alike. Of the part of the clutch, one
    /// half may belong to a part that is renewed: then `renewals` counts how often it was, and
    /// z_clutch = √½ z_clutch + √½ z_part. Exact.
    pub fn normal(self, name: &str, common: f64, renewals: Option<u64>) -> f64 {
        let Self { seed, shop, clutch } = self;
        let at = |level: &str, stream: u64| normal_quantile(deviate(seed, stream, &format!("{level}/{name}")));
        let stream = shop * MOST_CLUTCHES + clutch;
        let own = at("cart", stream);
        let own = renewals.map_or(own, |k| 0.5_f64.sqrt() * (own + at(&format!("part/{k}"), stream)));
        common.sqrt() * at("shop", shop) + (1.0 - common).sqrt() * own
    }

    /// The same as a deviate between 0 and 1.
    pub fn uniform(self, name: &str, common: f64) -> f64 {
        normal_share(self.normal(name, common, None))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clutch_has_the_same_distribution_for_every_common_share_and_two_have_that_correlation() {
        let n = 4000_u64;
        for (common, renewals) in [(0.0, None), (0.5, None), (1.0, None), (0.5, Some(3))] {
            let of = |shop, clutch| Levels { seed: 4, shop, clutch }.normal("a", common, renewals);
            let pairs: Vec<(f64, f64)> = (0..n).map(|shop| (of(shop, 0), of(shop, 7))).collect();
            let mean = |f: &dyn Fn(&(f64, f64)) -> f64| pairs.iter().map(f).sum::<f64>() / n as f64;
            // Four standard errors: 1/√n of a mean, √(2/n) of a variance, at most √(2/n) of a covariance.
            let (one, two) = (4.0 / (n as f64).sqrt(), 4.0 * (2.0 / n as f64).sqrt());
            assert!(mean(&|p| p.0).abs() < one, "{common}");
            assert!((mean(&|p| p.0 * p.0) - 1.0).abs() < two, "{common}");
            assert!((mean(&|p| p.0 * p.1) - common).abs() < two, "{common}");
        }
    }

    /// Exact sums of the binomial over the normal copula, recomputed by integration: 12 carts of which each needs a part with
    /// probability 0.25; variance of the need, and shares of shops that need no more than 5 and than 8.
    #[test]
    fn needs_of_correlated_carts_are_those_of_the_normal_copula() {
        let samples = 20_000_u64;
        for (common, variance, shares) in [
            (0.0, 2.25, [0.9456, 0.9996]),
            (0.25, 5.788_883, [0.8407, 0.9725]),
            (0.5, 9.876_314, [0.7887, 0.9188]),
            (0.75, 15.030_747, [0.7596, 0.8564]),
        ] {
            let needs = |shop| {
                (0..12).filter(|&clutch| Levels { seed: 1, shop, clutch }.uniform("x", common) < 0.25).count() as f64
            };
            let all: Vec<f64> = (0..samples).map(needs).collect();
            let mean = |of: &dyn Fn(f64) -> f64| all.iter().map(|need| of(*need)).sum::<f64>() / samples as f64;
            // Four standard errors each; the kurtosis of such counts is below 5.
            let near = |found: f64, exact: f64, variance: f64| {
                assert!(
                    (found - exact).abs() < 4.0 * (variance / samples as f64).sqrt() + 1e-4,
                    "{common}: {found}, not {exact}"
                );
            };
            near(mean(&|need| need), 3.0, variance);
            near(mean(&|need| (need - 3.0).powi(2)), variance, 4.0 * variance * variance);
            for (most, share) in [5.0, 8.0].into_iter().zip(shares) {
                near(mean(&|need| f64::from(u8::from(need <= most))), share, share * (1.0 - share));
            }
        }
    }
}
