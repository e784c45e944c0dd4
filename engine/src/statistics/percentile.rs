//! Percentiles of a sample, with bounds that assume no distribution.

use serde::{Deserialize, Serialize};

/// A percentile and its bounds, in the unit of the sample.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Bounds {
    /// estimate; none if it lies beyond the horizon
    pub estimate: Option<f64>,
    /// lower bound; none for too few observations, or if it lies beyond the horizon
    pub low: Option<f64>,
    /// upper bound; none for too few observations, or if it lies beyond the horizon
    pub high: Option<f64>,
}

/// Percentile of a sample, with two-sided bounds of at least this confidence, in the sample's unit.
///
/// An end of `None` outlived the common horizon and so lies above every observed end. The estimate interpolates
/// linearly between the order statistics at the plotting position (i − 1/3)/(n + 1/3), close to the median of the i-th;
/// outside the first and last position it is the first or last value. The number of ends below the true percentile ξ is
/// binomial for any distribution, so that
///
/// ```text
/// P(x₍r₎ > ξ) = Σ_{k<r} C(n, k) pᵏ (1 − p)ⁿ⁻ᵏ,     P(x₍r₎ < ξ) = 1 − P(x₍r₎ > ξ)
/// ```
///
/// The bounds are the greatest and least x₍r₎ that miss with a probability of at most (1 − confidence)/2 on their side.
/// Neglects nothing for a continuous distribution; ties only raise the confidence. All are none unless 0 < share < 1
/// and the sample is not empty. Sources: H. A. David, H. N. Nagaraja, *Order Statistics*, 3rd ed. 2003, section 7.1; R.
/// J. Hyndman, Y. Fan, The American Statistician 50 (1996) 361, definition 8.
///
/// ```
/// use slipsoak_engine::statistics::percentile;
/// // Ten ends: 1 + 10 of the 1024 equally likely outcomes leave fewer than two below the median: the second is the bound.
/// let ten: Vec<Option<f64>> = (1..=10).map(|k| Some(f64::from(k))).collect();
/// let median = percentile(&ten, 0.5, 0.95);
/// assert_eq!((median.low, median.high), (Some(2.0), Some(9.0)));
/// assert!((median.estimate.unwrap() - 5.5).abs() < 1e-12);
/// ```
pub fn percentile(ends: &[Option<f64>], share: f64, confidence: f64) -> Bounds {
    let n = ends.len();
    if n == 0 || !(0.0 < share && share < 1.0) {
        return Bounds::default();
    }
    let mut sorted = ends.to_vec();
    sorted.sort_by(|a, b| a.unwrap_or(f64::INFINITY).total_cmp(&b.unwrap_or(f64::INFINITY)));
    let at = |rank: usize| sorted[rank - 1];
    let place = (share * (n as f64 + 1.0 / 3.0) + 1.0 / 3.0).clamp(1.0, n as f64);
    let (below, part) = (place.floor() as usize, place.fract());
    let estimate = at(below)
        .and_then(|low| if part == 0.0 { Some(low) } else { at(below + 1).map(|high| low + part * (high - low)) });
    let miss = 0.5 * (1.0 - confidence);
    // The largest ranks from either end that miss rarely enough.
    let low = ranks(n, share, miss);
    let high = ranks(n, 1.0 - share, miss);
    Bounds {
        estimate,
        low: if low == 0 { None } else { at(low) },
        high: if high == 0 { None } else { at(n + 1 - high) },
    }
}

/// Sample size n for which an order statistic exceeds this share of the population with this confidence (Wilks).
///
/// The order statistic is the greatest but `failures_allowed` = m. It misses the share if no more than m observations
/// exceed the share:
///
/// ```text
/// Σ_{k≤m} C(n, k) (1 − share)ᵏ shareⁿ⁻ᵏ ≤ 1 − confidence
/// ```
///
/// One-sided. n is also the number of tests of which m may fail. The two-sided interval from least to greatest encloses
/// the share as often as the greatest but one exceeds it: `failures_allowed` = 1. Neglects nothing for a continuous
/// distribution.
/// Source: S. S. Wilks, Annals of Mathematical Statistics 12 (1941) 91.
///
/// # Panics
/// Unless share and confidence lie strictly between 0 and 1: otherwise no finite number is enough.
///
/// ```
/// // 0.9^22 = 0.0985: no observation above the 90 % share in 22 is just rarer than one in ten
/// assert_eq!(slipsoak_engine::statistics::wilks(0.9, 0.9, 0), 22);
/// ```
pub fn wilks(share: f64, confidence: f64, failures_allowed: usize) -> usize {
    assert!(0.0 < share && share < 1.0 && 0.0 < confidence && confidence < 1.0, "wilks({share}, {confidence})");
    let rank = failures_allowed + 1;
    let enough = |n: usize| ranks(n, 1.0 - share, 1.0 - confidence) >= rank;
    let mut high = 2 * rank;
    while !enough(high) {
        high *= 2;
    }
    let mut low = 0;
    while high - low > 1 {
        let middle = low + (high - low) / 2;
        if enough(middle) { high = middle } else { low = middle }
    }
    high
}

/// Largest r for which the probability of fewer than r successes among n, each of probability p, is at most `miss`.
fn ranks(n: usize, p: f64, miss: f64) -> usize {
    let (odds, mut log) = (libm::log(p) - libm::log1p(-p), n as f64 * libm::log1p(-p));
    let mut fewer = 0.0;
    for k in 0..n {
        fewer += libm::exp(log);
        if fewer > miss {
            return k;
        }
        log += libm::log((n - k) as f64 / (k + 1) as f64) + odds;
    }
    n
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clutch_that_outlives_the_horizon_counts_above_every_end() {
        let mut ends: Vec<Option<f64>> = (1..=20).map(|k| Some(f64::from(k))).collect();
        let whole = percentile(&ends, 0.1, 0.5);
        ends[10..].fill(None);
        ends.reverse();
        assert_eq!(percentile(&ends, 0.1, 0.5), whole, "a low percentile does not ask how far the others lie");
        let median = percentile(&ends, 0.5, 0.95);
        assert_eq!(median, Bounds { estimate: None, low: Some(6.0), high: None });
    }

    #[test]
    fn bounds_are_none_if_the_sample_is_too_small() {
        // All n = 5 on one side of the median: 1/32 > 1/40.
        let five = [1.0, 2.0, 3.0, 4.0, 5.0].map(Some);
        assert_eq!(percentile(&five, 0.5, 0.95), Bounds { estimate: Some(3.0), low: None, high: None });
        let six = [1.0, 2.0, 3.0, 4.0, 5.0, 6.0].map(Some);
        let median = percentile(&six, 0.5, 0.95);
        assert_eq!((median.low, median.high), (Some(1.0), Some(6.0)));
        assert_eq!(percentile(&[], 0.5, 0.95), Bounds::default());
        assert_eq!(percentile(&six, 1.0, 0.95), Bounds::default());
    }

    #[test]
    fn bounds_of_many_ends_follow_the_normal_law() {
        // (k − np)/√(np(1−p)) = ±1.645 at n = 20 000, p = 0.1: ranks 1930.2 and 2069.8, within one rank of skew.
        let ends: Vec<Option<f64>> = (1..=20_000).map(|k| Some(f64::from(k))).collect();
        let tenth = percentile(&ends, 0.1, 0.9);
        assert!((tenth.low.unwrap() - 1930.5).abs() < 1.5 && (tenth.high.unwrap() - 2071.0).abs() < 1.5, "{tenth:?}");
    }
}
