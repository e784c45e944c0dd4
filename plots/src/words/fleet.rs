//! Findings of a fleet study: first worn parts, oil service, effects of changes.

use crate::words::assumed::leakage;
use crate::words::clutches::{bounds, followed, leave_wrong_oils, milestone, name, ranked, reference, worn_share};
use crate::words::failed::left_out;
use crate::words::reading::found;
use crate::words::say;
use crate::words::text::{Words, listed};
use crate::words::use_of_machine;
use slipsoak_engine::fleet::{CONFIDENCE, DRAGGING, Direction, Fleet, Gain, Paired, Report, Spread, assumed_factor};
use slipsoak_engine::laws::margin::SEASON;
use slipsoak_engine::names::{Part, Quantile};
use slipsoak_engine::parts::settings;
use slipsoak_engine::statistics::{Bounds, Fit, share_of};

/// Largest number of fleets that are all listed with the time at which oil is due.
const FEW: usize = 4;

/// Whether two percentiles may be equal within their bounds.
fn overlap(a: &Bounds, b: &Bounds) -> bool {
    a.low.unwrap_or(0.0) <= b.high.unwrap_or(f64::INFINITY) && b.low.unwrap_or(0.0) <= a.high.unwrap_or(f64::INFINITY)
}

/// A share in whole per cent.
pub(crate) fn whole(share: f64) -> String {
    format!("{:.0}\u{a0}%", 100.0 * share)
}

/// The part that most often wears out first; several if equally frequent.
fn wears(fleet: &Fleet) -> Option<(Vec<Part>, f64)> {
    let worn = || fleet.first.iter().filter(|s| s.part.is_some());
    let most = worn().max_by_key(|s| s.clutches)?;
    Some((worn().filter(|s| s.clutches == most.clutches).filter_map(|s| s.part).collect(), most.share))
}

/// B10 in running hours.
fn b10(fleet: &Fleet) -> Bounds {
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
    said.extend(grabbing(report, &all));
    leave_wrong_oils(&mut all, |fleet| fleet);
    said.extend(clear(report, &all));
    said.push(if all.iter().all(|fleet| worn_share(fleet) == 0.0) {
        nothing_wears_out(report)
    } else if all.iter().any(|fleet| b10(fleet).estimate.is_none()) {
        shares_worn(report, &all)
    } else {
        longest(report, &all)
    });
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

/// Sentence on the fleets with an oil that stays on the lining; none if there are none.
fn wrong_oil(report: &Report) -> Option<Words> {
    let wrong: Vec<&Fleet> = report.fleets.iter().filter(|fleet| fleet.wrong_oil()).collect();
    let (n, all) = (wrong.len(), report.fleets.len());
    let whose = match n {
        0 => return None,
        _ if all == 1 => "this oil".to_owned(),
        _ if n == all => "the oil of any of these".to_owned(),
        _ => format!("the oil of {}", names(report, &wrong)),
    };
    let words = use_of_machine::wrong_oil(&whose, "");
    let them = if n == 1 { "it is" } else { "they are" };
    Some(if n < all { words.plain(format!(" In what follows {them} left out.")) } else { words })
}

/// Sentence on a fleet in which clutches grow hotter than the model reaches; none if none does.
fn beyond(report: &Report, fleet: &Fleet) -> Option<Words> {
    let (count, hottest) = fleet.beyond?;
    let whose = if report.fleets.len() > 1 { format!(" of “{}”", name(report, fleet)) } else { String::new() };
    let words = format!(
        "In {count} of {} clutches{whose} a part is beyond the model, at up to ",
        fleet.outcomes.len() as u64 + count
    );
    let words = Words::from(words).temperature(hottest);
    Some(words.plain(": no life is given for them, and the machine is not recommended for this duty."))
}

/// Sentence on the fleets too many of whose clutches drag at idle; none if there are none.
fn dragging(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let unfit: Vec<&Fleet> = all.iter().copied().filter(|fleet| fleet.drags()).collect();
    let drag = if unfit.iter().all(|fleet| fleet.dragging() == 1) { "drags" } else { "drag" };
    refused(report, &unfit, Fleet::dragging, |counts| {
        format!("{counts} clutches {drag} at idle, new or relaxed: the machine may creep")
    })
}

/// Sentence on the fleets too many of whose bushings grab though their oil is not due; none if there are none.
fn grabbing(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let unfit: Vec<&Fleet> = all.iter().copied().filter(|fleet| fleet.grabs()).collect();
    refused(report, &unfit, Fleet::grabbing, |counts| {
        format!(
            "in {counts} clutches the bushing grabs its shaft within {} of running, long before its oil is due: oil it far more often (`slipsoak oiling` says how often), or let it slip less",
            say::time(SEASON)
        )
    })
}

/// Sentence that refuses fleets for what happens to this many of their clutches.
fn refused(
    report: &Report,
    unfit: &[&Fleet],
    count: fn(&Fleet) -> usize,
    why: impl Fn(&str) -> String,
) -> Option<Words> {
    let each: Vec<String> = unfit.iter().map(|fleet| format!("{} of {}", count(fleet), fleet.outcomes.len())).collect();
    let why = why(&listed(&each));
    let words = Words::default();
    match unfit.len() {
        0 => None,
        _ if report.fleets.len() == 1 => Some(words.strong("Do not use it so: ").plain(format!("{why}."))),
        n if n == report.fleets.len() => {
            let of = format!("with {}, {why}. What follows only compares them.", names(report, unfit));
            Some(words.strong("None can be recommended: ").plain(of))
        }
        _ => Some(words.strong(format!("Do not fit {}: ", names(report, unfit))).plain(format!("{why}."))),
    }
}

/// Sentence on how sure it is that the best fleet stays clear of the idle; none where no springs are compared
/// and no fleet drags, since then they are not in question, or where the best one drags too.
fn clear(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let springs = report.fleets.windows(2).any(|pair| pair[0].engagement != pair[1].engagement);
    let drag = springs || all.iter().any(|fleet| fleet.dragging() > 0);
    let best = all.first().filter(|best| drag && !best.drags())?;
    let (count, of) = (best.dragging() as u64, best.outcomes.len() as u64);
    let most = share_of(count, of, CONFIDENCE).high;
    let seen = if count == 0 { "None".to_owned() } else { count.to_string() };
    let words = Words::from(format!("{seen} of {of} clutches with ")).strong(format!("“{}”", name(report, best)));
    let drag = if count < 2 { "drags" } else { "drag" };
    Some(if most > DRAGGING {
        words.plain(format!(" {drag}, but up to ")).strong(whole(most)).plain(format!(
            " may: {of} are too few to show that 19 of 20 stay clear of the idle. Ask `choose` before you fit it."
        ))
    } else {
        words.plain(format!(" {drag}; up to {} may.", whole(most)))
    })
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

/// Times at which oil is due: for each of a few fleets, else for the longest-lived, the next and the reference.
fn oil(report: &Report, all: &[&Fleet]) -> Words {
    let first = &report.fleets[reference(report).0];
    let named: Vec<&Fleet> = match all {
        [best, rival, ..] if all.len() > FEW => {
            let mut named = vec![*best, *rival];
            if !named.iter().any(|fleet| std::ptr::eq(*fleet, first))
                && all.iter().any(|fleet| std::ptr::eq(*fleet, first))
            {
                named.push(first);
            }
            named
        }
        _ => all.to_vec(),
    };
    if all.iter().all(|fleet| fleet.outcomes.iter().all(|o| o.service_due.is_none())) {
        return Words::from("Oil service is due in none of them by then.");
    }
    let several = report.fleets.len() > 1;
    let mut words = Words::from("Oil service is due ");
    for (k, (due, fleets)) in alike(&named, due).into_iter().enumerate() {
        words = words.plain(if k > 0 { "; " } else { "" });
        if several {
            words = words.plain("with ").strong(names(report, &fleets)).plain(" ");
        }
        words = words.and(due);
    }
    words.plain(".")
}

/// Fleets of which the same is said, in the order of the first of each.
fn alike<'a, T: PartialEq>(fleets: &[&'a Fleet], said: impl Fn(&Fleet) -> T) -> Vec<(T, Vec<&'a Fleet>)> {
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
fn names(report: &Report, fleets: &[&Fleet]) -> String {
    listed(&fleets.iter().map(|fleet| format!("“{}”", name(report, fleet))).collect::<Vec<_>>())
}

/// Time at which the oil of a fleet is due, to follow “due with” its name.
fn due(fleet: &Fleet) -> Words {
    let [tenth, half] = [Quantile::B10, Quantile::B50].map(|name| milestone(&fleet.service_running, name));
    let Some(time) = tenth.estimate else {
        let due = fleet.outcomes.iter().filter(|o| o.service_due.is_some()).count();
        return format!("in {due} of {} clutches by the end", fleet.outcomes.len()).into();
    };
    let spread = bounds(&tenth).map_or_else(String::new, |b| format!(" ({b})"));
    let half = half
        .estimate
        .map_or_else(|| "not in half by the end".to_owned(), |t| format!("in half after {}", say::time(t)));
    Words::from("in a tenth of the clutches after ")
        .strong(format!("{} of running", say::time(time)))
        .plain(format!("{spread}, {half}"))
}

/// Sentence on the clutches that could not be computed; empty if all could.
pub fn missing(report: &Report) -> Option<Words> {
    left_out(&report.failed, report.clutches * report.fleets.len() as u64, "clutches")
}

/// Number of clutches in both fleets.
fn compared(gain: &Gain) -> u64 {
    gain.longer + gain.shorter + gain.alike + gain.unknown
}

fn nothing_wears_out(report: &Report) -> Words {
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
fn shares_worn(report: &Report, all: &[&Fleet]) -> Words {
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
fn longest(report: &Report, all: &[&Fleet]) -> Words {
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let (at, role) = reference(report);
    let (best, first) = (all[0], &report.fleets[at]);
    // Those that drag at idle or whose bushings grab early may last longer, and are not to be fitted.
    let refused = |fleet: &Fleet| !best.refused() && fleet.refused();
    let b10_life = "The B10 life (a tenth of the clutches have a part worn out by then, oil set apart) is ";
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
            None => "longest",
            Some(_) if all.iter().all(|fleet| !refused(fleet) || fleet.drags()) => "of those that do not drag, longest",
            Some(_) => "of the others, longest",
        };
        lasts(Words::from(format!("{b10_life}{of} with ")).strong(called(best)).plain(": "), best)
    };
    let against = |words: Words, fleet: &Fleet, role: &str| {
        let words = lasts(words, fleet).plain(format!(" with {role}")).strong(called(fleet));
        words.plain(match () {
            () if !refused(fleet) => "",
            () if fleet.drags() => ", which drags",
            () => ", whose bushings grab",
        })
    };
    words = against(words.plain(", against "), rival, "");
    let others = all.iter().filter(|fleet| !std::ptr::eq(**fleet, best) && !std::ptr::eq(**fleet, rival));
    if let Some(first) = others.into_iter().find(|fleet| std::ptr::eq(**fleet, first)) {
        words = against(words.plain(" and "), first, &format!("{role}, "));
    }
    words.plain(if overlap(&b10(best), &b10(rival)) {
        format!("; the bounds overlap, so that {} clutches each are too few to rank them for sure.", report.clutches)
    } else {
        "; the bounds lie apart.".to_owned()
    })
}

/// The most frequent first worn part, given once if all fleets have the same, or else of each.
fn causes_in_words(report: &Report, all: &[&Fleet]) -> Option<Words> {
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
        words = words.plain(format!("{with}{}{range} of the clutches", if with.is_empty() { ", in " } else { " in " }));
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
