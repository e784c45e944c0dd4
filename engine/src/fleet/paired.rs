//! Effect of a change: two fleets with the same samples are compared clutch by clutch, so that differences between
//! clutches cancel.

use super::report::CONFIDENCE;
use crate::document::fleet::{Direction, Fleet, Gain, Outcome, Paired};
use crate::statistics::{Bounds, percentile, share_of};

/// Lives that differ by less than this share count as equal: the error of skipping may be as large.
const ALIKE: f64 = 5e-3;

/// A time that was observed, or that lies beyond the observed time.
#[derive(Clone, Copy)]
enum Time {
    At(f64),
    Beyond(f64),
}

impl Time {
    /// A running time of a clutch, or else the observed time: to its first worn part or the horizon.
    fn of(at: Option<f64>, outcome: &Outcome, horizon: f64) -> Self {
        at.map_or_else(|| Self::Beyond(outcome.running.unwrap_or(horizon * outcome.running_share)), Self::At)
    }

    /// Lower and upper limit of the time.
    fn range(self) -> (f64, f64) {
        match self {
            Self::At(t) => (t, t),
            Self::Beyond(t) => (t, f64::INFINITY),
        }
    }

    fn seen(self) -> f64 {
        self.range().0.max(1e-9)
    }
}

/// The fleet to compare with: the reference machine under the same duty, else the first fleet.
fn against<'a>(fleets: &'a [Fleet], reference: Option<&str>, other: &Fleet) -> Option<&'a Fleet> {
    let of = |duty: &str| fleets.iter().find(|f| Some(f.variant.as_str()) == reference && f.duty == duty);
    of(&other.duty).or(fleets.first())
}

/// Every fleet compared with that of the reference machine under its duty; without a reference machine, with the first
/// fleet.
pub fn paired(fleets: &[Fleet], reference: Option<&str>) -> Vec<Paired> {
    let with = |other: &Fleet| {
        let against = against(fleets, reference, other)?;
        (!std::ptr::eq(against, other)).then(|| pair(against, other))
    };
    // `other` is one of the fleets, so its address distinguishes it from equal ones.
    fleets.iter().filter_map(with).collect()
}

fn pair(old: &Fleet, new: &Fleet) -> Paired {
    let both = |time: fn(&Outcome, f64) -> Time| -> Vec<(Time, Time)> {
        let find = |clutch: u64| old.outcomes.iter().find(|o| o.clutch == clutch);
        let pairs = new.outcomes.iter().filter_map(|n| Some((find(n.clutch)?, n)));
        pairs.map(|(o, n)| (time(o, old.horizon), time(n, new.horizon))).collect()
    };
    let end = |o: &Outcome, horizon: f64| Time::of(o.running, o, horizon);
    let service = |o: &Outcome, horizon: f64| Time::of(o.service_running, o, horizon);
    Paired {
        variant: new.variant.clone(),
        duty: new.duty.clone(),
        against: (old.variant.clone(), old.duty.clone()),
        end: gain(&both(end)),
        service: gain(&both(service)),
    }
}

fn gain(pairs: &[(Time, Time)]) -> Gain {
    let n = pairs.len() as u64;
    let [mut longer, mut shorter, mut alike] = [0; 3];
    for (old, new) in pairs {
        let ((old_least, old_most), (new_least, new_most)) = (old.range(), new.range());
        if let (Time::At(a), Time::At(b)) = (old, new)
            && (b / a - 1.0).abs() < ALIKE
        {
            alike += 1;
        } else if new_least >= old_most {
            longer += 1;
        } else if old_least >= new_most {
            shorter += 1;
        }
    }
    // A quantity of each pair lies between these two limits: the lower bound of the median is that of the lower limits,
    // the upper bound that of the upper limits.
    let bounds = |of: fn(f64, f64) -> f64| {
        let least = |(old, new): &(Time, Time)| {
            let old_most = old.range().1;
            if old_most.is_finite() { of(old_most, new.range().0) } else { f64::NEG_INFINITY }
        };
        let most = |(old, new): &(Time, Time)| of(old.range().0.max(1e-9), new.range().1);
        let median = |all: Vec<f64>| {
            let all: Vec<Option<f64>> = all.into_iter().map(|v| (v < f64::INFINITY).then_some(v)).collect();
            percentile(&all, 0.5, CONFIDENCE)
        };
        let (low, high) = (median(pairs.iter().map(least).collect()), median(pairs.iter().map(most).collect()));
        let known = |value: Option<f64>| value.filter(|v| v.is_finite());
        let estimate = known(low.estimate).filter(|v| Some(*v) == high.estimate);
        Bounds { estimate, low: known(low.low), high: known(high.high) }
    };
    let means = |of: fn(f64, f64) -> f64| {
        let all: Vec<f64> = pairs.iter().map(|(old, new)| of(old.seen(), new.seen())).collect();
        let mean = all.iter().sum::<f64>() / all.len().max(1) as f64;
        let square = all.iter().map(|v| (v - mean).powi(2)).sum::<f64>();
        (mean, (square / (all.len() as f64 * (all.len() as f64 - 1.0)).max(1.0)).sqrt())
    };
    let (ratio, difference) = (bounds(|old, new| new / old), bounds(|old, new| new - old));
    let verdict = match (ratio.low, ratio.high) {
        _ if longer + shorter + alike == 0 => Direction::Undecided,
        (Some(low), _) if low > 1.0 + ALIKE => Direction::Longer,
        (_, Some(high)) if high < 1.0 - ALIKE => Direction::Shorter,
        (None, None) => Direction::TooFew,
        _ => Direction::Unclear,
    };
    Gain {
        longer,
        shorter,
        alike,
        unknown: n - longer - shorter - alike,
        gaining: share_of(longer, n, CONFIDENCE),
        chance: sign_test(longer, shorter),
        ratio,
        difference,
        mean_ratio: means(|old, new| new / old),
        mean_difference: means(|old, new| new - old),
        verdict,
    }
}

/// Two-sided sign test: probability that fair coins fall at least as unequally, either way. Equal pairs are left out.
///
/// ```text
/// P = min(1, 2 Σ_{k ≤ min(a,b)} C(a + b, k) / 2^(a+b))
/// ```
///
/// Assumes that clutches are sampled independently; no assumption on the distribution of lives. Source: W. J. Dixon, A.
/// M. Mood, Journal
/// of the American Statistical Association 41 (1946) 557.
///
/// ```
/// // one against nine: 2 (1 + 10)/1024
/// assert!((slipsoak_engine::fleet::sign_test(9, 1) - 22.0 / 1024.0).abs() < 1e-12);
/// ```
pub fn sign_test(longer: u64, shorter: u64) -> f64 {
    let n = longer + shorter;
    let mut log = -(n as f64) * std::f64::consts::LN_2;
    let mut tail = 0.0;
    for k in 0..=longer.min(shorter) {
        tail += libm::exp(log);
        log += libm::log((n - k) as f64 / (k + 1) as f64);
    }
    (2.0 * tail).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(times: &[(f64, f64)]) -> Vec<(Time, Time)> {
        times.iter().map(|(a, b)| (Time::At(*a), Time::At(*b))).collect()
    }

    #[test]
    fn differences_between_clutches_cancel() {
        // Lives from 10 to 200; the change adds a tenth to each, much less than the spread between clutches.
        let lives: Vec<(f64, f64)> = (1..=20).map(|k| (10.0 * f64::from(k), 11.0 * f64::from(k))).collect();
        let gain = gain(&at(&lives));
        assert_eq!((gain.longer, gain.shorter, gain.alike, gain.unknown), (20, 0, 0, 0));
        for ratio in [gain.ratio.low, gain.ratio.estimate, gain.ratio.high, Some(gain.mean_ratio.0)] {
            assert!((ratio.unwrap() - 1.1).abs() < 1e-12);
        }
        // Differences 1 to 20: mean 10.5, standard error √(35/20); the median's bounds are the 6th and 15th (binomial:
        // the probability of fewer than 6 of 20 heads is 2.07 %, of fewer than 7 5.77 %).
        assert!((gain.mean_difference.0 - 10.5).abs() < 1e-12);
        assert!((gain.mean_difference.1 - (35.0_f64 / 20.0).sqrt()).abs() < 1e-12);
        assert_eq!((gain.difference.low, gain.difference.high), (Some(6.0), Some(15.0)));
        assert!((gain.chance - 2.0 / f64::from(1 << 20)).abs() < 1e-18);
        assert_eq!(gain.verdict, Direction::Longer);
    }

    #[test]
    fn a_gain_within_its_bounds_is_reported_as_undecided() {
        let lives: Vec<(f64, f64)> = (1..=20).map(|k| (100.0, if k % 2 == 0 { 90.0 } else { 111.0 })).collect();
        let gain = gain(&at(&lives));
        assert_eq!((gain.longer, gain.shorter, gain.chance), (10, 10, 1.0));
        assert_eq!(gain.verdict, Direction::Unclear);
    }

    #[test]
    fn lives_within_the_error_of_skipping_count_as_equal() {
        let gain = gain(&at(&[(100.0, 100.4), (100.0, 99.6), (100.0, 100.6)]));
        assert_eq!((gain.longer, gain.shorter, gain.alike), (1, 0, 2));
    }

    #[test]
    fn pairs_beyond_the_horizon_are_undecided_and_all_others_count() {
        // Lives of 1 to 20 that double, observed up to 18.
        let seen = |life: f64| if life < 18.0 { Time::At(life) } else { Time::Beyond(18.0) };
        let pairs: Vec<(Time, Time)> = (1..=20).map(|k| (seen(f64::from(k)), seen(2.0 * f64::from(k)))).collect();
        let gain = gain(&pairs);
        assert_eq!((gain.longer, gain.shorter, gain.unknown), (17, 0, 3));
        // Three are undecided, and the next smallest possible ratios are 18/17, 18/16 and 18/15: the bound is the
        // sixth.
        assert!((gain.ratio.low.unwrap() - 1.2).abs() < 1e-12, "{:?}", gain.ratio);
        assert_eq!((gain.ratio.estimate, gain.ratio.high), (None, None));
        assert_eq!(gain.verdict, Direction::Longer);
    }
}
