//! How much hotter than in its run a machine would get that is ridden on.

use super::record::Run;
use crate::names::{Channel, Part};

/// Shares of a run at which the bushing is read: equally far apart, the last before a final stop.
const SHARES: [f64; 3] = [0.48, 0.73, 0.98];
/// Share of the time during which the motor runs above which a run is no outing with rests.
const AT_WORK: f64 = 0.9;
/// Most that is estimated, K: a run that warms up ever faster has no end in sight.
const MOST: f64 = 500.0;

impl Run {
    /// Rise of the bushing's temperature still to come if the machine were ridden on, K; 0 where the duty is repeated or holds long
    /// rests, and where it does not warm up.
    /// ```text
    /// r = d₂ q/(1 − q),   q = d₂/d₁
    /// ```
    /// d₁ and d₂: rises over two equal times. The rest of an approach by one exponential (Aitken's extrapolation). Neglects that
    /// parts warm up one after the other, and that a worn or dry part heats more: errs low.
    ///
    /// By head: 60, 80 and 90 °C are followed by 95, 97.5 …, 10 K more in all.
    pub fn to_come(&self) -> f64 {
        let at = |share: f64| {
            let index = self.windows.end.iter().position(|end| *end >= share * self.duration)?;
            self.windows.mean.get(index).map(|row| Channel::Bushing.of(row))
        };
        let [Some(first), Some(second), Some(last)] = SHARES.map(at) else { return 0.0 };
        to_come(second - first, last - second)
            .filter(|_| self.horizon.is_none() && self.running_time > AT_WORK * self.duration)
            .unwrap_or_default()
    }
}

/// Ratio of two rates of charring, of the last quarter of a run and of the quarter before, above which the later one counts. Assumed.
const FASTER: f64 = 1.25;

impl Run {
    /// Running time after which the washer chars at the rate of the last quarter, s, where that is far above the rate of the quarter before
    /// and no part is worn out earlier; none of a repeated duty. Charring follows an Arrhenius law: while a machine warms up, or its
    /// bushing dries, the rate of the second half of a run says too little.
    pub fn chars_sooner(&self) -> Option<f64> {
        let charring = self.parts.iter().find(|one| one.part == Part::Charring)?;
        charring.running.filter(|_| charring.used < 1.0 && self.horizon.is_none())?;
        let at = |share: f64| {
            let index = self.windows.end.iter().position(|end| *end >= share * self.duration)?;
            Some((*self.windows.running.get(index)?, *charring.curve.get(index)?))
        };
        let [half, three, last] = SHARES.map(at);
        let rate = |(from, to): ((f64, f64), (f64, f64))| (to.1 - from.1) / (to.0 - from.0).max(1e-9);
        let (before, late) = (rate((half?, three?)), rate((three?, last?)));
        let faster = late > 0.0 && late > FASTER * before;
        let after = self.running_time + (1.0 - charring.used) / late.max(1e-300);
        let others = self.parts.iter().filter(|one| !matches!(one.part, Part::Oil));
        let first = others.filter_map(|one| one.running).fold(f64::INFINITY, f64::min);
        (faster && after < first).then_some(after)
    }
}

/// What follows two rises over equal times; none after a fall.
fn to_come(before: f64, rise: f64) -> Option<f64> {
    let left = rise * rise / (before - rise);
    (rise > 0.0).then_some(if before > rise { left.min(MOST) } else { MOST })
}

#[cfg(test)]
mod tests {
    use super::to_come;

    #[test]
    fn two_rises_tell_the_rest_of_an_exponential_approach() {
        assert_eq!(to_come(20.0, 10.0), Some(10.0));
        // 100 (1 − exp(−t/τ)) at t = τ, 2 τ and 3 τ.
        let at = |t: f64| 100.0 * (1.0 - (-t).exp());
        let left = to_come(at(2.0) - at(1.0), at(3.0) - at(2.0)).expect("it rises");
        assert!((at(3.0) + left - 100.0).abs() < 1e-9, "{left}");
        assert_eq!([to_come(5.0, 5.0), to_come(5.0, 6.0)], [Some(500.0); 2], "no end in sight");
        assert_eq!(to_come(5.0, -1.0), None);
    }
}
