//! Sentences on what a use does to a machine, for any question.

use crate::words::choice::softest_clear;
use crate::words::remedies::LESS_SLIP;
use crate::words::say::{road_speeds, temperature, time, turns};
use crate::words::text::Words;
use slipsoak_engine::finding::{Beyond, Sag, Slipping};
use slipsoak_engine::spring_choice::{Judged, Verdict};

/// The idle below which springs engage: the usual one, or the highest.
fn idle(sag: &Sag, engages: f64) -> String {
    if engages <= sag.idle {
        format!("the idle of {}", turns(sag.idle))
    } else {
        format!("the highest idle of {}", turns(sag.highest))
    }
}

/// Springs that engage below idle, broken, as given or relaxed by the use; which spring is the remedy, if one is; and what of
/// the answer applies only to new ones where they relax.
pub(super) fn sags(sag: &Sag, sought: Option<&Judged>, then: &str) -> String {
    if sag.new <= 0.0 {
        return format!(
            "Fit a new set of springs first: one is broken, and its shoe drags whenever the motor runs, at the idle of {} too. What follows is for the clutch as it is, with that heat.",
            turns(sag.idle)
        );
    }
    let (below, then) = if sag.new <= sag.highest {
        let below = format!(
            "the first shoe touches the drum at {} with the springs as given, below {}",
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
    let drags = format!("{below}. The clutch then drags at {stops}{then}.");
    match sought.map(|sought| (sought, sought.verdict)) {
        Some((sought, Verdict::Unfit)) => format!(
            "Change the use or the machine first, since no spring is the remedy: {}. {LESS_SLIP} As it is, {drags}",
            softest_clear(sought)
        ),
        Some((sought, verdict)) => format!(
            "Choose another spring first, one that engages at {} or somewhat above ({}): {drags}",
            turns(sought.engagement),
            if verdict == Verdict::Warned { "it fits with warnings" } else { "it fits" }
        ),
        None => format!(
            "Lower the idle first, as far as the motor's maker allows, since no spring that was tried stays clear of it: {drags}"
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
