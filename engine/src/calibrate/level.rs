//! Readings with a shared, unknown offset.

/// Removes a shared offset from residuals. Example: all readings of one clutch whose part was not exactly of its
/// nominal size when new. The residuals are in units of the single reading's deviation, and so is the offset's own
/// deviation. An infinite deviation means an unknown offset.
///
/// The sum of squares of the result equals that of the residuals with the best offset and its prior. Least squares may
/// treat the result as independent.
/// ```text
/// r ← r − m + m/√(1 + n τ²),   m the mean of n residuals;   rᵀr = r₀ᵀ (1 + τ² 11ᵀ)⁻¹ r₀
/// ```
/// Exact for a normal level (the root of that inverse). It is linear, so slopes go through it as residuals do.
/// ```
/// let mut r = [1.0, 3.0];
/// slipsoak_engine::calibrate::share_level(&mut r, f64::INFINITY);
/// assert_eq!(r, [-1.0, 1.0]);
/// ```
pub fn share_level(residuals: &mut [f64], level: f64) {
    let n = residuals.len() as f64;
    let mean = residuals.iter().sum::<f64>() / n;
    let kept = mean / (1.0 + n * level * level).sqrt();
    for r in residuals {
        *r = *r - mean + kept;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_of_squares_is_that_of_the_best_offset() {
        let (readings, level) = ([1.0, -0.5, 2.5, 0.75], 1.5_f64);
        // The least of Σ(r − λ)² + (λ/τ)² over λ, by its closed form λ = Σr/(n + 1/τ²).
        let best = readings.iter().sum::<f64>() / (4.0 + 1.0 / (level * level));
        let least = readings.iter().map(|r| (r - best).powi(2)).sum::<f64>() + (best / level).powi(2);
        let mut shared = readings;
        share_level(&mut shared, level);
        assert!((shared.iter().map(|r| r * r).sum::<f64>() / least - 1.0).abs() < 1e-14);
    }

    #[test]
    fn an_offset_that_is_known_changes_nothing() {
        let mut r = [0.3, -2.0, 5.0];
        share_level(&mut r, 0.0);
        assert!(r.iter().zip([0.3, -2.0, 5.0]).all(|(a, b)| (a - b).abs() < 1e-15));
    }
}
