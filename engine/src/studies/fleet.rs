//! Fleets: one case for many clutches, sampled over the uncertain settings.

use super::Case;
use crate::document::failed::Failed;
use crate::document::fleet::Fleet;
use crate::fleet::report;
use crate::parallel::each;

/// A fleet of this number of clutches, and the clutches that could not be computed. Clutch k is the same in a fleet of
/// any size.
///
/// A block of segments, repeated for one hour:
/// ```
/// use slipsoak_engine::duty::{End, Segment, Task};
/// use slipsoak_engine::parts::Machine;
/// use slipsoak_engine::studies::{Case, fleet};
/// use slipsoak_engine::units::{HOUR, KM_H};
/// let block = vec![
///     Segment::Ride(Task::Idle, End::After(60.0)),
///     Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 15.0 * KM_H, within: 30.0 }),
///     Segment::Ride(Task::Brake(1.5), End::Still { within: 30.0 }),
/// ];
/// let (fleet, failed) = fleet(&Case::new(Machine::default(), "stop and go", block, HOUR), 4, 1);
/// assert!(failed.is_empty());
/// assert_eq!(fleet.outcomes.len(), 4);
/// ```
pub fn fleet(case: &Case, clutches: u64, seed: u64) -> (Fleet, Vec<Failed>) {
    let runs = each(clutches as usize, |clutch| case.clutch(seed, clutch as u64));
    let (mut outcomes, mut failed) = (vec![], vec![]);
    for (item, run) in (0..).zip(runs) {
        match run {
            Ok(outcome) => outcomes.push(outcome),
            Err(e) => failed.push(Failed { item, what: format!("clutch {item}"), why: e.to_string() }),
        }
    }
    let found = report(&case.machine.name, &case.duty, case.until, &case.uncertain, outcomes);
    (Fleet { engagement: Some(case.machine.clutch.engagement), ..found }, failed)
}
