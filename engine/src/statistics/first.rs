//! Shares of the parts that fail first.

use super::lognormal::normal_quantile;
use serde::{Deserialize, Serialize};

/// A count of a sample, and its share with bounds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// count
    pub count: u64,
    /// share of all
    pub share: f64,
    /// lower bound
    pub low: f64,
    /// upper bound
    pub high: f64,
}

/// Share k of n with two-sided bounds at about this confidence: Wilson's score interval.
///
/// The bounds are the true shares from which the observed share is z standard deviations away:
///
/// ```text
/// [p̂ + z²/2n ± z √(p̂(1 − p̂)/n + z²/4n²)] / (1 + z²/n)
/// ```
///
/// Neglects that k is a whole number: the confidence is met on average, not for every share. For n = 0 the bounds are 0
/// and 1. Source: E. B. Wilson, Journal of the American Statistical Association 22 (1927) 209.
///
/// ```
/// // none of ten: 0 to z²/(n + z²), with z² = 3.8415
/// let none = slipsoak_engine::statistics::share_of(0, 10, 0.95);
/// assert_eq!((none.share, none.low), (0.0, 0.0));
/// assert!((none.high - 3.8415 / 13.8415).abs() < 1e-5);
/// ```
pub fn share_of(count: u64, all: u64, confidence: f64) -> Share {
    if all == 0 {
        return Share { count, share: 0.0, low: 0.0, high: 1.0 };
    }
    let (n, z) = (all as f64, normal_quantile(0.5 + 0.5 * confidence));
    let (share, square) = (count as f64 / n, z * z / n);
    let middle = share + 0.5 * square;
    let reach = (square * (share * (1.0 - share) + 0.25 * square)).sqrt();
    // For k = 0 or k = n rounding would leave the bound close to 0 or 1 instead of exactly there.
    let low = if count == 0 { 0.0 } else { (middle - reach) / (1.0 + square) };
    let high = if count == all { 1.0 } else { (middle + reach) / (1.0 + square) };
    Share { count, share, low, high }
}

/// Scale of the first failure among parts of one Weibull shape, in the scales' unit, and each part's share as the first.
///
/// Every part has to last, so the hazards add up, and their ratio is the same at every age:
///
/// ```text
/// η = (Σ ηᵢ^(−β))^(−1/β),   shareᵢ = (η/ηᵢ)^β
/// ```
///
/// Neglects that parts wear together: failures are taken as independent. Closed form.
///
/// ```
/// // two equal parts of constant hazard: half the life, half the shares
/// let (scale, shares) = slipsoak_engine::statistics::weibull_series(1.0, &[10.0, 10.0]);
/// assert_eq!((scale, shares), (5.0, vec![0.5, 0.5]));
/// ```
pub fn weibull_series(shape: f64, scales: &[f64]) -> (f64, Vec<f64>) {
    // In units of the shortest, so that no power overflows.
    let unit = scales.iter().copied().fold(f64::INFINITY, f64::min);
    let hazards: Vec<f64> = scales.iter().map(|scale| libm::pow(unit / scale, shape)).collect();
    let sum: f64 = hazards.iter().sum();
    (unit * libm::pow(sum, -1.0 / shape), hazards.iter().map(|hazard| hazard / sum).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bounds_of_a_share_and_of_its_complement_mirror_each_other() {
        for count in 0..=9 {
            let (few, rest) = (share_of(count, 9, 0.9), share_of(9 - count, 9, 0.9));
            assert!((few.low + rest.high - 1.0).abs() < 1e-15 && few.low <= few.share && few.share <= few.high);
        }
        assert_eq!(share_of(0, 0, 0.9), Share { count: 0, share: 0.0, low: 0.0, high: 1.0 });
    }
}
