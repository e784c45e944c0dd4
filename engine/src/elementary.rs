//! Exponentials, logarithms and cube root as the laws use them: inlined, the same bits on every system.

/// Range outside which the general function computes it: nearly under- or overflow, and what is no number.
const FAR: f64 = 708.0;
/// Adding it rounds to whole numbers, which then stand in the lowest bits.
const ROUNDS: f64 = 6_755_399_441_055_744.0;
/// ln 2 in two parts, of which products of the first with whole numbers are exact.
const LN_2: [f64; 2] = [0.693_147_180_369_123_8, 1.908_214_929_270_587_7e-10];

/// Added to the bits of a number, it carries from √2 on.
const ROOT_HALF: u64 = 0x3ff0_0000_0000_0000 - 0x3fe6_a09e_667f_3bcd;
/// Two thirds of the exponent's offset, less what levels the error of the guess.
const CUBE_ROOT: u64 = 0x2a9f_7893_782d_a1ce;

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
    grown(rounded, (x - whole * LN_2[0]) - whole * LN_2[1])
}

/// 2ˣ, within 1.1 units of the last place where 2⁻¹⁰⁰⁰ < 2ˣ < 2¹⁰⁰⁰. As [`exp`], with its whole power of two taken off exactly.
#[inline]
pub(crate) fn exp2(x: f64) -> f64 {
    if x.is_nan() || x.abs() > FAR {
        return libm::exp2(x);
    }
    let rounded = x + ROUNDS;
    grown(rounded, (x - (rounded - ROUNDS)) * std::f64::consts::LN_2)
}

/// 2ᵏ eʳ with the whole number k in the lowest bits of the first.
#[inline]
fn grown(rounded: f64, r: f64) -> f64 {
    let (r2, two) = (r * r, f64::from_bits(rounded.to_bits().wrapping_add(1023) << 52));
    let r4 = r2 * r2;
    let pair = |a: f64, b: f64| 1.0 / a + r * (1.0 / b);
    let low = pair(2.0, 6.0) + pair(24.0, 120.0) * r2;
    let high = pair(720.0, 5040.0) + pair(40_320.0, 362_880.0) * r2;
    let highest = pair(3_628_800.0, 39_916_800.0) + pair(479_001_600.0, 6_227_020_800.0) * r2;
    two + two * (r + r2 * (low + r4 * (high + r4 * highest)))
}

/// ln x, within 2 units of the last place of the larger of 1 and |ln x|.
///
/// Reduced to a power of two and m between √½ and √2, there 2 artanh((m − 1)/(m + 1)) by its series: the first term left out,
/// with s²³ and s < 0.1716, is 2e-19.
#[inline]
pub(crate) fn ln(x: f64) -> f64 {
    if !(f64::MIN_POSITIVE..f64::INFINITY).contains(&x) {
        return libm::log(x);
    }
    // The exponent of x √2, so that what is left lies round 1.
    let shifted = x.to_bits().wrapping_add(ROOT_HALF);
    let whole = (shifted >> 52) as i64 - 1023;
    let m = f64::from_bits((shifted & 0x000f_ffff_ffff_ffff).wrapping_add(0x3ff0_0000_0000_0000 - ROOT_HALF));
    let s = (m - 1.0) / (m + 1.0);
    let (z, whole) = (s * s, whole as f64);
    let (z2, pair) = (z * z, |a: f64, b: f64| 2.0 / a + z * (2.0 / b));
    let (z4, low) = (z2 * z2, pair(3.0, 5.0) + pair(7.0, 9.0) * z2);
    let high = pair(11.0, 13.0) + pair(15.0, 17.0) * z2 + pair(19.0, 21.0) * (z2 * z2);
    let series = s * z * (low + z4 * high);
    whole * LN_2[0] + (2.0 * s + (series + whole * LN_2[1]))
}

/// ln(1 + x), x > −1, within 3 units of the last place.
///
/// What rounding takes from x in u = 1 + x is put back in proportion, since ln(u)/(u − 1) changes little with u.
#[inline]
pub(crate) fn ln_1p(x: f64) -> f64 {
    let u = 1.0 + x;
    let kept = u - 1.0;
    if kept == 0.0 || !u.is_finite() { x } else { ln(u) * (x / kept) }
}

/// ∛x, within 1.1 units of the last place.
///
/// A third of the exponent is a first guess within 6 %; Halley's steps cube its error.
#[inline]
pub(crate) fn cbrt(x: f64) -> f64 {
    let size = x.abs();
    if !(f64::MIN_POSITIVE..f64::INFINITY).contains(&size) {
        return libm::cbrt(x);
    }
    let mut r = f64::from_bits(size.to_bits() / 3 + CUBE_ROOT);
    for _ in 0..2 {
        let cube = r * r * r;
        r *= (cube + size + size) / (cube + cube + size);
    }
    // What is left is corrected in its own small size.
    r -= (r * r * r - size) / (3.0 * r * r);
    r.copysign(x)
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
            worst = worst.max((exp2(x) / libm::exp2(x) - 1.0).abs());
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
        assert_eq!([exp2(-3.0), exp2(10.0), exp2(f64::INFINITY)], [0.125, 1024.0, f64::INFINITY]);
    }

    /// Against the general library, over many decades.
    #[test]
    fn the_logarithm_of_one_and_a_little_is_that_of_the_library_to_the_last_places() {
        let mut worst = 0.0_f64;
        for k in -300_000..=60_000_i32 {
            let x = libm::exp(f64::from(k) * 1.000_123e-4);
            for x in [x, -x.min(0.9)] {
                worst = worst.max((ln_1p(x) / libm::log1p(x) - 1.0).abs());
            }
        }
        assert!(worst < 3.0 * f64::EPSILON, "{worst:e}");
        assert_eq!(
            [ln_1p(0.0), ln_1p(1e-300), ln_1p(-1.0), ln_1p(f64::INFINITY)],
            [0.0, 1e-300, f64::NEG_INFINITY, f64::INFINITY]
        );
    }

    /// Against the general library, over many decades and close to 1.
    #[test]
    fn the_logarithm_and_the_cube_root_are_those_of_the_library_to_the_last_places() {
        let (mut off, mut root_off) = (0.0_f64, 0.0_f64);
        for k in -300_000..=300_000_i32 {
            for x in [libm::exp(f64::from(k) * 2.000_123e-3), 1.0 + f64::from(k) * 1.1e-6] {
                let exact = libm::log(x);
                off = off.max((ln(x) - exact).abs() / exact.abs().max(1.0));
                root_off = root_off.max((cbrt(-x) / libm::cbrt(-x) - 1.0).abs());
            }
        }
        assert!(off < 2.0 * f64::EPSILON && root_off < 1.5 * f64::EPSILON, "{off:e}, {root_off:e}");
        assert_eq!((ln(1.0), cbrt(27.0), cbrt(0.0)), (0.0, 3.0, 0.0));
        assert!(ln(-1.0).is_nan() && ln(0.0) == f64::NEG_INFINITY && cbrt(f64::NAN).is_nan());
    }
}
