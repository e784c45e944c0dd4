//! Choice of a spring: the answer, verdicts, and their reasons.

use crate::words::number::figures;
use crate::words::reading::ends;
use crate::words::remedies::LESS_SLIP;
use crate::words::say::{self, percent, road_speed, road_speeds, temperature, time, times, turns};
use crate::words::text::{Words, the};
use crate::words::warnings::said;
use slipsoak_engine::names::{IdleKind, distinct};
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::spring_choice::{Choice, Heated, Judged, Reason, Verdict, Weight};

/// A verdict.
pub const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits",
        Verdict::Warned => "fits, with warnings",
        Verdict::Unfit => "does not fit",
    }
}

/// A slope, rounded to a tenth of a per cent.
fn steep(grade: f64) -> String {
    format!("{} %", figures((1000.0 * grade).round() / 10.0, 3))
}

/// Ground of this slope, rise over run.
pub(crate) fn slope(grade: f64) -> String {
    if grade == 0.0 { "level ground".to_owned() } else { format!("a slope of {}", steep(grade)) }
}

/// The part with its article, its verb, and the name of its limit.
const fn heated(part: Heated) -> (&'static str, &'static str, &'static str) {
    match part {
        Heated::Lining => ("its lining", "reaches", "its continuous limit of"),
        Heated::Bushing => ("the bushing", "reaches", "the temperature at which its oil degrades,"),
        Heated::Washer => ("the washer", "reaches", "its limit of"),
        Heated::DryWasher => ("the dry washer", "reaches", "the limit of one without oil,"),
        Heated::Springs => ("its springs", "reach", "the limit of their wire,"),
    }
}

/// A reason in a word or two; empty for facts.
pub fn brief(reason: &Reason) -> &'static str {
    match reason {
        Reason::NeverEngages { .. } => "never engages",
        Reason::NoPreload { .. } => "no preload",
        Reason::Drags { .. } => "drags",
        Reason::TooNear { .. } => "too near",
        Reason::NeverLocks | Reason::TooSteep { .. } | Reason::LocksLate { .. } => "does not lock up",
        Reason::TooHot { .. } | Reason::CrawlTooHot { .. } | Reason::NoLife { .. } | Reason::Beyond { .. } => "too hot",
        Reason::OilGone { .. } => "runs dry",
        Reason::InUse(warning) => match warning.kind {
            Warned::Grabs => "bushing grabs its shaft",
            Warned::Seizes => "bushing seizes",
            Warned::Stall => "motor stalls",
            Warned::LetGo => "clutch burns",
            kind => kind.name(),
        },
        Reason::WearsOut { .. } => "wears out",
        Reason::Hot { part, .. } => heated(*part).0.split_once(' ').map_or("", |(_, part)| part),
        Reason::HeldSlipping { .. } | Reason::CrawlSlips { .. } => "slips at a held speed",
        Reason::RollsBack { .. } => "rolls back",
        _ => "",
    }
}

/// A reason as a clause, without capital and full stop.
pub fn reason(reason: &Reason) -> Words {
    clause(reason).into()
}

fn clause(reason: &Reason) -> String {
    match *reason {
        Reason::NeverEngages { engagement, top } => format!(
            "it never engages: its {} are at or above the motor's governed top speed of {}",
            turns(engagement),
            turns(top)
        ),
        Reason::NoPreload { engagement, preload } => format!(
            "it cannot be fitted: across the shoes' gap its rate alone is stronger than the shoes are at {} (preload {} N)",
            turns(engagement),
            figures(preload, 2)
        ),
        Reason::Drags { settled, highest, share, power, creep, stalls, idle_kind } => {
            drags((settled, highest, share), (power, creep, stalls), idle_kind)
        }
        Reason::TooNear { margin, floor, share } => format!(
            "it engages too near to the idle: its margin over the highest idle is {}, tolerances of springs and tachometer take {}; about {} of such clutches would touch at the highest idle",
            turns(margin),
            turns(floor),
            percent(share)
        ),
        Reason::NeverLocks => "it never locks up: at no speed does it take the motor's full torque".to_owned(),
        Reason::TooSteep { grade, steepest } => format!(
            "it does not lock up on the slope of {}: the steepest on which it locks up within half a minute is {}",
            steep(grade),
            steep(steepest)
        ),
        Reason::LocksLate { grade } => {
            format!("it does not lock up within a minute of full throttle on {}", slope(grade))
        }
        Reason::TooHot { part, peak, limit } => {
            let (part, reaches, _) = heated(part);
            format!("{part} {reaches} {} in stop-and-go; its limit is {}", temperature(peak), temperature(limit))
        }
        Reason::CrawlTooHot { speed, peak, limit } => format!(
            "held at {} its lining reaches {} within ten minutes; its limit is {}",
            road_speed(speed),
            temperature(peak),
            temperature(limit)
        ),
        Reason::NoLife { peak, limit } => format!(
            "a part reaches {}, beyond the model, which ends at {}: no life is given",
            temperature(peak),
            temperature(limit)
        ),
        Reason::Beyond { peak } => format!(
            "at {} the lining would char or come off its shoes and real torque may collapse: figures from there on are guesses",
            temperature(peak)
        ),
        Reason::OilGone { fill, after } => format!(
            "the bushing's oil is nearly gone after {} of stop-and-go (fill {}): a dry bushing may seize and drive the machine at idle",
            time(after),
            percent(fill)
        ),
        Reason::InUse(ref warning) => in_use(warning),
        Reason::WearsOut { part, after } => format!("{} after {} of running", ends(part), time(after)),
        Reason::Hot { part, peak, limit } => {
            let (part, reaches, above) = heated(part);
            let (peak, limit) = (temperature(peak), temperature(limit));
            let peak = if peak == limit { "just over".to_owned() } else { format!("{peak}, above") };
            format!("{part} {reaches} {peak} {above} {limit}")
        }
        Reason::HeldSlipping { speed, lock } => {
            let [held, lock] = road_speeds(speed, lock);
            format!("the use holds {held}, below the {lock} from which it stays locked up: it slips all the time there")
        }
        Reason::CrawlSlips { speed, power, lining, lock } => format!(
            "held at {} it slips all the time, {power:.0} W, and the lining reaches {} within ten minutes: it stays locked up from {} on",
            road_speed(speed),
            temperature(lining),
            road_speed(lock)
        ),
        Reason::RollsBack { grade, distance, speed } => format!(
            "on {} the machine rolls back {} cm, at up to {}, before the clutch grips",
            slope(grade),
            figures(100.0 * distance, 2),
            road_speed(speed)
        ),
        Reason::Clear { settled, margin, highest } => format!(
            "computed not to drag, with a margin of {}: hot and relaxed it engages at {}, the idle reaches {}",
            turns(margin),
            turns(settled),
            turns(highest)
        ),
        Reason::Locks { motor, torque, speed, steepest } => format!(
            "at full throttle it locks up at {} with {torque:.1} N·m, {}; within half a minute it locks up on {}",
            turns(motor),
            road_speed(speed),
            steepest.map_or_else(|| "no slope".to_owned(), |s| format!("slopes of up to {}", steep(s)))
        ),
        Reason::Launch { grade, speed, time, locks, heat } => format!(
            "a launch on {} reaches {} in {time:.1} s, locks up after {locks:.1} s and takes {:.1} kJ of slip energy",
            slope(grade),
            road_speed(speed),
            heat / 1e3
        ),
        Reason::Peaks { lining, drum, power } => format!(
            "in stop-and-go the lining reaches {}, the drum {}, with {power:.0} W of slip power on average",
            temperature(lining),
            temperature(drum)
        ),
        Reason::Steady { lock } => format!("held at any speed below {} it slips all the time", road_speed(lock)),
        Reason::CrawlLocked { speed } => format!("held at {} it stays locked up", road_speed(speed)),
        Reason::Lasts { part, after } => {
            format!("in this use {} first, after about {} of running", ends(part), time(after))
        }
    }
}

/// What the stop-and-go warns of.
fn in_use(warning: &Warning) -> String {
    let power = |watts: f64| figures(1e-3 * watts, 2);
    match warning.kind {
        Warned::LetGo => format!(
            "in this use the clutch burns: it slips with {} kW for 10 s or longer, where {} kW is the limit",
            power(warning.value),
            power(warning.limit)
        ),
        Warned::Squeals => {
            format!("in this use the bushing is scored and squeals after {} of running", time(warning.value))
        }
        Warned::Grabs => format!(
            "the bushing grabs its shaft after {} of running: the machine may drive itself at idle",
            time(warning.value)
        ),
        Warned::Launch => format!("starts of this use that do not reach their speed in time: {:.0}", warning.value),
        Warned::Brake => format!("brakings of this use that do not stop the machine in time: {:.0}", warning.value),
        // None of the others depends on what holds the idle.
        _ => format!("in this use {}", said(warning, (f64::NAN, f64::NAN, IdleKind::Unstated))),
    }
}

/// What holds the idle, as a clause after "drags at idle".
const fn held_by(kind: IdleKind) -> &'static str {
    match kind {
        IdleKind::Unstated => "on a governor or a throttle stop, whichever is worse",
        IdleKind::ThrottleStop => "on a throttle stop",
        IdleKind::Governed => "on a governor",
    }
}

fn drags(
    (settled, highest, share): (f64, f64, f64),
    (power, creep, stalls): (f64, f64, bool),
    kind: IdleKind,
) -> String {
    let range = if share < 0.995 {
        format!("in {} of the idle's range", percent(share))
    } else {
        "over the whole range of the idle".to_owned()
    };
    let heat = if power >= 1.0 { format!(", with {power:.0} W of slip while standing") } else { String::new() };
    let creep = if creep > 0.05 {
        format!("; off the brake the machine creeps to {} in 20 s: idle creep can hurt someone", road_speed(creep))
    } else {
        String::new()
    };
    let stalls = if stalls { " and can stall the motor" } else { "" };
    format!(
        "it drags at idle {range}{heat} ({}){stalls}: hot and relaxed it engages at {}, and the idle reaches {}{creep}",
        held_by(kind),
        turns(settled),
        turns(highest)
    )
}

/// Reasons of one weight, as clauses.
fn of_weight(spring: &Judged, weight: Weight) -> Vec<String> {
    spring.of_weight(weight).map(clause).collect()
}

/// The most important reasons of a spring: those against it, or else its warnings, or else that it does not drag.
pub fn why(spring: &Judged) -> Words {
    let all = [Weight::Against, Weight::Warning, Weight::Fact].map(|weight| of_weight(spring, weight));
    let mut said = all.into_iter().find(|said| !said.is_empty()).unwrap_or_default();
    if spring.verdict == Verdict::Fits {
        said.truncate(1);
    }
    said.join("; ").into()
}

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

/// Life of a spring's clutch, with the range due to assumed wear constants.
fn lasts(choice: &Choice, spring: &Judged) -> String {
    let found = spring.found.as_ref().and_then(|f| Some((f.life?, f.ended_by?)));
    let Some((life, part)) = found else { return "wears no part measurably".to_owned() };
    let range = spring.found.as_ref().and_then(|f| f.range);
    let range = range.map_or_else(String::new, |[low, high]| format!(" ({})", times(low, high)));
    format!("lasts about {} of running{}{range}, until {}", time(life), where_ridden(choice), ends(part))
}

fn margin(spring: &Judged) -> String {
    turns(spring.found.as_ref().map_or(0.0, |f| f.margin))
}

/// What the range of a life is.
const RANGE: &str =
    "Hours in brackets go from the assumed wear constants of all parts at their worst to all at their best.";

/// The answer: what to do first, then the runner-up, then the trade's rule.
pub fn statement(choice: &Choice) -> Vec<Words> {
    sentences(choice).into_iter().map(Words::from).collect()
}

fn sentences(choice: &Choice) -> Vec<String> {
    let best = choice.best.as_ref().and_then(|name| choice.spring(name));
    let mut say = answer(choice, best);
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
        say.push(RANGE.to_owned());
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
    say.extend(steeper(choice).then(|| {
        format!("Only the start was judged on the slope of {}: climbing shortens that life.", steep(choice.grade))
    }));
    if warned {
        say.push(warnings(best));
    }
    say
}

/// Which spring fits, and how long it lasts.
pub(crate) fn found(choice: &Choice) -> String {
    let Some(best) = choice.best.as_ref().and_then(|name| choice.spring(name)) else {
        return format!("No spring of this stock fits {}", the(&choice.machine));
    };
    let warned = if best.verdict == Verdict::Warned { ", with warnings" } else { "" };
    let life = best.found.as_ref().and_then(|found| found.life);
    let lasts =
        life.map_or_else(String::new, |life| format!("; it lasts {}{}", say::about(life), where_ridden(choice)));
    format!("The {} spring fits {}{warned}{lasts}", best.name, the(&choice.machine))
}

/// The warnings of a spring.
fn warnings(spring: &Judged) -> String {
    format!("Warnings: {}.", of_weight(spring, Weight::Warning).join("; "))
}

/// Reasons against a spring, a word or two each, without repetition.
pub fn briefly<'a>(reasons: impl Iterator<Item = &'a Reason>) -> String {
    let word = |against: &Reason| match against {
        Reason::Drags { .. } => "drags at idle",
        Reason::TooNear { .. } => "too near to the idle",
        Reason::TooSteep { .. } => "does not lock up on the slope of a start",
        other => brief(other),
    };
    distinct(reasons.filter(|reason| reason.weight() == Weight::Against).map(word)).join(", ")
}

/// Sentences if no spring fits: the least unsuitable one, the spring to look for, and what would help.
fn nothing_fits(choice: &Choice, least: &Judged) -> Vec<String> {
    let mut say = vec![format!(
        "Fit no spring of this stock for this use. The least unsuitable is the {} spring, and it does not fit either ({}).",
        least.name,
        briefly(least.reasons.iter())
    )];
    match &choice.sought {
        Some(sought) if sought.verdict == Verdict::Unfit => {
            say.push(format!("No other spring is a remedy: {}.", softest_clear(sought)));
            say.push(if weak(sought) { STRONGER } else { LESS_SLIP }.to_owned());
        }
        Some(sought) => {
            let fit = if sought.verdict == Verdict::Warned { "fit with warnings" } else { "fit" };
            say.push(format!(
                "For this idle look for a spring that engages at {} or somewhat above: it is computed to {fit}, and {}. Or lower the idle as far as the motor's maker allows. Ask again with either.",
                turns(sought.engagement),
                lasts(choice, sought)
            ));
            say.extend((sought.verdict == Verdict::Warned).then(|| warnings(sought)));
        }
        None => {
            let near = "No spring that was tried stays clear of this idle: lower it as far as the motor's maker allows, and ask again.";
            say.extend(least.is_near().then(|| near.to_owned()));
            say.extend(what_else(least).map(str::to_owned));
        }
    }
    say
}

/// What would help where the motor does not pull the clutch to lock-up.
const STRONGER: &str =
    "What would help: shorter gearing, less load, a start on a gentler slope, a stronger motor, or a larger clutch.";

/// Whether all that is against a spring is that it does not lock up.
fn weak(spring: &Judged) -> bool {
    let locks = |r: &Reason| matches!(r, Reason::NeverLocks | Reason::TooSteep { .. } | Reason::LocksLate { .. });
    spring.of_weight(Weight::Against).all(locks)
}

/// The softest spring that stays clear of the idle, where it does not fit either.
pub(super) fn softest_clear(sought: &Judged) -> String {
    format!(
        "the softest that stays clear of the idle engages at {} and does not fit either ({})",
        turns(sought.engagement),
        briefly(sought.reasons.iter())
    )
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
