//! Weibull's distribution fitted to lives, of which some are censored.

use super::lognormal::normal_quantile;
use serde::{Deserialize, Serialize};

/// Weibull's distribution F(t) = 1 − exp[−(t/η)^β], fitted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Weibull {
    /// β
    pub shape: f64,
    /// η, in the unit of the lives
    pub scale: f64,
    /// natural logarithm of the likelihood at its greatest
    pub log_likelihood: f64,
    /// bounds of β
    pub shape_bounds: (f64, f64),
    /// bounds of η
    pub scale_bounds: (f64, f64),
}

/// Result of the goodness-of-fit test of a fitted distribution.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Fit {
    /// some lives are censored: the test is for complete samples
    Untested,
    /// no reason to reject at the 5 % level
    Accepted {
        /// statistic of Anderson and Darling, corrected for the sample's size
        statistic: f64,
        /// its value that one sample in twenty exceeds
        critical: f64,
    },
    /// rejected: fewer than one sample in twenty would deviate as much
    Rejected {
        /// statistic of Anderson and Darling, corrected for the sample's size
        statistic: f64,
        /// its value that one sample in twenty exceeds
        critical: f64,
    },
}

/// Quantile of a Weibull distribution: the life that this share does not reach, in the scale's unit.
///
/// ```text
/// t = η [−ln(1 − share)]^(1/β)
/// ```
///
/// Neglects nothing. Closed form.
///
/// ```
/// use slipsoak_engine::statistics::weibull_life;
/// assert_eq!(weibull_life(1.0, 100.0, 0.5), 100.0 * 2.0_f64.ln()); // a half-life
/// ```
pub fn weibull_life(shape: f64, scale: f64, share: f64) -> f64 {
    scale * libm::pow(-libm::log1p(-share), 1.0 / shape)
}

/// Maximum-likelihood fit of the Weibull distribution; none for fewer than three failures.
///
/// A failure contributes its density; a clutch censored at t contributes the probability of lasting that long. With r
/// failures x and all times t, failed and censored, the shape is the only root of
///
/// ```text
/// Σ t^β ln t / Σ t^β − 1/β − Σ ln x / r = 0,     η = (Σ t^β / r)^(1/β)
/// ```
///
/// The bounds, each two-sided at the confidence, follow from the curvature of the likelihood in ln β and ln η, as if
/// those were normal. They are too narrow for few failures, and the shape is biased upwards (by 7 % on average for
/// twenty, D. R. Thoman, L. J. Bain, C. E. Antle, Technometrics 11 (1969) 445, from memory). Also none if a time is not
/// above zero, or if no time exceeds the failures' geometric mean (all alike). Source: W. Nelson, *Applied Life Data
/// Analysis*, 1982, chapter 8.
///
/// ```
/// use slipsoak_engine::statistics::fit;
/// let in_hours = fit(&[100.0, 200.0, 300.0], &[400.0], 0.9).unwrap();
/// let in_seconds = fit(&[3.6e5, 7.2e5, 1.08e6], &[1.44e6], 0.9).unwrap();
/// assert!((in_hours.shape / in_seconds.shape - 1.0).abs() < 1e-12);
/// assert!((in_seconds.scale / in_hours.scale - 3600.0).abs() < 1e-8);
/// ```
pub fn fit(failures: &[f64], censored: &[f64], confidence: f64) -> Option<Weibull> {
    let usable = |t: &f64| *t > 0.0 && t.is_finite();
    if failures.len() < 3 || !failures.iter().chain(censored).all(usable) {
        return None;
    }
    // In units of the longest time, so that no power overflows.
    let unit = failures.iter().chain(censored).fold(0.0_f64, |most, t| most.max(*t));
    let logs: Vec<f64> = failures.iter().chain(censored).map(|t| libm::log(t / unit)).collect();
    let r = failures.len() as f64;
    let mean_log = logs[..failures.len()].iter().sum::<f64>() / r;
    // Σ t^β (ln t)^k for k = 0, 1, 2
    let sums = |shape: f64| {
        logs.iter().fold([0.0; 3], |[s, s1, s2], log| {
            let power = libm::exp(shape * log);
            [s + power, s1 + power * log, s2 + power * log * log]
        })
    };
    let slope = |shape: f64| {
        let [s, s1, _] = sums(shape);
        s1 / s - 1.0 / shape - mean_log
    };
    let (mut low, mut high) = (0.0, 1.0);
    while slope(high) < 0.0 {
        low = high;
        high *= 2.0;
        if high > 1e6 {
            return None;
        }
    }
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if slope(middle) < 0.0 { low = middle } else { high = middle }
    }
    let shape = high;
    let [s, s1, s2] = sums(shape);
    let log_scale = libm::log(s / r) / shape;
    let log_likelihood = r * (libm::log(shape) - shape * log_scale + (shape - 1.0) * mean_log - 1.0 - libm::log(unit));
    // Σ (t/η)^β (ln(t/η))^k; the zeroth is r.
    let (m1, m2) = (s1 * r / s - r * log_scale, s2 * r / s - 2.0 * log_scale * s1 * r / s + r * log_scale * log_scale);
    // The negative second derivatives by ln β and ln η at the maximum.
    let (of_shape, both, of_scale) = (r + shape * shape * m2, -shape * shape * m1, shape * shape * r);
    let determinant = of_shape * of_scale - both * both;
    let z = normal_quantile(0.5 + 0.5 * confidence);
    let around = |value: f64, other: f64| {
        let factor = libm::exp(z * (other / determinant).sqrt());
        (value / factor, value * factor)
    };
    let scale = unit * libm::exp(log_scale);
    Some(Weibull {
        shape,
        scale,
        log_likelihood,
        shape_bounds: around(shape, of_scale),
        scale_bounds: around(scale, of_shape),
    })
}

impl Weibull {
    /// Goodness-of-fit test for the lives to which the distribution was fitted.
    ///
    /// The statistic is the weighted distance of Anderson and Darling between the sample's steps and the distribution.
    /// It is compared with the value that one sample in twenty exceeds when both parameters are fitted to the same
    /// sample:
    ///
    /// ```text
    /// A² = −n − (1/n) Σ (2i − 1)[ln F(x₍i₎) + ln(1 − F(x₍n+1−i₎))],     A² (1 + 0.2/√n) ≤ 0.757
    /// ```
    ///
    /// For complete samples only. With a small sample almost any distribution is accepted. Source: R. B. D'Agostino, M.
    /// A. Stephens,
    /// *Goodness-of-Fit Techniques*, 1986, table 4.17 (both parameters unknown: 0.474, 0.637, 0.757, 0.877, 1.038 at 25, 10,
    /// 5, 2.5, 1 %), after M. A. Stephens, Biometrika 64 (1977) 583; the values as later listings print them.
    pub fn fits(&self, failures: &[f64], censored: &[f64]) -> Fit {
        if !censored.is_empty() {
            return Fit::Untested;
        }
        let critical = 0.757;
        let n = failures.len() as f64;
        let statistic = self.anderson_darling(failures) * (1.0 + 0.2 / n.sqrt());
        if statistic <= critical {
            Fit::Accepted { statistic, critical }
        } else {
            Fit::Rejected { statistic, critical }
        }
    }

    fn anderson_darling(&self, failures: &[f64]) -> f64 {
        let n = failures.len();
        // −ln(1 − F); both logarithms follow from it without cancellation.
        let mut hazards: Vec<f64> = failures.iter().map(|t| libm::pow(t / self.scale, self.shape)).collect();
        hazards.sort_by(f64::total_cmp);
        let sum: f64 =
            (0..n).map(|i| (2 * i + 1) as f64 * (libm::log(-libm::expm1(-hazards[i])) - hazards[n - 1 - i])).sum();
        -(n as f64) - sum / n as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FAILED: [f64; 6] = [40.0, 110.0, 140.0, 210.0, 260.0, 330.0];
    const CUT_OFF: [f64; 3] = [200.0, 350.0, 400.0];

    fn log_likelihood(shape: f64, scale: f64) -> f64 {
        let hazard = |t: f64| (t / scale).powf(shape);
        FAILED.iter().map(|t| (shape / t * hazard(*t)).ln() - hazard(*t)).sum::<f64>()
            - CUT_OFF.iter().map(|t| hazard(*t)).sum::<f64>()
    }

    #[test]
    fn the_likelihood_is_greatest_at_the_fit_and_bounds_follow_from_its_curvature() {
        let w = fit(&FAILED, &CUT_OFF, 0.9).unwrap();
        let at = |a: f64, b: f64| log_likelihood(w.shape * a.exp(), w.scale * b.exp());
        // Differences over 1e-3 in the logarithms: truncation 1e-6 relative, rounding 1e-14/1e-6.
        let h = 1e-3;
        assert!((at(0.0, 0.0) - w.log_likelihood).abs() < 1e-11);
        assert!(((at(h, 0.0) - at(-h, 0.0)) / (2.0 * h)).abs() < 2e-5);
        assert!(((at(0.0, h) - at(0.0, -h)) / (2.0 * h)).abs() < 2e-5);
        let second = |a: f64, b: f64| -(at(h * a, h * b) - 2.0 * at(0.0, 0.0) + at(-h * a, -h * b)) / (h * h);
        let (shape, scale) = (second(1.0, 0.0), second(0.0, 1.0));
        let both = 0.5 * (second(1.0, 1.0) - shape - scale);
        let determinant = shape * scale - both * both;
        let reach = |other: f64| (super::super::NINETY_FIVE * (other / determinant).sqrt()).exp();
        for (bounds, value, other) in [(w.shape_bounds, w.shape, scale), (w.scale_bounds, w.scale, shape)] {
            assert!((bounds.1 / value / reach(other) - 1.0).abs() < 1e-4, "{bounds:?}");
            assert!((bounds.0 * bounds.1 / (value * value) - 1.0).abs() < 1e-12);
        }
    }

    #[test]
    fn lives_without_a_weibull_fit_are_refused() {
        assert!(fit(&FAILED[..2], &CUT_OFF, 0.9).is_none());
        assert!(fit(&[5.0; 4], &[], 0.9).is_none());
        assert!(fit(&[5.0; 4], &[5.0], 0.9).is_none());
        assert!(fit(&[5.0; 4], &[6.0], 0.9).is_some(), "one that lasted longer bounds the shape");
        assert!(fit(&[0.0, 1.0, 2.0], &[], 0.9).is_none());
    }

    #[test]
    fn the_goodness_of_fit_test_accepts_exact_quantiles_rejects_a_mixture_and_does_not_test_censored_lives() {
        let own: Vec<f64> = (0..50).map(|k| weibull_life(2.0, 100.0, (f64::from(k) + 0.5) / 50.0)).collect();
        let two: Vec<f64> = (0..50).map(|k| if k < 25 { 10.0 } else { 100.0 } + f64::from(k) / 50.0).collect();
        let fits = |lives: &[f64]| fit(lives, &[], 0.9).unwrap().fits(lives, &[]);
        assert!(matches!(fits(&own), Fit::Accepted { statistic, .. } if statistic < 0.1), "{:?}", fits(&own));
        assert!(matches!(fits(&two), Fit::Rejected { .. }), "{:?}", fits(&two));
        assert_eq!(fit(&own, &[300.0], 0.9).unwrap().fits(&own, &[300.0]), Fit::Untested);
    }

    #[test]
    fn the_statistic_of_one_median_life_is_2_ln_2_less_1() {
        let bounds = (1.0, 1.0);
        let w = Weibull { shape: 1.0, scale: 1.0, log_likelihood: 0.0, shape_bounds: bounds, scale_bounds: bounds };
        let ln_2 = std::f64::consts::LN_2;
        // F = 1/2 and n = 1: −1 − 2 ln ½, times 1 + 0.2. Rounding only.
        let Fit::Accepted { statistic, critical } = w.fits(&[ln_2], &[]) else { panic!("0.46 is below 0.757") };
        assert!((statistic - 1.2 * (2.0 * ln_2 - 1.0)).abs() < 1e-14 && critical == 0.757);
    }
}
