//! The normal distribution and its quantile, and the lognormal distribution of lives.

/// Standard normal quantile of 95 %: nine in ten lie between this and its negative.
pub const NINETY_FIVE: f64 = 1.644_853_626_951_472;

/// Quantile of a lognormal distribution: the value that this share lies below, in the median's unit.
///
/// The logarithm of a life is normal: many small causes multiply.
///
/// ```text
/// x = median · exp(σ z),   z = Φ⁻¹(share)
/// ```
///
/// Neglects nothing. `deviation` σ is that of the natural logarithm. Closed form.
///
/// ```
/// use slipsoak_engine::statistics::lognormal_life;
/// // one deviation above the median: 84.13 % of all lie below e^0.5 medians
/// assert!((lognormal_life(100.0, 0.5, 0.841_344_746) - 164.872_127).abs() < 1e-5);
/// ```
pub fn lognormal_life(median: f64, deviation: f64, share: f64) -> f64 {
    median * libm::exp(deviation * normal_quantile(share))
}

/// Quantile of the standard normal distribution: the value that this share lies below, without unit.
///
/// Inverts Φ by rational functions of degree seven: of z² near the middle, of √(−ln tail) beyond 0.425 from it.
///
/// ```text
/// q = p − ½;  |q| ≤ 0.425: z = q A(0.180625 − q²)/B;  else r = √(−ln min(p, 1−p)): |z| = C(r − 1.6)/D or E(r − 5)/F
/// ```
///
/// Relative error about 1e-16; −∞ and ∞ at 0 and 1, not a number outside. Source: M. J. Wichura, Algorithm AS 241 (PPND16),
/// Applied Statistics 37 (1988) 477.
///
/// ```
/// let z = slipsoak_engine::statistics::normal_quantile(0.975);
/// assert!((z - 1.959_963_984_540_054).abs() < 1e-14); // any table
/// ```
pub fn normal_quantile(share: f64) -> f64 {
    let from_middle = share - 0.5;
    if from_middle.abs() <= 0.425 {
        return from_middle * ratio(&MIDDLE, 0.180625 - from_middle * from_middle);
    }
    if share == 0.0 || share == 1.0 {
        return from_middle * f64::INFINITY;
    }
    let r = (-libm::log(share.min(1.0 - share))).sqrt();
    let size = if r <= 5.0 { ratio(&OUTSIDE, r - 1.6) } else { ratio(&FAR, r - 5.0) };
    size.copysign(from_middle)
}

/// Distribution function of the standard normal distribution: the share that lies below a value.
///
/// ```text
/// Φ(z) = ½ erfc(−z/√2)
/// ```
///
/// Exact to rounding, in the tails too.
///
/// ```
/// use slipsoak_engine::statistics::normal_share;
/// assert!((normal_share(1.959_963_984_540_054) - 0.975).abs() < 1e-15); // any table
/// ```
pub fn normal_share(value: f64) -> f64 {
    0.5 * libm::erfc(-value * std::f64::consts::FRAC_1_SQRT_2)
}

fn ratio([above, below]: &[[f64; 8]; 2], x: f64) -> f64 {
    let sum = |c: &[f64; 8]| c.iter().rev().fold(0.0, |sum, c| sum * x + c);
    sum(above) / sum(below)
}

/// A and B of AS 241, from the constant term up.
const MIDDLE: [[f64; 8]; 2] = [
    [
        3.387_132_872_796_366_5,
        133.141_667_891_784_38,
        1_971.590_950_306_551_3,
        13_731.693_765_509_46,
        45_921.953_931_549_87,
        67_265.770_927_008_7,
        33_430.575_583_588_13,
        2_509.080_928_730_122_7,
    ],
    [
        1.0,
        42.313_330_701_600_91,
        687.187_007_492_057_9,
        5_394.196_021_424_751,
        21_213.794_301_586_597,
        39_307.895_800_092_71,
        28_729.085_735_721_943,
        5_226.495_278_852_854,
    ],
];
/// C and D.
const OUTSIDE: [[f64; 8]; 2] = [
    [
        1.423_437_110_749_683_5,
        4.630_337_846_156_546,
        5.769_497_221_460_691,
        3.647_848_324_763_204_5,
        1.270_458_252_452_368_4,
        0.241_780_725_177_450_6,
        0.022_723_844_989_269_184,
        7.745_450_142_783_414e-4,
    ],
    [
        1.0,
        2.053_191_626_637_759,
        1.676_384_830_183_803_8,
        0.689_767_334_985_1,
        0.148_103_976_427_480_08,
        0.015_198_666_563_616_457,
        5.475_938_084_995_345e-4,
        1.050_750_071_644_416_9e-9,
    ],
];
/// E and F.
const FAR: [[f64; 8]; 2] = [
    [
        6.657_904_643_501_103,
        5.463_784_911_164_114,
        1.784_826_539_917_291_3,
        0.296_560_571_828_504_87,
        0.026_532_189_526_576_124,
        0.001_242_660_947_388_078_4,
        2.711_555_568_743_487_6e-5,
        2.010_334_399_292_288_1e-7,
    ],
    [
        1.0,
        0.599_832_206_555_888,
        0.136_929_880_922_735_8,
        0.014_875_361_290_850_615,
        7.868_691_311_456_133e-4,
        1.846_318_317_510_054_8e-5,
        1.421_511_758_316_446e-7,
        2.044_263_103_389_939_8e-15,
    ],
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_quantile_inverts_the_distribution_in_all_three_ranges() {
        let density = |z: f64| libm::exp(-0.5 * z * z) / std::f64::consts::TAU.sqrt();
        for k in 1..=360 {
            let z = -0.1 * f64::from(k);
            let share = 0.5 * libm::erfc(-z / std::f64::consts::SQRT_2);
            // Four roundings of z, of erfc's argument (both times z) and of the share, divided by the density.
            let allowed = 8.9e-16 * (share / density(z) + z.abs());
            assert!((normal_quantile(share) - z).abs() < allowed, "{z}: {}", normal_quantile(share) - z);
            let above = normal_quantile(1.0 - share);
            assert!(share < 1e-3 || (above + z).abs() < 2e-16 / density(z) + 8.9e-16 * z.abs(), "{z}");
        }
        assert_eq!((normal_quantile(0.0), normal_quantile(0.5)), (f64::NEG_INFINITY, 0.0));
        assert!(normal_quantile(1.5).is_nan() && normal_quantile(1.0) == f64::INFINITY);
    }
}
