//! Springs and shoes one by one: their scatter, and the force of those that touch.

use super::margin::{REACH, STEPS, largest_of};
use crate::real::Real;

/// Expected values of the order statistics of `n` normal deviates, from the least to the greatest.
///
/// Density of the k-th of n, summed by Simpson's rule; exact to 1e-8.
/// ```text
/// E_k = n!/((k−1)!(n−k)!) ∫ x φ(x) Φ(x)^(k−1) (1 − Φ(x))^(n−k) dx
/// ```
/// Source: H. L. Harter, Biometrika 48 (1961), table 1 (from memory).
/// ```
/// let scores = slipsoak_engine::laws::springs::normal_scores(4);
/// assert!((scores[3] - 1.029375).abs() < 1e-6 && (scores[2] - 0.297011).abs() < 1e-6);
/// assert_eq!(scores[0], -scores[3]);
/// ```
pub fn normal_scores(n: u32) -> Vec<f64> {
    let mut scores = vec![0.0; n as usize];
    for k in n / 2 + 1..=n {
        let score = largest_of_rank(n, k);
        scores[k as usize - 1] = score;
        scores[(n - k) as usize] = -score;
    }
    if n % 2 == 1 {
        scores[(n / 2) as usize] = 0.0;
    }
    scores
}

/// Expected value of the k-th smallest of n normal deviates.
fn largest_of_rank(n: u32, k: u32) -> f64 {
    if k == n {
        return largest_of(n).0;
    }
    let ways = (1..=n - k).fold(f64::from(k), |ways, i| ways * f64::from(k + i) / f64::from(i));
    let term = |i: u32| {
        let x = -REACH + f64::from(i) * 2.0 * REACH / f64::from(STEPS);
        let weight = if i == 0 || i == STEPS { 1.0 } else { 2.0 + 2.0 * f64::from(i % 2) };
        let bell = libm::exp(-0.5 * x * x) / (2.0 * std::f64::consts::PI).sqrt();
        let (below, above) =
            (0.5 * libm::erfc(-x / std::f64::consts::SQRT_2), 0.5 * libm::erfc(x / std::f64::consts::SQRT_2));
        weight * x * bell * libm::pow(below, f64::from(k - 1)) * libm::pow(above, f64::from(n - k))
    };
    ways * (0..=STEPS).map(term).sum::<f64>() * 2.0 * REACH / f64::from(STEPS) / 3.0
}

/// Force of a shoe on the drum near its touch, N, without a kink: what centrifugal force leaves over the spring, rounded over ± δ.
/// ```text
/// 0 for x ≤ −δ,   (x + δ)²/4δ for |x| < δ,   x for x ≥ δ
/// ```
/// Errs by at most δ/4. With δ = 0 it is the force itself, held at zero.
/// ```
/// use slipsoak_engine::laws::springs::touching;
/// assert_eq!([-2.0, 0.0, 2.0, 3.0].map(|x| touching(x, 2.0)), [0.0, 0.5, 2.0, 3.0]);
/// assert_eq!([-1.0, 1.0].map(|x| touching(x, 0.0)), [0.0, 1.0]);
/// ```
pub fn touching<R: Real>(over: R, rounding: f64) -> R {
    if over.value() >= rounding {
        over
    } else if over.value() <= -rounding {
        R::from(0.0).beside(over)
    } else {
        (over + rounding).squared() / (4.0 * rounding)
    }
}
