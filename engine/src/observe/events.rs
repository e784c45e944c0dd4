//! Events of a run, and the selection for its record.

use crate::document::record::Event;
use crate::names::Happening;

/// Largest number of events kept.
const MOST: usize = 100_000;

/// Kinds of event dropped first if the list is too long, least informative first.
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

/// Events of a machine, in order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Events {
    kept: Vec<Event>,
    left_out: u64,
}

impl Events {
    /// Keeps one more event, if there is room.
    pub fn note(&mut self, time: f64, what: Happening) {
        if self.kept.len() < MOST {
            self.kept.push(Event { time, what });
        } else {
            self.left_out += 1;
        }
    }

    /// Events since a time, s, latest first.
    pub fn since(&self, start: f64) -> impl Iterator<Item = &Event> {
        self.kept.iter().rev().take_while(move |event| event.time >= start)
    }

    /// Whether the shoes left the drum for good within so many seconds of a time, s, without touching again since.
    pub fn left(&self, start: f64, within: f64) -> bool {
        let contact = |event: &&Event| matches!(event.what, Happening::Engages | Happening::Releases);
        let mut since = self.since(start).filter(contact);
        let last = since.next().filter(|event| event.what == Happening::Releases && event.time <= start + within);
        last.is_some() && since.next().is_none()
    }

    /// Whether the shoes touch the drum at the latest event of that kind since a time, s; none if there is none.
    pub fn touching(&self, start: f64, kind: Happening) -> Option<bool> {
        let at = self.kept.iter().rposition(|event| event.what == kind && event.time >= start)?;
        let before = self.kept[..at].iter().rev().map(|event| event.what);
        let contact = |what: &Happening| matches!(what, Happening::Engages | Happening::Releases);
        Some(before.into_iter().find(contact) == Some(Happening::Engages))
    }

    /// The first event of a kind.
    pub fn first(&self, kind: Happening) -> Option<&Event> {
        self.kept.iter().find(|event| event.what == kind)
    }

    /// At most `most` events, and the number left out.
    pub fn list(self, most: usize) -> (Vec<Event>, u64) {
        let all = self.kept.len() as u64 + self.left_out;
        let events = listed(self.kept, most);
        let left_out = all - events.len() as u64;
        (events, left_out)
    }
}

/// At most `most` of these events: whole kinds are left out, those of FINE first; then the latest.
fn listed(mut events: Vec<Event>, most: usize) -> Vec<Event> {
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
