//! Percentiles of a sample with bounds that assume no distribution.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A percentile and its bounds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Bounds {
    /// estimate; none where it lies beyond the horizon
    pub estimate: Option<f64>,
    /// lower bound; none where there are too few observations
    pub low: Option<f64>,
    /// upper bound; none where there are too few observations, or it lies beyond the horizon
    pub high: Option<f64>,
}

/// The value that a share of all lie below, with two-sided bounds of so much confidence.
///
/// `None` among the values is one that lies beyond the horizon, above all others. The estimate interpolates between the
/// order statistics at the plotting position (i − 1/3)/(n + 1/3), which is within a hundredth of a rank of the median.
/// The bounds are order statistics: the number of values below the true percentile is binomial, so that the r-th value
/// lies above it with the probability of fewer than r successes,
///
/// ```text
/// P(x_(r) > ξ_p) = Σ_{k<r} C(n, k) p^k (1 − p)^(n−k)
/// ```
///
/// The tightest pair with at most (1 − confidence)/2 on either side is taken. Source: H. A. David, H. N. Nagaraja, *Order
/// Statistics*, 3rd ed. 2003, section 7.1.
///
/// ```
/// use slipsoak_engine::statistics::percentile;
/// let values: Vec<Option<f64>> = (1..=100).map(|k| Some(f64::from(k))).collect();
/// let median = percentile(&values, 0.5, 0.95);
/// assert_eq!((median.low, median.high), (Some(40.0), Some(61.0))); // the classical ranks for 100 values
/// assert!((median.estimate.unwrap() - 50.5).abs() < 1e-9);
/// ```
pub fn percentile(values: &[Option<f64>], share: f64, confidence: f64) -> Bounds {
    let n = values.len();
    if n == 0 {
        return Bounds::default();
    }
    let mut sorted: Vec<Option<f64>> = values.to_vec();
    sorted.sort_by(|a, b| a.unwrap_or(f64::INFINITY).total_cmp(&b.unwrap_or(f64::INFINITY)));
    let at = |rank: usize| rank.checked_sub(1).and_then(|i| sorted.get(i).copied().flatten());
    let place = (share * (n as f64 + 1.0 / 3.0) + 1.0 / 3.0).clamp(1.0, n as f64);
    let below = place.floor() as usize;
    let estimate = at(below).and_then(|low| {
        let part = place - below as f64;
        if part == 0.0 { Some(low) } else { Some(low + part * (at(below + 1)? - low)) }
    });
    let beyond = 0.5 * (1.0 - confidence);
    // P(fewer than r below) for r = 0..=n.
    let fewer: Vec<f64> = std::iter::once(0.0)
        .chain(binomial(n, share).into_iter().scan(0.0, |sum, p| {
            *sum += p;
            Some(*sum)
        }))
        .collect();
    // Low: the greatest r with P(x_(r) > ξ) ≤ beyond; high: the least r with P(x_(r) < ξ) = 1 − P(fewer than r) ≤ beyond.
    let low = (1..=n).rev().find(|&r| fewer[r] <= beyond).and_then(at);
    let high = (1..=n).find(|&r| 1.0 - fewer[r] <= beyond).and_then(at);
    Bounds { estimate, low, high }
}

/// Probabilities of 0..=n successes.
fn binomial(n: usize, p: f64) -> Vec<f64> {
    let log = |x: f64| libm::log(x);
    let whole = libm::lgamma(n as f64 + 1.0);
    (0..=n)
        .map(|k| {
            let (k, rest) = (k as f64, (n - k) as f64);
            let ways = whole - libm::lgamma(k + 1.0) - libm::lgamma(rest + 1.0);
            libm::exp(ways + k * log(p) + rest * log(1.0 - p))
        })
        .collect()
}

/// How many values it takes for the r-th largest to lie above a share of all with this confidence (one-sided, Wilks).
///
/// ```text
/// Σ_{k<r} C(n, k) (1 − share)^k share^(n−k) ≤ 1 − confidence
/// ```
///
/// Source: S. S. Wilks, Ann. Math. Statist. 12 (1941) 91.
///
/// ```
/// assert_eq!(slipsoak_engine::statistics::wilks(0.95, 0.95, 1), 59);
/// ```
pub fn wilks(share: f64, confidence: f64, rank: usize) -> usize {
    let mut n = rank;
    while binomial(n, 1.0 - share)[..rank].iter().sum::<f64>() > 1.0 - confidence {
        n += 1;
    }
    n
}
