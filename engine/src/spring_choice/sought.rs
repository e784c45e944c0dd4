//! The spring to look for where every spring of a stock engages too near to the idle.

use super::judge::{Spring, judge};
use super::wish::Wish;
use crate::document::spring_choice::{Choice, Judged};
use crate::simulate::Failure;
use crate::units::RPM;

/// Step in which engagement speeds are named, rad/s.
const STEP: f64 = 10.0 * RPM;
/// Most springs that are simulated: a drag heats and relaxes springs, so one that is judged by a dragging spring may be
/// stiffer than is needed.
const TRIALS: usize = 3;

/// The softest spring that stays clear of the highest idle, judged as those of the stock are: it says whether a stiffer
/// spring is the remedy or the use is too hard for any. None if a spring fits, if the nearest does not fit for other reasons,
/// or if no speed is clear.
pub fn sought(wish: &Wish, choice: &Choice) -> Result<Option<Judged>, Failure> {
    let highest = choice.idle + choice.wander;
    let least = choice.least_unsuitable.as_ref().and_then(|name| choice.spring(name));
    let Some(least) = least.filter(|spring| spring.is_near()) else { return Ok(None) };
    let mut clear: Option<Judged> = None;
    let mut from = least.clear_from(highest);
    for _ in 0..TRIALS {
        let Some(engagement) = from.map(|speed| (speed / STEP).ceil() * STEP) else { break };
        if clear.as_ref().is_some_and(|known| engagement >= known.engagement) {
            break;
        }
        let tried = judge(wish, &Spring { name: "sought".to_owned(), engagement, rate: None })?;
        from = tried.clear_from(highest);
        if !tried.is_near() {
            clear = Some(tried);
        }
    }
    Ok(clear)
}
