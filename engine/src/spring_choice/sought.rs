//! The spring to look for where none of a stock fits, or where the machine's own drags.

use super::judge::{Spring, judge, judge_own};
use super::rank::choice;
use super::wish::Wish;
use crate::document::finding::Weak;
use crate::document::reason::{Reason, Weight};
use crate::document::spring_choice::{Choice, Judged, Renewed};
use crate::parts::Machine;
use crate::simulate::Failure;
use crate::units::RPM;
use rayon::prelude::*;

/// Step in which engagement speeds are named, rad/s.
const STEP: f64 = 10.0 * RPM;
/// Most springs that are simulated: heat relaxes springs, so one that is judged by a softer or a dragging one may be too near
/// to the idle again, or stiffer than is needed.
const TRIALS: usize = 8;

/// The softest spring that stays clear of the highest idle, judged as those of a stock are, where none of them fits. A softer
/// spring grips harder at any speed and slips less: if this one does not fit either, no spring is the remedy. None if a spring
/// of the stock fits, or if no speed is clear.
pub fn sought(wish: &Wish, choice: &Choice) -> Result<Option<Judged>, Failure> {
    let least = choice.least_unsuitable.as_ref().and_then(|name| choice.spring(name));
    least.map_or(Ok(None), |least| softest_clear(wish, least))
}

/// The springs of a machine.
fn own(machine: &Machine) -> Spring {
    let clutch = &machine.clutch;
    Spring { name: machine.name.clone(), engagement: clutch.engagement, rate: Some(clutch.spring_rate) }
}

/// What is against springs in a use, and what to fit in their place.
pub struct InPlace {
    /// reasons for which they do not fit, a margin over the idle that is short of its tolerances among them
    pub against: Vec<Reason>,
    /// a whole new set of the same, where they are weaker than that
    pub renewed: Option<Renewed>,
    /// where that does not fit, or they are no weaker, the spring of [`sought`]
    pub sought: Option<Judged>,
}

/// Judges the springs of a machine in a use, and where they do not fit, or sag, seeks what to fit in their place.
pub fn in_place_of_own(wish: &Wish, sags: bool) -> Result<InPlace, Failure> {
    let against: Vec<Reason> = judge_own(wish)?.of_weight(Weight::Against).cloned().collect();
    if against.is_empty() && !sags {
        return Ok(InPlace { against, renewed: None, sought: None });
    }
    let new = |weak: Weak| -> Result<Renewed, Failure> { Ok(Renewed { weak, set: judge(wish, &own(&wish.machine))? }) };
    let renewed = Weak::of(&wish.machine).map(new).transpose()?;
    let sought = match &renewed {
        Some(renewed) if renewed.fits() => None,
        Some(renewed) => softest_clear(wish, &renewed.set)?,
        None => softest_clear(wish, &judge(wish, &own(&wish.machine))?)?,
    };
    Ok(InPlace { against, renewed, sought })
}

/// Judges springs to choose from. Where the machine must not be ridden with any of them: what is against the least unsuitable one. Where
/// none fits, the spring of [`sought`].
pub fn in_place_of_stock(wish: &Wish, springs: &[Spring]) -> Result<InPlace, Failure> {
    let judged = springs.par_iter().map(|spring| judge(wish, spring)).collect::<Result<Vec<Judged>, Failure>>()?;
    let choice = choice(wish, judged, None);
    let ridden = choice.springs.iter().any(|spring| !spring.reasons.iter().any(Reason::forbids));
    let least = choice.least_unsuitable.as_ref().and_then(|name| choice.spring(name)).filter(|_| !ridden);
    let against = least.map_or_else(Vec::new, |least| least.of_weight(Weight::Against).cloned().collect());
    Ok(InPlace { against, renewed: None, sought: sought(wish, &choice)? })
}

/// Searched from a judged spring on.
fn softest_clear(wish: &Wish, judged: &Judged) -> Result<Option<Judged>, Failure> {
    let highest = wish.machine.motor.idle + wish.wander;
    let mut clear: Option<Judged> = None;
    let mut from = judged.clear_from(highest);
    for _ in 0..TRIALS {
        let Some(engagement) = from.map(|speed| (speed / STEP).ceil() * STEP) else { break };
        if clear.as_ref().is_some_and(|known| engagement >= known.engagement) {
            break;
        }
        let tried = judge(wish, &Spring { name: "sought".to_owned(), engagement, rate: None })?;
        from = tried.clear_from(highest);
        if !tried.is_near() && tried.found.is_some() {
            clear = Some(tried);
        }
    }
    Ok(clear)
}
