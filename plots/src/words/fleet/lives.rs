//! When the clutches of fleets have a part worn out, and which part.

use crate::words::clutches::{alike, bounds, followed, milestone, name, names, reference, whole, worn_share};
use crate::words::reading::found;
use crate::words::say;
use crate::words::text::{Words, listed};
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::names::{Part, Quantile};
use slipsoak_engine::statistics::Bounds;

/// Whether two percentiles may be equal within their bounds.
fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.low.unwrap_or(0.0) <= b.high.unwrap_or(f64::INFINITY) && b.low.unwrap_or(0.0) <= a.high.unwrap_or(f64::INFINITY)
}

/// The part that most often wears out first; several if equally frequent.
fn wears(fleet: &Fleet) -> Option<(Vec<Part>, f64)> {
    let worn = || fleet.first.iter().filter(|s| s.part.is_some());
    let most = worn().max_by_key(|s| s.clutches)?;
    Some((worn().filter(|s| s.clutches == most.clutches).filter_map(|s| s.part).collect(), most.share))
}

/// B10 in running hours.
pub(super) fn b10(fleet: &Fleet) -> Bounds {
    milestone(&fleet.end_running, Quantile::B10)
}

/// The words followed by a running time with its bounds, and the calendar time.
fn lasts(words: Words, fleet: &Fleet) -> Words {
    let b = b10(fleet);
    let Some(running) = b.estimate else {
        return words.strong(format!("more than {} of running", say::time(followed(fleet))));
    };
    let calendar = milestone(&fleet.end, Quantile::B10).estimate.filter(|calendar| *calendar > 1.1 * running);
    let calendar = calendar.map(|calendar| format!("{} by the calendar", say::calendar(calendar)));
    let spread = bounds(&b).unwrap_or_else(|| "too few clutches for bounds".to_owned());
    let spread = std::iter::once(spread).chain(calendar).collect::<Vec<_>>().join("; ");
    words.strong(format!("{} of running", say::lasts(running))).plain(format!(" ({spread})"))
}

pub(super) fn nothing_wears_out(report: &Report) -> Words {
    let clutches = report.fleets.iter().map(|fleet| fleet.outcomes.len()).min().unwrap_or(0);
    let fleets = if report.fleets.len() > 1 { " of each fleet" } else { "" };
    Words::from("None of the ")
        .strong(clutches.to_string())
        .plain(format!(" clutches{fleets} wears a part out within "))
        .strong(shortest(report.fleets.iter()))
        .plain(", oil set apart: repeat the duty for longer to see which lasts longest.")
}

/// Simulated time of the fleet with the shortest one: running time and calendar time.
pub(crate) fn shortest<'a>(fleets: impl Iterator<Item = &'a Fleet>) -> String {
    let least = fleets.min_by(|a, b| followed(a).total_cmp(&followed(b)));
    least.map_or_else(String::new, |fleet| say::life(followed(fleet), fleet.horizon))
}

/// Numbers of clutches with a worn-out part, fewest first, if not every fleet has a B10 within the horizon.
pub(super) fn shares_worn(report: &Report, all: &[&Fleet]) -> Words {
    let mut words =
        Words::from("Within ").strong(shortest(all.iter().copied())).plain(" a part is worn out, oil set apart, in ");
    let share = |fleet: &Fleet| {
        let none = fleet.first.iter().find(|s| s.part.is_none());
        let (low, high) = none.map_or((1.0, 1.0), |s| (1.0 - s.high, 1.0 - s.low));
        let bounds = format!(" ({} to {}) of the clutches", whole(low.max(0.0)), whole(high));
        Words::default().strong(whole(worn_share(fleet))).plain(bounds)
    };
    let since = |fleet: &Fleet| match b10(fleet).estimate {
        Some(_) => lasts(Words::from(", in a tenth of them after "), fleet),
        None => Words::default(),
    };
    for (k, (alike, fleets)) in alike(all, |fleet| [share(fleet), since(fleet)]).into_iter().enumerate() {
        let [share, since] = alike;
        words = words.plain(if k > 0 { ", " } else { "" }).and(share);
        if report.fleets.len() > 1 {
            words = words.plain(" with ").strong(names(report, &fleets));
        }
        words = words.and(since);
    }
    words.plain(if all.len() == 1 { ": fewer than 1 in 10." } else { "." })
}

/// The fleet with the longest B10, compared with the runner-up and the reference.
pub(super) fn longest(report: &Report, all: &[&Fleet]) -> Words {
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let (at, role) = reference(report);
    let (best, first) = (all[0], &report.fleets[at]);
    // Those that drag at idle or whose bushings grab early may last longer, and are not to be fitted.
    let refused = |fleet: &Fleet| !report.refuses(best) && report.refuses(fleet);
    let life =
        |the: &str| format!("{the} B10 life (a tenth of the clutches have a part worn out by then, oil set apart) is ");
    let b10_life = life("The");
    if all.len() == 1 {
        let words = lasts(Words::from(b10_life), best);
        let named = if report.fleets.len() > 1 { format!(" with {}", called(best)) } else { String::new() };
        return words.plain(format!("{named}."));
    }
    let rival = all[1];
    let mut words = if refused(rival) {
        lasts(Words::from(b10_life), best).plain(" with ").strong(called(best))
    } else {
        let of = match all.iter().find(|fleet| refused(fleet)) {
            None => b10_life,
            Some(_) if all.iter().all(|fleet| !refused(fleet) || fleet.drags()) => {
                life("Of those that do not drag the")
            }
            Some(_) => life("Of the others the"),
        };
        lasts(Words::from(format!("{of}longest with ")).strong(called(best)).plain(": "), best)
    };
    let against = |words: Words, fleet: &Fleet, role: &str| {
        let words = lasts(words, fleet).plain(format!(" with {role}")).strong(called(fleet));
        words.plain(match () {
            () if !refused(fleet) => "",
            () if fleet.drags() => ", which drags",
            () if fleet.grabs() => ", whose bushings grab",
            () if fleet.unfit().is_some() => ", which is not to be used so",
            () => ", whose springs grow too hot",
        })
    };
    words = against(words.plain(", against "), rival, "");
    let others = all.iter().filter(|fleet| !std::ptr::eq(**fleet, best) && !std::ptr::eq(**fleet, rival));
    if let Some(first) = others.into_iter().find(|fleet| std::ptr::eq(**fleet, first)) {
        let and = if refused(rival) { ", and " } else { " and " };
        words = against(words.plain(and), first, &format!("{role}, "));
    }
    words.plain(if overlap(&b10(best), &b10(rival)) {
        format!("; the bounds overlap, so that {} clutches each are too few to rank them for sure.", report.clutches)
    } else {
        "; the bounds lie apart.".to_owned()
    })
}

/// The most frequent first worn part, given once if all fleets have the same, or else of each.
pub(super) fn causes_in_words(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let worn: Vec<&Fleet> = all.iter().copied().filter(|fleet| wears(fleet).is_some()).collect();
    let groups = alike(&worn, |fleet| wears(fleet).map_or_else(Vec::new, |most| most.0));
    let mut words = Words::from("The most frequent first worn part is ");
    for (k, (parts, fleets)) in groups.iter().enumerate() {
        let called = listed(&parts.iter().map(|part| found(*part)).collect::<Vec<_>>());
        let shares = || fleets.iter().filter_map(|fleet| Some(wears(fleet)?.1));
        let (low, high) = (shares().fold(1.0, f64::min), shares().fold(0.0, f64::max));
        let range =
            if whole(low) == whole(high) { whole(high) } else { format!("{:.0} to {}", 100.0 * low, whole(high)) };
        let with = if fleets.len() < all.len() { format!(" with {}", names(report, fleets)) } else { String::new() };
        words = words.plain(if k > 0 { ", " } else { "" }).strong(called);
        let each = if parts.len() > 1 { " each" } else { "" };
        let place = if with.is_empty() { ", in " } else { " in " };
        words = words.plain(format!("{with}{place}{range} of the clutches{each}"));
    }
    // Where many grab early, that is said first.
    let late = |fleets: &[&Fleet]| fleets.iter().any(|fleet| !fleet.grabs());
    let seizes = groups.iter().any(|(parts, fleets)| parts.contains(&Part::Seized) && late(fleets));
    let oil = if seizes {
        " A bushing seizes for want of sound oil: `slipsoak oiling` says how often to oil it."
    } else {
        ""
    };
    (!groups.is_empty()).then(|| words.plain(format!(".{oil}")))
}
