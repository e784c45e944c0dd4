//! Choice of a spring: the answer.

use crate::words::learned::learned;
use crate::words::reading::ends;
use crate::words::reason::clause;
use crate::words::say::{self, temperature, time, times, turns};
use crate::words::slope::{slope, steep};
use crate::words::text::{Words, the};
use crate::words::use_of_machine::{bushing_drives, weaker, wrong_oil};
use crate::words::verdict::{briefly, softest_clear, what_helps};
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::record::Warned;
use slipsoak_engine::spring_choice::{Choice, Judged, Reason, Verdict, Weight};

/// Whether all reasons of a spring are shown: for the recommended one and the trade's.
pub fn in_full(choice: &Choice, spring: &Judged) -> bool {
    choice.best.as_ref() == Some(&spring.name) || choice.trade.spring == spring.name
}

/// The ground on which the use was ridden.
pub fn ground(choice: &Choice) -> String {
    match choice.ground {
        [least, most] if least == most => slope(most),
        [least, most] => format!("slopes from {} to {}", steep(least), steep(most)),
    }
}

/// Whether it has to start on a steeper slope than those of its use.
fn steeper(choice: &Choice) -> bool {
    choice.grade > choice.ground[1].max(0.0)
}

/// The ground, and the slope on which it has to start if that is steeper.
pub fn slopes(choice: &Choice) -> String {
    let level = choice.ground == [0.0, 0.0];
    match (steeper(choice), level) {
        (true, true) => format!("it must start on slopes of {}", steep(choice.grade)),
        (true, false) => format!("ridden on {}; it must start on slopes of {}", ground(choice), steep(choice.grade)),
        (false, true) => ground(choice),
        (false, false) => format!("ridden on {}", ground(choice)),
    }
}

/// Where a life was computed, if the start was judged on a steeper slope.
fn where_ridden(choice: &Choice) -> String {
    if steeper(choice) { format!(" on {}", ground(choice)) } else { String::new() }
}

/// Life of a spring's clutch, with the range due to its wear constants.
fn lasts(choice: &Choice, spring: &Judged) -> String {
    let found = spring.found.as_ref().and_then(|f| Some((f.life?, f.ended_by?)));
    let Some((life, part)) = found else { return "wears no part measurably".to_owned() };
    let range = spring.found.as_ref().and_then(|f| f.range);
    let range = range.map_or_else(String::new, |[low, high]| format!(" ({})", times(low, high)));
    format!("lasts about {} of running{}{range}, until {}", time(life), where_ridden(choice), ends(part))
}

fn margin(spring: &Judged) -> String {
    turns(spring.margin().unwrap_or(0.0))
}

/// What the range of a life is.
fn range(choice: &Choice) -> String {
    let hours = |assumed: &str| {
        format!(
            "Hours in brackets go from the {assumed}wear constants of all parts at their worst to all at their best."
        )
    };
    match learned(&choice.learned) {
        Some(learned) => format!("{} {learned}; the others are assumed.", hours("")),
        None => hours("assumed "),
    }
}

/// The answer: what to do first, then the runner-up, then the trade's rule.
pub fn statement(choice: &Choice) -> Vec<Words> {
    let warned = |kind: Warned| {
        let all = choice.springs.iter().flat_map(|spring| &spring.reasons);
        all.filter_map(|reason| match reason {
            Reason::InUse(warning) if warning.kind == kind => Some(warning.value),
            _ => None,
        })
        .reduce(f64::max)
    };
    let never = warned(Warned::Additive).map(|_| wrong_oil("this oil", ", whatever the spring"));
    let drives = warned(Warned::BushingDrives).map(bushing_drives);
    let mut said = sentences(choice).into_iter().map(Words::from);
    never.into_iter().chain(said.next()).chain(drives).chain(said).collect()
}

fn sentences(choice: &Choice) -> Vec<String> {
    let best = choice.best.as_ref().and_then(|name| choice.spring(name));
    let mut say = answer(choice, best);
    let fit = best.is_some() || choice.sought.as_ref().is_some_and(|sought| sought.verdict != Verdict::Unfit);
    let weak = choice.weak.as_ref().filter(|_| fit);
    say.extend(weak.map(|weak| format!("Fit it as a whole set: as the machine is, {}.", weaker(weak))));
    say.extend(best.and_then(|best| next(choice, best)));
    say.push(by_rule(choice, best));
    say.extend(choice.trade.made_of.map(|made| {
        format!(
            "With that spring the speed over the true idle has to cover {} for the idle's variation, {} for the tolerances of springs and tachometer (19 of 20 clutches) and {} for heat and a season of relaxation: {} together.",
            turns(made.idle),
            turns(made.tolerances),
            turns(made.settling),
            turns(made.sum())
        )
    }));
    say.extend(choice.trade.too_hot.map(|(peak, limit)| {
        let [peak, limit] = [peak, limit].map(temperature);
        format!(
            "How much of that heat and relaxation take with that spring is unknown: its wire reaches {peak}, beyond {limit}, to which relaxation is known."
        )
    }));
    let steady = choice.best_steady.as_ref().and_then(|name| choice.spring(name));
    say.extend(steady.zip(best).filter(|(steady, best)| best.engagement > steady.engagement).map(|(steady, best)| {
        let [life, fitted] = [steady, best].map(|spring| spring.found.as_ref().and_then(|f| f.life).map(time));
        if life == fitted {
            return format!(
                "With a perfectly steady idle and exact springs the {} spring would do, and would last hardly longer: here the margin costs next to no life.",
                steady.name
            );
        }
        let about = life.map_or_else(String::new, |life| format!(", about {life}"));
        format!(
            "With a perfectly steady idle and exact springs the {} spring would last longest{about}: the closer to the idle, the less slip. The margin trades some of that life for safety.",
            steady.name
        )
    }));
    if best.is_some_and(|best| best.found.as_ref().is_some_and(|f| f.range.is_some())) {
        say.push(range(choice));
    }
    let dragging = choice.springs.iter().flat_map(|s| &s.reasons).find_map(|reason| match reason {
        Reason::Drags { idle_kind, .. } => Some(*idle_kind),
        _ => None,
    });
    say.extend(dragging.map(|kind| slowed(kind).to_owned()));
    say
}

/// What a drag does to a motor whose idle is held so.
const fn slowed(kind: IdleKind) -> &'static str {
    match kind {
        IdleKind::Unstated => {
            "What holds the motor's idle is not stated, so drag and creep are those of the worse kind. A governor opens the throttle against the drag; on a throttle stop the drag slows the motor instead: it heats several times less, but may still creep or stall."
        }
        IdleKind::ThrottleStop => {
            "The idle rests on a throttle stop: a dragging clutch slows the motor, heats less than on a governor, but may still creep or stall it."
        }
        IdleKind::Governed => {
            "The idle is governed: the governor opens the throttle against the drag, and the clutch takes the heat."
        }
    }
}

/// The recommendation.
fn answer(choice: &Choice, best: Option<&Judged>) -> Vec<String> {
    let Some(best) = best else {
        let least = choice.least_unsuitable.as_ref().and_then(|name| choice.spring(name));
        return least
            .map_or_else(|| vec!["There is no spring to judge.".to_owned()], |least| nothing_fits(choice, least));
    };
    let warned = best.verdict == Verdict::Warned;
    let fit = if warned {
        format!("Fit the {} spring, with warnings, since no spring of this stock fits without: it", best.name)
    } else {
        format!("Fit the {} spring: it", best.name)
    };
    let mut say = vec![format!(
        "{fit} is computed not to drag, with a margin of {} over the highest idle of {}. Kept oiled, it {}.",
        margin(best),
        turns(choice.idle + choice.wander),
        lasts(choice, best)
    )];
    say.extend(steeper(choice).then(|| uphill(choice, best)));
    say.extend(if warned { warnings(best) } else { None });
    say
}

/// What a life that was computed on gentler ground says of starts on the slope.
fn uphill(choice: &Choice, best: &Judged) -> String {
    let grade = steep(choice.grade);
    let gentler = format!("That life holds without starts on the slope of {grade}, of which each takes some of it");
    let Some(each) = best.found.as_ref().and_then(|found| found.each_start) else { return format!("{gentler}.") };
    let hot =
        if each.lining > choice.lining_most { ", over its limit: let it cool down between such starts" } else { "" };
    let peak = temperature(each.lining);
    match each.life.zip(each.ended_by) {
        Some((life, part)) => format!(
            "{gentler}: with every start there it lasts about {}, until {}, and the lining reaches {peak}{hot}.",
            time(life),
            ends(part)
        ),
        None => format!("{gentler}: with every start there the lining reaches {peak}{hot}; no life can be given."),
    }
}

/// Which spring fits, and how long it lasts.
pub(crate) fn found(choice: &Choice) -> String {
    let Some(best) = choice.best.as_ref().and_then(|name| choice.spring(name)) else {
        return format!("No spring of this stock fits {}", the(&choice.machine));
    };
    let warned = if best.verdict == Verdict::Warned { ", with warnings" } else { "" };
    let life = best.found.as_ref().and_then(|found| found.life);
    let starts = if steeper(choice) { ", less with starts on the slope" } else { "" };
    let lasts = life
        .map_or_else(String::new, |life| format!("; it lasts {}{}{starts}", say::about(life), where_ridden(choice)));
    format!("The {} spring fits {}{warned}{lasts}", best.name, the(&choice.machine))
}

/// The warnings of a spring; the answer says of every start on the slope already.
fn warnings(spring: &Judged) -> Option<String> {
    let said = |reason: &&Reason| matches!(reason, Reason::EachStart { .. });
    let all: Vec<String> = spring.of_weight(Weight::Warning).filter(|r| !said(r)).map(clause).collect();
    (!all.is_empty()).then(|| format!("Warnings: {}.", all.join("; ")))
}

/// Sentences if no spring fits: the least unsuitable one unless all are unsafe, the spring to look for, and what would help.
fn nothing_fits(choice: &Choice, least: &Judged) -> Vec<String> {
    // If the one with the least against it is unsafe, all are.
    let against = if least.reasons.iter().any(Reason::endangers) {
        let dangers = choice.springs.iter().flat_map(|spring| &spring.reasons).filter(|reason| reason.endangers());
        format!("None of them can be ridden safely ({}).", briefly(dangers))
    } else {
        let reasons = briefly(least.reasons.iter());
        format!("The least unsuitable is the {} spring, and it does not fit either ({reasons}).", least.name)
    };
    let mut say = vec![format!("Fit no spring of this stock for this use. {against}")];
    match &choice.sought {
        Some(sought) if sought.verdict == Verdict::Unfit => {
            say.push(format!("No other spring is a remedy: {}.", softest_clear(sought)));
            say.push(what_helps(sought).to_owned());
        }
        Some(sought) => {
            let fit = if sought.verdict == Verdict::Warned { "fit with warnings" } else { "fit" };
            say.push(format!(
                "For this idle look for a spring that engages at {} or somewhat above: it is computed to {fit}, and {}. Or lower the idle as far as the motor's maker allows. Ask again with either.",
                turns(sought.engagement),
                lasts(choice, sought)
            ));
            say.extend(steeper(choice).then(|| uphill(choice, sought)));
            say.extend(if sought.verdict == Verdict::Warned { warnings(sought) } else { None });
        }
        None => {
            let near = "No spring that was tried stays clear of this idle: lower it as far as the motor's maker allows, and ask again.";
            say.extend(least.is_near().then(|| near.to_owned()));
            say.extend(what_else(least).map(str::to_owned));
        }
    }
    say
}

/// What would help where no speed is clear of the idle.
fn what_else(spring: &Judged) -> Option<&'static str> {
    let against = |wanted: fn(&Reason) -> bool| spring.of_weight(Weight::Against).any(wanted);
    if against(|r| matches!(r, Reason::NeverEngages { .. } | Reason::NoPreload { .. })) {
        return Some("Look for a spring of another stock: this machine cannot be run with one like it.");
    }
    against(|r| !r.is_near()).then_some(
        "What would help: less slip (shorter gearing, less load, fewer stops), more cooling, or another stock.",
    )
}

/// The runner-up.
fn next(choice: &Choice, best: &Judged) -> Option<String> {
    let second = choice.springs.iter().find(|s| s.name != best.name && s.verdict != Verdict::Unfit)?;
    let warned = if second.verdict == Verdict::Warned { ", with warnings," } else { "" };
    Some(format!(
        "Next{warned} is the {} spring: it keeps a margin of {} and {}.",
        second.name,
        margin(second),
        lasts(choice, second)
    ))
}

/// The spring that the trade's rule selects from the stock.
fn by_rule(choice: &Choice, best: Option<&Judged>) -> String {
    let rule = format!(
        "The trade's rule, about 200 rpm over the true idle (common practice, no source), gives {} here",
        turns(choice.trade.rule)
    );
    match choice.spring(&choice.trade.spring) {
        Some(picked) if best.is_some_and(|b| b.name == picked.name) => {
            format!("{rule} and picks the same {} spring.", picked.name)
        }
        Some(picked) if picked.verdict == Verdict::Unfit => {
            format!(
                "{rule} and picks the {} spring, which does not fit ({}).",
                picked.name,
                briefly(picked.reasons.iter())
            )
        }
        Some(picked) => format!(
            "{rule} and picks the {} spring, which keeps a margin of {} and {}.",
            picked.name,
            margin(picked),
            lasts(choice, picked)
        ),
        None => format!("{rule}."),
    }
}
