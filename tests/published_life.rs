//! Statistics of lives against published figures.

use slipsoak_engine::statistics::{percentile, wilks};

// Wilks 1941; the five numbers are those of best-estimate nuclear safety analysis, orders one to five. Whole numbers.
#[test]
fn a_share_of_95_percent_at_95_percent_takes_59_93_124_153_and_181_observations() {
    let numbers: Vec<usize> = (0..5).map(|failures| wilks(0.95, 0.95, failures)).collect();
    assert_eq!(numbers, [59, 93, 124, 153, 181]);
}

// The same, two-sided, against its own closed form 1 − γⁿ − n(1 − γ)γⁿ⁻¹.
#[test]
fn least_and_greatest_of_93_enclose_95_percent_with_95_percent() {
    let encloses = |n: usize| {
        let share = 0.95_f64;
        1.0 - share.powi(n as i32) - n as f64 * (1.0 - share) * share.powi(n as i32 - 1)
    };
    let n = wilks(0.95, 0.95, 1);
    assert_eq!(n, 93);
    assert!(encloses(n) >= 0.95 && encloses(n - 1) < 0.95);
}

// Ranks of the 95 % bounds of a median, as any table of them prints (from memory). Whole numbers.
#[test]
fn bounds_of_a_median_are_the_tabulated_ranks() {
    for (n, low, high) in [(6, 1, 6), (9, 2, 8), (10, 2, 9), (15, 4, 12), (20, 6, 15), (25, 8, 18), (100, 40, 61)] {
        let ends: Vec<Option<f64>> = (1..=n).map(|k| Some(f64::from(k))).collect();
        let median = percentile(&ends, 0.5, 0.95);
        assert_eq!((median.low, median.high), (Some(f64::from(low)), Some(f64::from(high))), "{n}");
    }
}
