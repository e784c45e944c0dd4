//! Shares of a sample.

use crate::fleet::normal_quantile;

/// The share k/n and its bounds at a two-sided confidence, by Wilson's score interval.
///
/// ```text
/// (p̂ + z²/2n ± z √(p̂(1 − p̂)/n + z²/4n²)) / (1 + z²/n)
/// ```
///
/// Approximate for small n, yet never outside 0..1; errs by a point or two at n = 10. Source: E. B. Wilson, J. Am. Statist.
/// Assoc. 22 (1927) 209.
///
/// ```
/// let (share, low, high) = slipsoak_engine::statistics::share_of(5, 10, 0.95);
/// assert_eq!(share, 0.5);
/// assert!((low - 0.2366).abs() < 1e-4 && (high - 0.7634).abs() < 1e-4); // by hand: z = 1.96
/// ```
pub fn share_of(k: u64, n: u64, confidence: f64) -> (f64, f64, f64) {
    if n == 0 {
        return (0.0, 0.0, 1.0);
    }
    let (k, n) = (k as f64, n as f64);
    let z = normal_quantile(0.5 + 0.5 * confidence);
    let (share, square) = (k / n, z * z / n);
    let middle = share + 0.5 * square;
    let reach = z * (share * (1.0 - share) / n + square / (4.0 * n)).sqrt();
    (share, ((middle - reach) / (1.0 + square)).max(0.0), ((middle + reach) / (1.0 + square)).min(1.0))
}
