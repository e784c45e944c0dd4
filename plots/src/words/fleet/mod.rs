//! Findings of a fleet study: first worn parts, oil service, effects of changes.

mod lives;
mod refusals;
mod service;

pub(crate) use self::lives::shortest;
use self::lives::{b10, causes_in_words, longest, nothing_wears_out, shares_worn};
pub(crate) use self::refusals::of_duty;
use self::refusals::{beyond, clear, dragging, grabbing, unfit, unknown, wrong_oil};
use self::service::oil;
use crate::words::assumed::leakage;
use crate::words::clutches::{leave_wrong_oils, name, names, ranked, worn_share};
use crate::words::failed::left_out;
use crate::words::ground;
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::fleet::{Direction, Fleet, Gain, Paired, Report, Spread, assumed_factor};
use slipsoak_engine::parts::settings;
use slipsoak_engine::statistics::Fit;

/// Answer of a fleet study, the most important first.
pub fn answer(report: &Report) -> Vec<Words> {
    if report.fleets.is_empty() {
        return vec![];
    }
    if report.fleets.iter().any(|fleet| fleet.outcomes.is_empty() && fleet.beyond.is_none()) {
        return vec!["A fleet has no clutches: nothing is known of when its parts are worn out.".into()];
    }
    let ranked = ranked(report).into_iter().map(|k| &report.fleets[k]);
    let (hot, mut all): (Vec<&Fleet>, Vec<&Fleet>) = ranked.partition(|fleet| fleet.beyond.is_some());
    let mut said: Vec<Words> = wrong_oil(report).into_iter().collect();
    said.extend(hot.into_iter().filter_map(|fleet| beyond(report, fleet)));
    if all.is_empty() {
        said.extend(missing(report));
        return said;
    }
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    said.extend(dragging(report, &all));
    said.extend(unknown(report, &all));
    said.extend(grabbing(report, &all));
    said.extend(unfit(report, &all));
    leave_wrong_oils(&mut all, |fleet| fleet);
    said.extend(clear(report, &all));
    said.push(if all.iter().all(|fleet| worn_share(fleet) == 0.0) {
        nothing_wears_out(report)
    } else if all.iter().any(|fleet| b10(fleet).estimate.is_none()) {
        shares_worn(report, &all)
    } else {
        longest(report, &all)
    });
    said.extend(ground::of_fleets(report, &all).map(Words::from));
    said.push(oil(report, &all));
    let best = all[0];
    let pair = report.pairs.iter().find(|p| p.variant == best.variant && p.duty == best.duty);
    let held =
        |pair: &Paired| report.fleets.iter().find(|f| (&f.variant, &f.duty) == (&pair.against.0, &pair.against.1));
    // A fleet that is not to be used is nothing to be compared with.
    let known = |pair: &&Paired| {
        held(pair).is_none_or(|fleet| fleet.beyond.is_none() && (best.wrong_oil() || !fleet.wrong_oil()))
    };
    if let Some(pair) = pair.filter(|p| p.end.shorter + p.end.longer > 0).filter(known) {
        let held = held(pair);
        let against = held.map_or_else(|| format!("“{}”", pair.against.0), called);
        let (but, count, way) = if pair.end.shorter > pair.end.longer {
            ("But compared on the same sampled clutches, ", pair.end.shorter, "less long")
        } else {
            ("Compared on the same sampled clutches, ", pair.end.longer, "longer")
        };
        said.push(
            Words::from(format!("{but}{count} of {} last {way} with ", compared(&pair.end)))
                .strong(called(best))
                .plain(" than with ")
                .strong(against)
                .plain(format!(" ({}).", direction(&pair.end))),
        );
    }
    said.extend(causes_in_words(report, &all));
    said.extend(missing(report));
    said
}

/// How sure the answer is.
pub fn sure(report: &Report) -> Words {
    Words::from("The oil is set apart, as in single runs: at its limit it is due for service, and the clutch goes on; a bushing that is not oiled then wears faster. Bounds hold at 90 % and assume no distribution, but the spreads are ")
        .strong("assumed")
        .plain(format!("{}; comparisons depend on them less, since all fleets share the same samples.", leak_spread(report, true)))
}

/// What is known of the spread on which most depends, that of the end leakage, as the end of a sentence on spreads that are assumed.
pub(crate) fn leak_spread(report: &Report, in_full: bool) -> String {
    let leak = &settings::oiling::leak;
    let assumed = assumed_factor(leak).map(Spread::Factor);
    let other = |fleet: &&Fleet| fleet.uncertain.iter().any(|one| one.path == leak.path && Some(one.spread) != assumed);
    let given: Vec<&Fleet> = report.fleets.iter().filter(other).collect();
    let range = if in_full { format!(" ({})", leakage()) } else { String::new() };
    match given.len() {
        0 => format!(": above all that of the end leakage{range}, which nobody has measured"),
        n if n == report.fleets.len() => {
            ", but for that of the end leakage, which is as it was learned or as the script gives it".to_owned()
        }
        _ => format!(
            ": above all that of the end leakage{range}; that of {} is as it was learned or as the script gives it",
            names(report, &given)
        ),
    }
}

/// Sentence on the clutches that could not be computed; empty if all could.
pub fn missing(report: &Report) -> Option<Words> {
    left_out(&report.failed, report.clutches * report.fleets.len() as u64, "clutches")
}

/// Number of clutches in both fleets.
fn compared(gain: &Gain) -> u64 {
    gain.longer + gain.shorter + gain.alike + gain.unknown
}

/// Sentence on the distribution of a fleet's lives, and whether it may be used.
pub fn distribution(fleet: &Fleet) -> Words {
    let (Some(weibull), Some(fit)) = (&fleet.weibull, fleet.fit) else {
        return "too few clutches wore a part out to fit a distribution".into();
    };
    let scale = if weibull.scale > fleet.followed {
        format!("characteristic life beyond the {} of running that were followed", say::time(fleet.followed))
    } else {
        format!("characteristic life {} of running (63 % have worn a part out by then)", say::time(weibull.scale))
    };
    let (low, high) = weibull.shape_bounds;
    let fits = match fit {
        Fit::Untested => "the fit is not tested, since some outlived the horizon".to_owned(),
        Fit::Accepted { statistic, critical } => {
            format!("the fit passes its test (A² {statistic:.2}, below {critical:.2})")
        }
        Fit::Rejected { statistic, critical } => {
            format!("the fit fails its test (A² {statistic:.2}, above {critical:.2}): use the percentiles")
        }
    };
    format!("Weibull: shape {:.2} ({low:.2} to {high:.2}), {scale}; {fits}", weibull.shape).into()
}

/// Effect of a change, clutch by clutch, as a clause.
pub fn gain(gain: &Gain) -> Words {
    let count = format!("{} of {} clutches last longer, {} less long", gain.longer, compared(gain), gain.shorter);
    let hidden =
        if gain.unknown > 0 { format!(", {} undecided within the horizon", gain.unknown) } else { String::new() };
    format!("{count}{hidden}; {}", direction(gain)).into()
}

/// Which way a change goes.
const fn direction(gain: &Gain) -> &'static str {
    match gain.verdict {
        Direction::Undecided => "all are undecided within the horizon",
        Direction::Longer => "longer, at 90 % confidence",
        Direction::Shorter => "less long, at 90 % confidence",
        Direction::TooFew => "too few clutches for bounds",
        Direction::Unclear => "no clear difference with so few clutches",
    }
}
