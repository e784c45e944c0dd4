//! Names of fleets, and their numbers as text.

use crate::words::reading::among;
use crate::words::say::{time, times};
use crate::words::text::listed;
use slipsoak_engine::fleet::{Fleet, Milestone, Report};
use slipsoak_engine::names::Quantile;
use slipsoak_engine::statistics::Bounds;

/// Name of a fleet among others: the machine, the duty, or both, whichever distinguishes them.
pub fn name(report: &Report, fleet: &Fleet) -> String {
    among(pairs(report), (&fleet.variant, &fleet.duty))
}

/// Machine and duty of each fleet.
pub fn pairs(report: &Report) -> impl Iterator<Item = (&str, &str)> {
    report.fleets.iter().map(|fleet| (fleet.variant.as_str(), fleet.duty.as_str()))
}

/// A milestone among others: B10, B50 or B90.
pub fn milestone(set: &[Milestone], name: Quantile) -> Bounds {
    set.iter().find(|m| m.name == name).map(|m| m.time).unwrap_or_default()
}

/// Share of a fleet's clutches with a part worn out within the horizon.
pub fn worn_share(fleet: &Fleet) -> f64 {
    1.0 - fleet.first.iter().find(|s| s.part.is_none()).map_or(0.0, |s| s.share)
}

/// Time covered by a fleet's simulation, s of running.
pub fn followed(fleet: &Fleet) -> f64 {
    fleet.horizon * fleet.running_share
}

/// Order of the fleets from the longest-lived: by B10 in running hours; beyond the horizon by the smaller share of
/// clutches with a worn-out part; ties in the order compared. Fleets with an oil that stays on the lining come after the others, then
/// those too many of whose clutches drag at idle or whose bushings grab early, and those with clutches beyond the model last: they are not recommended.
pub fn ranked(report: &Report) -> Vec<usize> {
    let b10 = |k: &usize| milestone(&report.fleets[*k].end_running, Quantile::B10).estimate.unwrap_or(f64::INFINITY);
    let worn = |k: &usize| worn_share(&report.fleets[*k]);
    let mut all: Vec<usize> = (0..report.fleets.len()).collect();
    let hot = |k: &usize| report.fleets[*k].beyond.is_some();
    let unfit = |k: &usize| (hot(k), report.refuses(&report.fleets[*k]), report.fleets[*k].wrong_oil());
    all.sort_by(|a, b| unfit(a).cmp(&unfit(b)).then(b10(b).total_cmp(&b10(a))).then(worn(a).total_cmp(&worn(b))));
    all
}

/// Leaves out fleets with an oil that stays on the lining, which is none to keep, unless all have one.
pub(crate) fn leave_wrong_oils<T>(found: &mut Vec<T>, fleet: impl Fn(&T) -> &Fleet) {
    if found.iter().any(|one| !fleet(one).wrong_oil()) {
        found.retain(|one| !fleet(one).wrong_oil());
    }
}

/// Index of the fleet that others are compared with, and its description: the first fleet of the reference machine if
/// the script names one, else the first fleet.
pub fn reference(report: &Report) -> (usize, &'static str) {
    let named = report.reference.as_ref();
    let at = named.and_then(|named| report.fleets.iter().position(|fleet| fleet.variant == *named));
    at.map_or((0, "the first compared"), |at| (at, "the reference"))
}

/// Bounds of a time as text; none if there are too few clutches for any.
pub fn bounds(b: &Bounds) -> Option<String> {
    match (b.low, b.high) {
        (Some(low), Some(high)) => Some(times(low, high)),
        (Some(low), None) => Some(format!("{} or more", time(low))),
        (None, Some(high)) => Some(format!("at most {}", time(high))),
        (None, None) => None,
    }
}

/// A share in whole per cent.
pub(crate) fn whole(share: f64) -> String {
    format!("{:.0}\u{a0}%", 100.0 * share)
}

/// Fleets of which the same is said, in the order of the first of each.
pub(crate) fn alike<'a, T: PartialEq>(fleets: &[&'a Fleet], said: impl Fn(&Fleet) -> T) -> Vec<(T, Vec<&'a Fleet>)> {
    let mut groups: Vec<(T, Vec<&Fleet>)> = vec![];
    for fleet in fleets {
        let said = said(fleet);
        match groups.iter_mut().find(|group| group.0 == said) {
            Some(group) => group.1.push(fleet),
            None => groups.push((said, vec![fleet])),
        }
    }
    groups
}

/// Names of fleets as a list.
pub(crate) fn names(report: &Report, fleets: &[&Fleet]) -> String {
    listed(&fleets.iter().map(|fleet| format!("“{}”", name(report, fleet))).collect::<Vec<_>>())
}
