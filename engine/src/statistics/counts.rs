//! Counts in as many clutches drawn anew, from those seen in a sample.

/// Largest share that may fail at a confidence C where none of n clutches did.
///
/// ```text
/// (1 − s)ⁿ = 1 − C   →   s = 1 − (1 − C)^(1/n)
/// ```
///
/// The share that would let all n survive with probability 1 − C. Neglects what is known beside the sample, which errs to
/// the safe side. Source: S. S. Wilks, Annals of Mathematical Statistics 12 (1941) 91.
///
/// ```
/// // Two clutches: (1 − 0.5)² = 0.25 = 1 − 0.75.
/// assert!((slipsoak_engine::statistics::none_of(2, 0.75) - 0.5).abs() < 1e-12);
/// ```
pub fn none_of(n: u64, confidence: f64) -> f64 {
    1.0 - (1.0 - confidence).powf(1.0 / n.max(1) as f64)
}

/// Number of failures among as many clutches drawn anew that is not exceeded with this probability, where `count` of
/// `all` failed.
///
/// ```text
/// P(k) = C(n, k) B(k + a, n − k + b)/B(a, b),   a = count + ½, b = n − count + ½
/// ```
///
/// The beta-binomial distribution: the share of failures is known from the sample alone, by Jeffreys's prior, so that the
/// number spreads more than one drawn with the sample's own share. Neglects that clutches of one lot are alike, which errs
/// to the low side. Source: H. Jeffreys, Theory of Probability, 3rd edition (1961), section 3.7, from memory.
///
/// ```
/// use slipsoak_engine::statistics::count_at;
/// // None of one failed: a = ½, b = 3/2, so that the next fails with probability a/(a + b) = 1/4.
/// assert_eq!((count_at(0, 1, 0.7), count_at(0, 1, 0.8)), (0, 1));
/// // Half of twenty: as many again in the middle.
/// assert_eq!(count_at(10, 20, 0.5), 10);
/// ```
pub fn count_at(count: u64, all: u64, probability: f64) -> u64 {
    let (n, seen) = (all as f64, count.min(all) as f64);
    let (a, b) = (seen + 0.5, n - seen + 0.5);
    // P(0) = Π (b + i)/(a + b + i); from there by the ratio of neighbours.
    let mut log: f64 = (0..all).map(|i| libm::log((b + i as f64) / (a + b + i as f64))).sum();
    let mut reached = libm::exp(log);
    let mut k = 0;
    while reached < probability && k < all {
        let at = k as f64;
        log += libm::log((n - at) * (a + at) / ((at + 1.0) * (b + n - at - 1.0)));
        k += 1;
        reached += libm::exp(log);
    }
    k
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_number_to_expect_is_the_sample_s_own_and_nine_in_ten_are_above_it() {
        for all in [8, 20, 500, 2000] {
            for count in [0, all / 10, all / 2, all] {
                let [half, nine] = [0.5, 0.9].map(|share| count_at(count, all, share));
                assert!(half.abs_diff(count) <= 1 && nine >= half && nine <= all, "{count} of {all}: {half}, {nine}");
            }
        }
        // Normal approximation: variance n s (1 − s)(1 + n/(n + 2)), nearly twice that of a known share.
        let nine = count_at(1000, 2000, 0.9) as f64;
        assert!((nine - 1000.0 - 1.2816 * 1000f64.sqrt()).abs() < 2.0, "{nine}");
    }
}
