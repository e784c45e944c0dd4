//! Sentences on what a use does to a machine, for any question.

use crate::words::say::{road_speed, time, turns};
use crate::words::text::Words;
use slipsoak_engine::finding::{Sag, Slipping};

/// Springs that relax below idle, and the part of the answer that then applies only to new ones.
pub(super) fn sags(sag: &Sag, then: &str) -> Words {
    format!(
        "Choose another spring first: in this use these relax within {} until they engage at {}, below the idle of {}. The clutch then drags at every stop{then}.",
        time(sag.within),
        turns(sag.settled),
        turns(sag.idle)
    )
    .into()
}

/// A speed at which the use makes the clutch slip permanently.
pub(super) fn slips(slipping: &Slipping) -> Words {
    format!(
        "This use holds {}, below the lock-up speed of {}: the clutch slips all the time there, and everything runs hot.",
        road_speed(slipping.held),
        road_speed(slipping.lock)
    )
    .into()
}
