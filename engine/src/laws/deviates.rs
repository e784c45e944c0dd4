//! Order statistics of normal deviates: what the weakest of a clutch's springs is worth.

use std::f64::consts::{PI, SQRT_2};
use std::sync::OnceLock;

/// Half the range and steps of the integration over a normal deviate; the error is below 1e-9.
const REACH: f64 = 9.0;
const STEPS: u32 = 1800;

/// Scores of as many deviates as a clutch may have shoes, each number's computed once.
static SCORES: [OnceLock<Scores>; 25] = [const { OnceLock::new() }; 25];

/// Order statistics of one number of deviates.
struct Scores {
    /// expected values from the least to the greatest
    expected: Vec<f64>,
    /// standard deviation of the greatest
    deviation: f64,
}

/// Those of `n` deviates, at least one and at most 24.
fn scores(n: u32) -> &'static Scores {
    let n = n.clamp(1, SCORES.len() as u32 - 1);
    SCORES[n as usize].get_or_init(|| {
        let mut expected = vec![0.0; n as usize];
        for k in n / 2 + 1..=n {
            let score = moment(n, k, 1);
            expected[(n - k) as usize] = -score;
            expected[k as usize - 1] = score;
        }
        if n % 2 == 1 {
            expected[(n / 2) as usize] = 0.0;
        }
        let mean = expected[n as usize - 1];
        Scores { expected, deviation: (moment(n, n, 2) - mean * mean).max(0.0).sqrt() }
    })
}

/// Moment of the k-th smallest of n normal deviates about zero, by the trapezoidal rule, which
/// converges beyond every power of the step where both ends vanish.
fn moment(n: u32, k: u32, power: i32) -> f64 {
    let ways = (1..=n - k).fold(f64::from(k), |ways, i| ways * f64::from(k + i) / f64::from(i));
    let step = 2.0 * REACH / f64::from(STEPS);
    let term = |i: u32| {
        let x = -REACH + f64::from(i) * step;
        let bell = libm::exp(-0.5 * x * x) / (2.0 * PI).sqrt();
        let (below, above) = (0.5 * libm::erfc(-x / SQRT_2), 0.5 * libm::erfc(x / SQRT_2));
        x.powi(power) * bell * libm::pow(below, f64::from(k - 1)) * libm::pow(above, f64::from(n - k))
    };
    ways * (0..=STEPS).map(term).sum::<f64>() * step
}

/// Expected values of the order statistics of `n` normal deviates, 1 to 24 of them, from the least to the greatest.
///
/// Density of the k-th of n, summed by the trapezoidal rule; exact to 1e-8.
/// ```text
/// E_k = n!/((k−1)!(n−k)!) ∫ x φ(x) Φ(x)^(k−1) (1 − Φ(x))^(n−k) dx
/// ```
/// Source: H. L. Harter, Biometrika 48 (1961), table 1 (from memory).
/// ```
/// let scores = slipsoak_engine::laws::deviates::normal_scores(4);
/// assert!((scores[3] - 1.029375).abs() < 1e-6 && (scores[2] - 0.297011).abs() < 1e-6);
/// assert_eq!(scores[0], -scores[3]);
/// ```
pub fn normal_scores(n: u32) -> &'static [f64] {
    &scores(n).expected
}

/// Mean and standard deviation of the largest of `n` normal deviates.
/// ```text
/// E = ∫ x p(x) dx,   σ² = ∫ x² p(x) dx − E²,   p(x) = n φ(x) Φ(x)^(n−1)
/// ```
/// Exact but for the trapezoidal rule, 1e-9. The smallest deviate has the mean −E and the same σ.
/// Source: H. L. Harter, Expected values of normal order statistics, Biometrika 48 (1961), table 1 (from memory).
/// ```
/// let (mean, deviation) = slipsoak_engine::laws::deviates::largest_of(4);
/// assert!((mean - 1.02938).abs() < 1e-5 && (deviation - 0.7012).abs() < 1e-4);
/// ```
pub fn largest_of(n: u32) -> (f64, f64) {
    let scores = scores(n);
    (scores.expected[scores.expected.len() - 1], scores.deviation)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Harter 1961, table 1 (from memory): the largest of n normal deviates, and of four their standard deviation.
    /// The same table: the second of five, the middle, and no more than 24.
    #[test]
    fn scores_within_the_row_are_those_of_the_table() {
        assert!((normal_scores(5)[3] - 0.49502).abs() < 1e-5 && (normal_scores(6)[4] - 0.64176).abs() < 1e-5);
        assert_eq!(normal_scores(3)[1], 0.0);
        assert_eq!(normal_scores(30).len(), 24);
    }

    #[test]
    fn the_largest_of_n_deviates_is_that_of_the_table() {
        for (n, mean) in [(1, 0.0), (2, 0.56419), (3, 0.84628), (4, 1.02938), (5, 1.16296), (6, 1.26721), (8, 1.42360)]
        {
            assert!((largest_of(n).0 - mean).abs() < 1e-5, "{n}: {}", largest_of(n).0);
        }
        assert!((largest_of(1).1 - 1.0).abs() < 1e-6);
        assert!((largest_of(4).1 - 0.70123).abs() < 1e-4);
    }
}
