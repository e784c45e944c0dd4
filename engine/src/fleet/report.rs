//! The result of a fleet, computed from the outcomes of its clutches.

use super::outcome::times;
use crate::document::fleet::{Fleet, Milestone, Outcome, Share, Wearing};
use crate::names::{Part, Quantile};
use crate::spread::Uncertain;
use crate::statistics::{Fit, Weibull, fit, percentile, share_of};

/// Confidence of every bound.
pub const CONFIDENCE: f64 = 0.9;

/// Distribution of the running times to the first worn part, whether it may be used, and the longest of those times, s,
/// including clutches that outlived the horizon.
fn distribution(outcomes: &[Outcome], horizon: f64) -> (Option<Weibull>, Option<Fit>, f64) {
    let failures: Vec<f64> = outcomes.iter().filter_map(|o| o.running).collect();
    let lasting = outcomes.iter().filter(|o| o.running.is_none());
    let censored: Vec<f64> = lasting.map(|o| horizon * o.running_share).collect();
    let weibull = fit(&failures, &censored, CONFIDENCE);
    let fits = weibull.as_ref().map(|w| w.fits(&failures, &censored));
    (weibull, fits, failures.iter().chain(&censored).copied().fold(0.0, f64::max))
}

/// Result of one fleet from its outcomes; without outcomes all values are unknown. Clutches that grew hotter than the model
/// reaches are counted, and left out of all else.
pub fn report(variant: &str, duty: &str, horizon: f64, uncertain: &[Uncertain], outcomes: Vec<Outcome>) -> Fleet {
    let (beyond, outcomes): (Vec<Outcome>, Vec<Outcome>) = outcomes.into_iter().partition(|o| o.beyond.is_some());
    let hottest = beyond.iter().filter_map(|o| o.beyond).reduce(f64::max);
    let beyond = hottest.map(|hottest| (beyond.len() as u64, hottest));
    let milestones = |of: fn(&Outcome) -> Option<f64>| -> Vec<Milestone> {
        let all: Vec<Option<f64>> = outcomes.iter().map(of).collect();
        let at = |name: Quantile| Milestone { name, time: percentile(&all, name.share(), CONFIDENCE) };
        Quantile::ALL.map(at).into()
    };
    let n = outcomes.len() as u64;
    let mean =
        |of: fn(&Outcome) -> f64, none| if n == 0 { none } else { outcomes.iter().map(of).sum::<f64>() / n as f64 };
    let parts = Part::ALL.map(Some).into_iter().chain([None]);
    let first = parts
        .map(|part| {
            let clutches = outcomes.iter().filter(|o| o.ended_by == part).count() as u64;
            let crate::statistics::Share { share, low, high, .. } = share_of(clutches, n, CONFIDENCE);
            Share { part, clutches, share, low, high }
        })
        .filter(|s| s.clutches > 0)
        .collect();
    let (weibull, fit, followed) = distribution(&outcomes, horizon);
    let times = if outcomes.is_empty() { vec![] } else { times(horizon) };
    let bands = (0..times.len())
        .map(|k| {
            let mut left: Vec<f64> = outcomes.iter().map(|o| o.left[k]).collect();
            left.sort_by(f64::total_cmp);
            [0.1, 0.5, 0.9].map(|share| {
                let at = share * (left.len() - 1) as f64;
                let (low, part) = (at.floor() as usize, at.fract());
                left[low] + part * (left[(low + 1).min(left.len() - 1)] - left[low])
            })
        })
        .collect();
    let wearing = Part::ALL.into_iter().map(|part| {
        let times = std::array::from_fn(|level| {
            let all: Vec<Option<f64>> =
                outcomes.iter().map(|o| o.reached.get(part as usize).and_then(|r| r.get(level).copied())).collect();
            [0.1, 0.5, 0.9].map(|share| percentile(&all, share, CONFIDENCE).estimate)
        });
        Wearing { part, times }
    });
    Fleet {
        wearing: wearing.collect(),
        variant: variant.to_owned(),
        duty: duty.to_owned(),
        engagement: None,
        horizon,
        uncertain: uncertain.to_vec(),
        running_share: mean(|o| o.running_share, 1.0),
        hourly: mean(|o| o.hourly, 0.0),
        service_running: milestones(|o| o.service_running),
        service: milestones(|o| o.service_due),
        end_running: milestones(|o| o.running),
        end: milestones(|o| o.end),
        first,
        weibull,
        fit,
        followed,
        times,
        bands,
        beyond,
        outcomes,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fleet_without_clutches_has_no_known_values() {
        let fleet = report("A", "rounds", 3600.0, &[], vec![]);
        let known = fleet.end.iter().chain(&fleet.service_running).filter(|m| m.time.estimate.is_some()).count();
        assert_eq!((known, fleet.first.len(), fleet.bands.len(), fleet.times.len()), (0, 0, 0, 0));
        assert_eq!((fleet.weibull, fleet.fit), (None, None));
    }
}
