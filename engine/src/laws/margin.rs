//! The margin that tolerances take: how far a spring has to engage above the idle so that few clutches touch there.

use super::deviates::largest_of;
use crate::statistics::NINETY_FIVE;
use crate::units::{HOUR, RPM};

/// Scatter of the springs of one clutch, and of one lot from another, as standard deviations over the force (assumed; grade 2 of
/// the tolerances for coiled springs taken as ± 2 standard deviations gives 3 to 4 %).
pub const SPRING_SCATTER: f64 = 0.03;
/// Standard deviation of a workshop tachometer, as a share of the idle (common practice, no source).
pub const TACHOMETER: f64 = 0.01;
/// How far a motor's idle varies to either side, rad/s (assumed).
pub const VARIATION: f64 = 75.0 * RPM;
/// The variation where none is given, rad/s.
pub(crate) const fn usual() -> f64 {
    VARIATION
}
/// Time over which springs relax before they are looked at again, s: a season (assumed).
pub const SEASON: f64 = 300.0 * HOUR;

/// Scatter that a margin has to cover.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerances {
    /// standard deviation of one spring's force against the others of its clutch, over the force
    pub spring: f64,
    /// standard deviation of a lot of springs against another, over the force
    pub lot: f64,
    /// standard deviation of the tachometer, rad/s
    pub tachometer: f64,
}

/// Least margin between an engagement speed and the highest idle, rad/s, so that of clutches with `shoes` shoes all but a share
/// stay clear of the drum; `quantile` is the normal quantile of those that do.
///
/// The first shoe to touch is that of the weakest spring; speed goes with the root of the force, so that a force off by s moves
/// the speed by ½ s ω_e.
/// ```text
/// M = E a + z √((σ a)² + b² + t²),   a = ½ s ω_e,   b = ½ s_l ω_e
/// ```
/// E and σ are those of [`largest_of`]. The first shoe's speed is taken as normal, which errs by under 2 rpm at four shoes; masses of
/// the shoes are taken as equal, which errs on the unsafe side by about 1 rpm at 1 %.
/// ```
/// use slipsoak_engine::laws::margin::{Tolerances, margin_floor};
/// // 1860 rpm, idle 1700 rpm: a = b = 27.9, t = 17, so 28.7 + 1.645·38.1 = 91 rpm.
/// let tolerances = Tolerances { spring: 0.03, lot: 0.03, tachometer: 17.0 };
/// assert!((margin_floor(1860.0, 4, tolerances, 1.645) - 91.4).abs() < 0.1);
/// ```
pub fn margin_floor(engagement: f64, shoes: u32, tolerances: Tolerances, quantile: f64) -> f64 {
    let (mean, deviation) = first_touch(engagement, shoes, tolerances);
    mean + quantile * deviation
}

/// How far above the idle a spring has to engage, rad/s: so much more than the idle's variation that 19 of 20 clutches stay clear,
/// with the scatter of springs and tachometer assumed here.
/// ```text
/// needed = Δ_idle + M
/// ```
/// M is that of [`margin_floor`].
/// ```
/// use slipsoak_engine::laws::margin::needed;
/// let rpm = std::f64::consts::PI / 30.0;
/// // As there: 75 rpm and 91 rpm.
/// assert!((needed(1860.0 * rpm, 4, 1700.0 * rpm, 75.0 * rpm) / rpm - 166.4).abs() < 0.5);
/// ```
pub fn needed(engagement: f64, shoes: u32, idle: f64, variation: f64) -> f64 {
    variation + margin_floor(engagement, shoes, Tolerances::assumed(idle), NINETY_FIVE)
}

impl Tolerances {
    /// Those that are assumed of springs, and of a tachometer at that idle, rad/s.
    pub fn assumed(idle: f64) -> Self {
        Self { spring: SPRING_SCATTER, lot: SPRING_SCATTER, tachometer: TACHOMETER * idle }
    }
}

/// Share of clutches whose first shoe touches at the highest idle when the computed margin over it is so large, rad/s: the
/// inverse of [`margin_floor`].
/// ```
/// use slipsoak_engine::laws::margin::{Tolerances, margin_floor, share_touching};
/// let tolerances = Tolerances { spring: 0.03, lot: 0.03, tachometer: 17.0 };
/// let floor = margin_floor(1860.0, 4, tolerances, 1.644854);
/// assert!((share_touching(floor, 1860.0, 4, tolerances) - 0.05).abs() < 1e-5);
/// ```
pub fn share_touching(margin: f64, engagement: f64, shoes: u32, tolerances: Tolerances) -> f64 {
    let (mean, deviation) = first_touch(engagement, shoes, tolerances);
    0.5 * libm::erfc((margin - mean) / deviation.max(1e-12) / std::f64::consts::SQRT_2)
}

/// How far the first shoe touches below the nominal engagement speed, rad/s: mean and standard deviation.
fn first_touch(engagement: f64, shoes: u32, tolerances: Tolerances) -> (f64, f64) {
    let (mean, deviation) = largest_of(shoes);
    let (a, b) = (0.5 * tolerances.spring * engagement, 0.5 * tolerances.lot * engagement);
    (mean * a, ((deviation * a).powi(2) + b * b + tolerances.tachometer.powi(2)).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_floor_grows_with_scatter_and_with_how_many_clutches_must_stay_clear() {
        let floor = |s: f64, quantile: f64| {
            margin_floor(1860.0, 4, Tolerances { spring: s, lot: 0.03, tachometer: 17.0 }, quantile)
        };
        // By hand, rpm: 19 of 20, and 99 of 100.
        assert!((floor(0.03, NINETY_FIVE) - 91.4).abs() < 0.5);
        assert!((floor(0.03, 2.326_348) - 117.3).abs() < 0.5);
        assert!((floor(0.02, NINETY_FIVE) - 77.0).abs() < 1.0, "{}", floor(0.02, NINETY_FIVE));
        assert!((floor(0.05, NINETY_FIVE) - 124.0).abs() < 2.0, "{}", floor(0.05, NINETY_FIVE));
    }
}
