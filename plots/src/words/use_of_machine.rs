//! Sentences on what a use does to a machine, for any question.

use crate::words::reason::clause;
use crate::words::say::{percent, road_speeds, temperature, time, turns};
use crate::words::text::Words;
use crate::words::verdict::{briefly, softest_clear, what_helps};
use crate::words::warnings::WEAK;
use slipsoak_engine::finding::{Beyond, Sag, Slipping, Weak};
use slipsoak_engine::laws::margin::VARIATION;
use slipsoak_engine::spring_choice::{Judged, Reason, Renewed, Verdict};

/// Largest number of reasons against springs that are said.
const GRAVEST: usize = 2;

/// The springs of which something is said.
pub(super) const OWN: &str = "its own springs";

/// What of an answer is left where springs do not fit.
const AS_IT_IS: &str = " What follows is for the clutch as it is.";

/// The idle below which springs engage: the usual one, or the highest.
fn idle(sag: &Sag, engages: f64) -> String {
    if engages <= sag.idle {
        format!("the idle of {}", turns(sag.idle))
    } else {
        format!("the highest idle of {}", turns(sag.highest))
    }
}

/// What is wrong with springs that are weaker than a new set.
pub(super) fn weaker(weak: &Weak) -> String {
    match *weak {
        Weak { weakest: ..=0.0, .. } => "one spring is broken".to_owned(),
        Weak { weakest: ..WEAK, .. } => {
            format!("one spring is weak, with {} of the others' force", percent(weak.weakest))
        }
        Weak { others, .. } if others < 1.0 => format!("the springs have {} of a new set's force", percent(others)),
        Weak { weakest, .. } => format!("one spring has {} of the others' force", percent(weakest)),
    }
}

/// What to replace first, where a whole new set of the same springs is the remedy, with its margin, and why.
fn replace_all(renewed: &Renewed) -> String {
    format!("replace all springs first, by a new set of the same ({}): {}", fits(&renewed.set), weaker(&renewed.weak))
}

/// That a spring fits, and its margin.
fn fits(spring: &Judged) -> String {
    let warned = if spring.verdict == Verdict::Warned { " with warnings" } else { "" };
    let margin = spring.margin().unwrap_or(0.0);
    format!("it fits{warned}, and keeps a margin of {} over the highest idle", turns(margin))
}

/// The variation of the idle to either side, rad/s, where it is not the usual one.
pub(crate) fn varies(wander: f64) -> String {
    let usual = (wander - VARIATION).abs() < 1e-9;
    if usual { String::new() } else { format!("; idle ± {}", turns(wander)) }
}

/// That oil which some of stays on the lining is never to be used; `whose` oil, and what to do next.
pub(crate) fn wrong_oil(whose: &str, next: &str) -> Words {
    Words::default().strong(format!("Never use {whose}")).plain(format!(
        ": it has PTFE, silicone or a friction modifier in it. What reaches the lining stays on it, and the grip that it takes does not come back. Use a straight petroleum oil, such as SAE 30{next}."
    ))
}

/// That a cold bushing moves the machine off at idle, at this temperature, K.
pub(crate) fn bushing_drives(at: f64) -> Words {
    Words::default().strong("Keep it on its brake while it idles from cold").plain(format!(
        ": at {} the friction of the bushing moves it off at the highest idle, though the shoes do not touch. No spring changes that; a thinner straight petroleum oil may.",
        temperature(at)
    ))
}

fn capital(text: &str) -> String {
    Words::from(text).capital().text()
}

/// Where and when the clutch drags, and what of the answer applies only to new springs where they relax.
fn drags(sag: &Sag, then: &str) -> [String; 2] {
    if sag.new <= 0.0 {
        let below = format!("its shoe drags whenever the motor runs, at the idle of {} too", turns(sag.idle));
        return [below, " What follows is for the clutch as it is, with that heat.".to_owned()];
    }
    let (below, then) = if sag.new <= sag.highest {
        let below = format!(
            "the first shoe touches the drum at {} with the springs as given, not above {}",
            turns(sag.new),
            idle(sag, sag.new)
        );
        (below, ". What follows is for the clutch as it is, with that heat")
    } else {
        let below = format!(
            "in this use the springs relax within {} until they engage at {}, below {}",
            time(sag.within),
            turns(sag.settled),
            idle(sag, sag.settled)
        );
        (below, then)
    };
    let stops = if sag.settled <= sag.idle { "every stop" } else { "each stop at which the idle is that high" };
    [below, format!(" The clutch then drags at {stops}{then}.")]
}

/// The gravest of what is against springs that do not sag.
fn against(with: &str, reasons: &[Reason], then: &str) -> [String; 2] {
    let gravest = reasons.iter().take(GRAVEST).map(clause).collect::<Vec<_>>().join("; ");
    [format!("with {with} {gravest}"), then.to_owned()]
}

/// Springs that engage below idle, broken, as given or relaxed by the use, or that do not fit the use: what is the remedy, a new
/// set of the same, another spring, or none. None of springs that fit.
pub(super) fn amiss(
    (sag, reasons): (Option<&Sag>, &[Reason]),
    renewed: Option<&Renewed>,
    sought: Option<&Judged>,
    then: &str,
) -> Option<String> {
    if sag.is_none() && (reasons.is_empty() || nearer(reasons, renewed).is_some()) {
        return None;
    }
    let said = sag.map_or_else(|| against(OWN, reasons, AS_IT_IS), |sag| drags(sag, then));
    Some(in_place(said, sag.is_some() || is_near(reasons), renewed, sought))
}

/// Whether springs are near to the idle.
fn is_near(reasons: &[Reason]) -> bool {
    reasons.iter().any(Reason::is_near)
}

/// The same of springs with which the machine must not be ridden.
pub(super) fn forbidden(with: &str, reasons: &[Reason], renewed: Option<&Renewed>, sought: Option<&Judged>) -> String {
    in_place(against(with, reasons, ""), is_near(reasons), renewed, sought)
}

/// That sound springs are nearer to the idle than a choice allows, if nothing else is against them: said after the answer, since the
/// springs that a machine has can be measured, where those of a choice are only known within their tolerances.
pub(super) fn nearer(reasons: &[Reason], renewed: Option<&Renewed>) -> Option<String> {
    let [Reason::TooNear { margin, floor, share }] = *reasons else { return None };
    renewed.is_none().then(|| near_idle((margin, floor, share)))
}

/// What follows from springs that engage so far above the highest idle, where tolerances take so much and this share of such clutches
/// touches there.
pub(super) fn near_idle((margin, floor, share): (f64, f64, f64)) -> String {
    let [engages, takes] = [margin.abs(), floor].map(turns);
    let where_to = match margin {
        ..0.0 => format!("{engages} below the highest idle, and tolerances of springs and tachometer take {takes}"),
        _ if engages == takes => {
            format!("just less than the {takes} above the highest idle that tolerances of springs and tachometer take")
        }
        _ => format!("{engages} above the highest idle, and tolerances of springs and tachometer take {takes}"),
    };
    format!(
        "Its springs are nearer to the idle than `slipsoak choose` allows: hot and relaxed they engage {where_to} (about {} of such clutches would touch there). See that the shoes do not touch with the warm motor idling at its highest, and ask `choose` before you fit such a set again.",
        percent(share)
    )
}

/// The same of springs that are weaker than a new set, and whether such a set keeps clear.
pub(super) fn weak_near_idle((margin, floor, _): (f64, f64, f64), renewed: bool) -> String {
    let side = if margin < 0.0 { "below" } else { "above" };
    let set = if renewed {
        "Replace all springs by a whole new set of the same, which keeps clear of the idle"
    } else {
        "Replace all springs by a whole new set; `slipsoak choose` says which keeps clear of the idle"
    };
    format!(
        "{set}: they are weaker than a new set, and hot and relaxed the first shoe touches {} {side} the highest idle, where tolerances take {}.",
        turns(margin.abs()),
        turns(floor)
    )
}

/// What to fit in place of springs of which this is said, near to the idle or not.
fn in_place([below, then]: [String; 2], near: bool, renewed: Option<&Renewed>, sought: Option<&Judged>) -> String {
    if let Some(renewed) = renewed.filter(|renewed| renewed.fits()) {
        return format!("{}, and {below}.{then}", capital(&replace_all(renewed)));
    }
    let weak = renewed.map(|renewed| weaker(&renewed.weak));
    let too = weak.as_ref().map_or_else(String::new, |weak| format!(" Fit a whole new set too, since {weak}."));
    match sought.map(|sought| (sought, sought.verdict)) {
        Some((sought, Verdict::Unfit)) => format!(
            "Change the use or the machine first, since no spring is the remedy: {}. {}{too} As it is, {below}.{then}",
            softest_clear(sought),
            what_helps(sought)
        ),
        Some((sought, _)) => {
            let speed = turns(sought.engagement);
            let it = format!(
                "Choose another spring first, one that engages at {speed} or somewhat above ({})",
                fits(sought)
            );
            match renewed.zip(weak) {
                Some((renewed, weak)) => format!(
                    "{it}, as a whole set: a new set of the same does not fit ({}). As it is, {weak}, and {below}.{then}",
                    briefly(renewed.set.reasons.iter())
                ),
                None => format!("{it}: {below}.{then}"),
            }
        }
        None if !near => format!(
            "Choose a spring that fits first (`slipsoak choose` says which, or why none does): {below}.{then}{too}"
        ),
        None => format!(
            "Lower the idle first, as far as the motor's maker allows, since no spring that was tried stays clear of it: {below}.{then}{too}"
        ),
    }
}

/// A part hotter than the model is valid.
pub(super) fn too_hot(beyond: &Beyond) -> Words {
    let hot = format!("In this use a part becomes hotter than {}, where the model ends: ", temperature(beyond.limit));
    Words::from(hot).strong("do not use it so.").plain(" No hours can be relied on.")
}

/// A speed at which the use makes the clutch slip permanently.
pub(super) fn slips(slipping: &Slipping) -> String {
    let [held, lock] = road_speeds(slipping.held, slipping.lock);
    format!(
        "This use holds {held}, below the lock-up speed of {lock}: the clutch slips all the time there, and everything runs hot."
    )
}
