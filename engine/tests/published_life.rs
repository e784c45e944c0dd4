//! Statistics of lives compared with published figures.

use approx::assert_relative_eq;
use slipsoak_engine::statistics::{
    Design, Fit, fit, lognormal_life, percentile, share_of, weibull_life, weibull_series, wilks,
};

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

// NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3. Half a unit of the last digit; B10 is our own.
#[test]
fn ten_failures_and_ten_cut_off_at_500_hours_have_shape_1_7208_and_scale_606_528() {
    let failures = [54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0];
    let w = fit(&failures, &[500.0; 10], 0.95).expect("ten failures");
    assert_relative_eq!(w.scale, 606.528, epsilon = 5e-4);
    assert_relative_eq!(w.shape, 1.7208, epsilon = 5e-5);
    assert_relative_eq!(w.log_likelihood, -75.135, epsilon = 5e-4);
    assert_relative_eq!(weibull_life(w.shape, w.scale, 0.1), 164.02, epsilon = 5e-3);
    assert_eq!(w.fits(&failures, &[500.0; 10]), Fit::Untested);
}

// Closed form, median 100 and deviation 0.5 of the logarithm. Half a unit of the last digit.
#[test]
fn a_lognormal_life_of_median_100_has_b10_52_6884() {
    for (share, life, half) in
        [(0.01, 31.2493, 5e-5), (0.05, 43.9364, 5e-5), (0.10, 52.6884, 5e-5), (0.90, 189.795, 5e-4)]
    {
        assert_relative_eq!(lognormal_life(100.0, 0.5, share), life, epsilon = half);
    }
}

// Closed form; five parts of one shape. Half a unit of the last digit.
#[test]
fn five_parts_of_shape_2_5_have_b10_155_5683_and_these_shares_as_the_first() {
    let (scale, shares) = weibull_series(2.5, &[500.0, 800.0, 1200.0, 650.0, 3000.0]);
    assert_relative_eq!(scale, 382.6926, epsilon = 5e-5);
    assert_relative_eq!(weibull_life(2.5, scale, 0.1), 155.5683, epsilon = 5e-5);
    for (share, percent) in shares.iter().zip([51.25, 15.83, 5.74, 26.60, 0.58]) {
        assert_relative_eq!(100.0 * share, percent, epsilon = 5e-3);
    }
}

// R. G. Newcombe, Statistics in Medicine 17 (1998) 857, table I, score method without continuity correction, as printed for
// 81 of 263, 15 of 148, 0 of 20 and 1 of 29 (from memory). Half a unit of the last digit.
#[test]
fn wilsons_bounds_are_those_of_newcombes_table() {
    for (count, all, low, high) in
        [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)]
    {
        let share = share_of(count, all, 0.95);
        assert_relative_eq!(share.low, low, epsilon = 5e-5);
        assert_relative_eq!(share.high, high, epsilon = 5e-5);
    }
}

// T. Ishigami, T. Homma, 1990: sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1 on ±π; the indices are its closed form, to six digits.
#[test]
fn ishigamis_function_has_its_closed_indices() {
    let design = Design::new(4096, 3);
    let value = |k: usize| {
        let x = design.point(k).into_iter().map(|u| std::f64::consts::PI * (2.0 * u - 1.0)).collect::<Vec<f64>>();
        x[0].sin() + 7.0 * x[1].sin().powi(2) + 0.1 * x[2].powi(4) * x[0].sin()
    };
    let outputs: Vec<f64> = (0..design.points()).map(value).collect();
    let closed = [(0.313905, 0.557589), (0.442411, 0.442411), (0.0, 0.243684)];
    let indices = design.indices(&outputs);
    assert_eq!(indices.len(), 3);
    // 4096 rows of the sequence deviate by 4e-4 at most; the stated errors are larger.
    for (index, (first, total)) in indices.iter().zip(closed) {
        assert_relative_eq!(index.first, first, epsilon = 8e-4);
        assert_relative_eq!(index.total, total, epsilon = 8e-4);
        assert!((index.first - first).abs() < index.first_error && index.first_error < 0.02, "{index:?}");
        assert!((index.total - total).abs() < index.total_error && index.total_error < 0.03, "{index:?}");
    }
}
