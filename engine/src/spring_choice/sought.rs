//! The spring to look for where none of a stock fits, or where the machine's own drags.

use super::judge::{Spring, judge, judge_own};
use super::rank::choice;
use super::wish::Wish;
use crate::document::finding::Weak;
use crate::document::reason::Reason;
use crate::document::spring_choice::{Choice, Judged, Renewed};
use crate::document::verdict::Weight;
use crate::laws::margin::margin_floor;
use crate::parallel::each;
use crate::parts::Machine;
use crate::simulate::Failure;
use crate::statistics::NINETY_FIVE;
use crate::units::RPM;

/// Step in which engagement speeds are named, rad/s.
const STEP: f64 = 10.0 * RPM;
/// Most springs that are simulated: heat relaxes springs, so one that is judged by a softer or a dragging one may be too near
/// to the idle again, or stiffer than is needed.
const TRIALS: usize = 12;
/// Rounds in which a cold spring's tolerances, which grow with its speed, are found to a rpm.
const ROUNDS: usize = 5;

/// The softest spring that stays clear of the highest idle, judged as those of a stock are, where none of them fits. A softer
/// spring grips harder at any speed and slips less: if this one does not fit either, no spring is the remedy. None if a spring
/// of the stock fits, or if no speed is clear.
pub fn sought(wish: &Wish, choice: &Choice) -> Result<Option<Judged>, Failure> {
    if choice.least_unsuitable.is_some() { softest_clear(wish) } else { Ok(None) }
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
        _ => softest_clear(wish)?,
    };
    Ok(InPlace { against, renewed, sought })
}

/// Judges springs to choose from. Where the machine must not be ridden with any of them: what is against the least unsuitable one. Where
/// none fits, the spring of [`sought`].
pub fn in_place_of_stock(wish: &Wish, springs: &[Spring]) -> Result<InPlace, Failure> {
    let judged = each(springs.len(), |k| judge(wish, &springs[k]));
    let judged = judged.into_iter().collect::<Result<Vec<Judged>, Failure>>()?;
    let choice = choice(wish, judged, None);
    let ridden = choice.springs.iter().any(|spring| !spring.reasons.iter().any(Reason::forbids));
    let least = choice.least_unsuitable.as_ref().and_then(|name| choice.spring(name)).filter(|_| !ridden);
    let against = least.map_or_else(Vec::new, |least| least.of_weight(Weight::Against).cloned().collect());
    Ok(InPlace { against, renewed: None, sought: sought(wish, &choice)? })
}

/// Searched from the softest spring that were clear if it stayed cold, so that every question finds the same whatever springs it
/// judges.
fn softest_clear(wish: &Wish) -> Result<Option<Judged>, Failure> {
    let highest = wish.machine.motor.idle + wish.wander;
    let mut clear: Option<Judged> = None;
    let mut from = Some(clear_when_cold(&wish.machine, highest));
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

/// Lowest engagement speed, rad/s, that were clear of the highest idle if springs neither warmed nor relaxed.
fn clear_when_cold(machine: &Machine, highest: f64) -> f64 {
    let shoes = machine.clutch.shoes.round() as u32;
    let over = |speed: f64| highest + margin_floor(speed, shoes, machine.tolerances(), NINETY_FIVE);
    (0..ROUNDS).fold(highest, |speed, _| over(speed))
}
