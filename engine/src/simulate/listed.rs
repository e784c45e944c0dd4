//! The events of a run that its record lists.

use crate::names::Happening;
use crate::record::Event;

/// What is left out where there are too many events to list, in this order: a ride can be told without what comes first.
const FINE: [Happening; 11] = [
    Happening::Adjusted,
    Happening::ReachesSpeed,
    Happening::MotorStops,
    Happening::RollsBack,
    Happening::Meets,
    Happening::Unlocks,
    Happening::Engages,
    Happening::Releases,
    Happening::Locks,
    Happening::SetsOff,
    Happening::Stops,
];

/// At most so many of these events: whole kinds are left out, the fine ones first, then the latest.
pub fn listed(mut events: Vec<Event>, most: usize) -> Vec<Event> {
    for kind in FINE {
        if events.len() > most {
            events.retain(|event| event.what != kind);
        }
    }
    events.truncate(most);
    events
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whole_kinds_are_left_out_and_services_stay() {
        use Happening::{Adjusted, Locks, Oiled, SetsOff, Stops};
        let kinds = [SetsOff, Adjusted, Locks, Stops, Oiled];
        let noted: Vec<Event> = (0..50).map(|k| Event { time: f64::from(k), what: kinds[k as usize % 5] }).collect();
        let kinds_of = |most| {
            let kept = listed(noted.clone(), most);
            let of = |what: Happening| kept.iter().filter(|event| event.what == what).count();
            kinds.map(of)
        };
        assert_eq!(kinds_of(50), [10; 5]);
        assert_eq!(kinds_of(49), [10, 0, 10, 10, 10]);
        assert_eq!(kinds_of(30), [10, 0, 0, 10, 10]);
        assert_eq!(kinds_of(5), [0, 0, 0, 0, 5]);
    }
}
