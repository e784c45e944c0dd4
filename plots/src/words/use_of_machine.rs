//! Sentences on what a use does to a machine, for any question.

use crate::words::say::{road_speed, temperature, time, turns};
use crate::words::text::Words;
use slipsoak_engine::finding::{Beyond, Sag, Slipping};

/// Springs that engage below idle, broken, as given or relaxed by the use, and what of the answer applies only to new ones where they relax.
pub(super) fn sags(sag: &Sag, then: &str) -> String {
    if sag.new <= 0.0 {
        return format!(
            "Fit a new set of springs first: one is broken, and its shoe drags whenever the motor runs, at the idle of {} too. What follows is for the clutch as it is, with that heat.",
            turns(sag.idle)
        );
    }
    if sag.new <= sag.idle {
        return format!(
            "Choose another spring first: the first shoe touches the drum at {} with the springs as given, below the idle of {}. The clutch drags at every stop. What follows is for the clutch as it is, with that heat.",
            turns(sag.new),
            turns(sag.idle)
        );
    }
    format!(
        "Choose another spring first: in this use these relax within {} until they engage at {}, below the idle of {}. The clutch then drags at every stop{then}.",
        time(sag.within),
        turns(sag.settled),
        turns(sag.idle)
    )
}

/// A part hotter than the model is valid.
pub(super) fn too_hot(beyond: &Beyond) -> Words {
    let hot = format!("In this use a part becomes hotter than {}, where the model ends: ", temperature(beyond.limit));
    Words::from(hot).strong("do not use it so.").plain(" No hours can be relied on.")
}

/// A speed at which the use makes the clutch slip permanently.
pub(super) fn slips(slipping: &Slipping) -> String {
    format!(
        "This use holds {}, below the lock-up speed of {}: the clutch slips all the time there, and everything runs hot.",
        road_speed(slipping.held),
        road_speed(slipping.lock)
    )
}
