//! How much hotter than in its run a machine would get that is ridden on.

use super::record::Run;
use crate::names::{Channel, Part};

/// Shares of a run that bound three equal times, the last before a final stop.
const SHARES: [f64; 4] = [0.23, 0.48, 0.73, 0.98];
/// Share of the time during which the motor runs above which a run is no outing with rests.
const AT_WORK: f64 = 0.9;
/// Share of the ripple of stop-and-go above which the rise from one of those times to the next is one. Assumed.
const STANDS_OUT: f64 = 0.05;
/// Most that is estimated, K: a run that warms up ever faster has no end in sight.
const MOST: f64 = 500.0;

impl Run {
    /// Rise of the bushing's temperature still to come if the machine were ridden on, K; 0 where the duty is repeated or holds long
    /// rests, and where it does not warm up.
    /// ```text
    /// r = d₂ q/(1 − q) · ln(1/q) q/(1 − q),   q = d₂/d₁
    /// ```
    /// d₁ and d₂: rises of the mean over equal times, because one moment of stop-and-go differs from another. The first factor is what
    /// the last mean lacks of an approach by one exponential (Aitken's extrapolation), the second the part of it that its end lacks.
    /// Neglects that parts warm up one after the other, and that a worn or dry part heats more: errs low.
    ///
    /// By head: means of 60, 80 and 90 °C are followed by 7 K more than at the end.
    pub fn to_come(&self) -> f64 {
        let bushing = self.windows.mean.iter().map(|row| Channel::Bushing.of(row));
        let seen: Vec<(f64, f64)> = self.windows.end.iter().map(|end| end / self.duration).zip(bushing).collect();
        rest_of_approach(&seen)
            .filter(|_| self.horizon.is_none() && self.running_time > AT_WORK * self.duration)
            .unwrap_or_default()
    }
}

/// What is still to come of an approach, from values by the share of the run at which each is seen; none if they rise by no more than
/// they ripple, or where too few are seen.
fn rest_of_approach(seen: &[(f64, f64)]) -> Option<f64> {
    let between = |k: usize| -> Vec<f64> {
        seen.iter().filter(|(at, _)| (SHARES[k]..SHARES[k + 1]).contains(at)).map(|(_, value)| *value).collect()
    };
    let parts = [0, 1, 2].map(between);
    if parts.iter().any(Vec::is_empty) {
        return None;
    }
    let [first, second, last] = parts.each_ref().map(|part| part.iter().sum::<f64>() / part.len() as f64);
    let [least, most] = [f64::min, f64::max].map(|of: fn(f64, f64) -> f64| parts[2].iter().copied().reduce(of));
    let ripple = most? - least?;
    to_come(second - first, last - second).filter(|_| last - second > STANDS_OUT * ripple)
}

/// Ratio of two rates of charring, of the last quarter of a run and of the quarter before, above which the later one counts. Assumed.
const FASTER: f64 = 1.25;

impl Run {
    /// Running time after which the washer chars at the rate of the last quarter of the running time, s, where that is far above the
    /// rate of the quarter before and no part is worn out earlier; none of a repeated duty. Charring follows an Arrhenius law: while a
    /// machine warms up, or its bushing dries, the rate of the second half of a run says too little.
    pub fn chars_sooner(&self) -> Option<f64> {
        let charring = self.parts.iter().find(|one| one.part == Part::Charring)?;
        charring.running.filter(|_| charring.used < 1.0 && self.horizon.is_none())?;
        let at = |share: f64| {
            let index = self.windows.running.iter().position(|running| *running >= share * self.running_time)?;
            Some((*self.windows.running.get(index)?, *charring.curve.get(index)?))
        };
        let [_, half, three, last] = SHARES.map(at);
        let rate = |(from, to): ((f64, f64), (f64, f64))| (to.1 - from.1) / (to.0 - from.0).max(1e-9);
        let (before, late) = (rate((half?, three?)), rate((three?, last?)));
        let faster = late > 0.0 && late > FASTER * before;
        let after = self.running_time + (1.0 - charring.used) / late.max(1e-300);
        let others = self.parts.iter().filter(|one| !matches!(one.part, Part::Oil));
        let first = others.filter_map(|one| one.running).fold(f64::INFINITY, f64::min);
        (faster && after < first).then_some(after)
    }
}

/// What follows two rises of means over equal times; none after a fall.
fn to_come(before: f64, rise: f64) -> Option<f64> {
    let lacks = |q: f64| rise * (q / (1.0 - q)).powi(2) * -libm::log(q);
    (rise > 0.0).then_some(if before > rise { lacks(rise / before).min(MOST) } else { MOST })
}

#[cfg(test)]
mod tests {
    use super::{rest_of_approach, to_come};

    #[test]
    fn two_rises_tell_the_rest_of_an_exponential_approach() {
        // 100 (1 − exp(−t/τ)): what its mean over a time τ lacks, ending at 2 τ, 3 τ and 4 τ.
        let lacks = |t: f64| 100.0 * (libm::exp(1.0 - t) - libm::exp(-t));
        let left = to_come(lacks(2.0) - lacks(3.0), lacks(3.0) - lacks(4.0)).expect("it rises");
        assert!((left - 100.0 * libm::exp(-4.0)).abs() < 1e-9, "{left}");
        assert!((to_come(20.0, 10.0).expect("it rises") - 6.931).abs() < 1e-3);
        assert_eq!([to_come(5.0, 5.0), to_come(5.0, 6.0)], [Some(500.0); 2], "no end in sight");
        assert_eq!(to_come(5.0, -1.0), None);
    }

    /// A bushing that is warm but for 0.7 K, in stop-and-go of 47 s with a ripple of 3 K, seen every 4 s: read at three moments it
    /// seemed to warm up without end.
    #[test]
    fn the_ripple_of_stop_and_go_is_no_warming() {
        let rest = |tau: f64| {
            let ripple = |t: f64| 1.5 * libm::sin(std::f64::consts::TAU * t / 47.0);
            let at = |t: f64| 37.0 - 20.0 * libm::exp(-t / tau) + ripple(t);
            let seen: Vec<(f64, f64)> = (1..=494).map(|k| 4.0 * f64::from(k)).map(|t| (t / 1976.0, at(t))).collect();
            rest_of_approach(&seen)
        };
        assert!((rest(590.0).expect("it still rises") - 0.74).abs() < 0.3, "{:?}", rest(590.0));
        assert_eq!(rest(60.0), None, "warm: only the ripple is left");
        assert!((rest(1976.0).expect("it rises") - 7.5).abs() < 1.5, "{:?}", rest(1976.0));
    }
}
