//! Counter-based random deviates.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

/// A deviate between 0 and 1, both excluded, for a seed, a clutch and the name of a variable.
///
/// It depends on these three alone: clutch 7 is the same in a fleet of 8 and of 8000, on any thread, and a further
/// uncertain setting does not change the samples of the others. The block function is `ChaCha` with 8 rounds (Bernstein
/// 2008); seed and name make its key, the clutch its stream.
///
/// ```
/// use slipsoak_engine::fleet::deviate;
/// assert_eq!(deviate(1, 7, "oiling.leak"), deviate(1, 7, "oiling.leak"));
/// assert_ne!(deviate(1, 7, "oiling.leak"), deviate(1, 8, "oiling.leak"));
/// assert_ne!(deviate(1, 7, "oiling.leak"), deviate(2, 7, "oiling.leak"));
/// ```
pub fn deviate(seed: u64, clutch: u64, name: &str) -> f64 {
    let mut key = [0; 32];
    key[..8].copy_from_slice(&seed.to_le_bytes());
    // The name's bytes, folded by Fowler, Noll and Vo's hash (FNV-1a, 64 bits).
    let hash = name.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |h, b| (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3));
    key[8..16].copy_from_slice(&hash.to_le_bytes());
    let mut stream = ChaCha8Rng::from_seed(key);
    stream.set_stream(clutch);
    // The middle of one of 2^53 equal parts.
    ((stream.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deviates_are_uniform_and_independent() {
        let n = 20_000;
        let [a, b] = ["a", "b"].map(|name| (0..n).map(|i| deviate(3, i, name)).collect::<Vec<_>>());
        let mean = |x: &[f64]| x.iter().sum::<f64>() / n as f64;
        // Standard errors: 0.29/√n of a mean, 0.083/√n of a product of two centred deviates; four of each.
        assert!((mean(&a) - 0.5).abs() < 4.0 * 0.2887 / (n as f64).sqrt());
        let square: Vec<f64> = a.iter().map(|x| (x - 0.5).powi(2)).collect();
        assert!((mean(&square) - 1.0 / 12.0).abs() < 4.0 * 0.0745 / (n as f64).sqrt());
        let both: Vec<f64> = a.iter().zip(&b).map(|(x, y)| (x - 0.5) * (y - 0.5)).collect();
        assert!(mean(&both).abs() < 4.0 * 0.0833 / (n as f64).sqrt());
        let next: Vec<f64> = a.windows(2).map(|w| (w[0] - 0.5) * (w[1] - 0.5)).collect();
        assert!(mean(&next).abs() < 4.0 * 0.0833 / (n as f64).sqrt());
    }
}
