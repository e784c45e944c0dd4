//! The exponential as the laws use it: inlined, without a division, the same bits on every system.

/// Range outside which the general function computes it: nearly under- or overflow, and what is no number.
const FAR: f64 = 708.0;
/// Adding it rounds to whole numbers, which then stand in the lowest bits.
const ROUNDS: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, of which products of the first with whole numbers are exact.
const LN_2: [f64; 2] = [0.693_147_180_369_123_8, 1.908_214_929_270_587_7e-10];

/// eˣ, within 1.1 units of the last place where 2⁻¹⁰⁰⁰ < eˣ < 2¹⁰⁰⁰.
///
/// Reduced to a power of two and |r| ≤ ½ ln 2, there by Taylor's polynomial: the first term left out, r¹⁴/14!, is 4e-18.
#[inline]
pub(crate) fn exp(x: f64) -> f64 {
    if x.is_nan() || x.abs() > FAR {
        return libm::exp(x);
    }
    let rounded = x * std::f64::consts::LOG2_E + ROUNDS;
    let whole = rounded - ROUNDS;
    let r = (x - whole * LN_2[0]) - whole * LN_2[1];
    let (r2, two) = (r * r, f64::from_bits(rounded.to_bits().wrapping_add(1023) << 52));
    let r4 = r2 * r2;
    let pair = |a: f64, b: f64| 1.0 / a + r * (1.0 / b);
    let low = pair(2.0, 6.0) + pair(24.0, 120.0) * r2;
    let high = pair(720.0, 5040.0) + pair(40_320.0, 362_880.0) * r2;
    let highest = pair(3_628_800.0, 39_916_800.0) + pair(479_001_600.0, 6_227_020_800.0) * r2;
    two + two * (r + r2 * (low + r4 * (high + r4 * highest)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the general library, itself within one unit of the last place, over the whole range.
    #[test]
    fn the_exponential_is_that_of_the_library_to_the_last_places() {
        let mut worst = 0.0_f64;
        for k in -700_000..=700_000_i32 {
            let x = f64::from(k) * 1.000_123e-3;
            worst = worst.max((exp(x) / libm::exp(x) - 1.0).abs());
        }
        assert!(worst < 2.3 * f64::EPSILON, "{worst:e}");
    }

    /// By definition, and e as the standard library has it.
    #[test]
    fn the_exponential_keeps_its_ends() {
        assert_eq!(exp(0.0), 1.0);
        assert!((exp(1.0) - std::f64::consts::E).abs() < 5e-16);
        assert_eq!((exp(-800.0), exp(800.0)), (0.0, f64::INFINITY));
        assert!(exp(f64::NAN).is_nan() && exp(-745.0) > 0.0);
    }
}
