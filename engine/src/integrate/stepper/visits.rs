//! Visits to modes: with which step they begin, and when the event that ends them is expected.

use super::Stepper;

/// First step in a mode not visited before, s: where blocks have to be alike, and else.
pub(super) const FIRST_ALIKE: f64 = 1e-3;
pub(super) const FIRST: f64 = 0.1;

/// Share of the time to an expected event by which a step reaches beyond it.
const PASSED: f64 = 0.01;

/// Memory of the last visit to a mode.
#[derive(Clone, Copy, Debug)]
pub(super) struct Visit {
    /// first step that was accepted, s
    pub first_step: f64,
    /// duration until an event ended it, s
    pub lasted: Option<f64>,
}

/// The first step of each mode, s.
#[derive(Clone, Debug)]
pub(crate) struct FirstSteps(Vec<(u64, f64)>);

/// When an event is expected to end a visit, s: where it did on the last visit.
#[derive(Clone, Copy)]
pub(super) struct Expected(f64);

impl Expected {
    pub fn at(began: f64, last: Option<Visit>) -> Self {
        Self(last.and_then(|v| v.lasted).map_or(f64::INFINITY, |lasted| began + lasted))
    }

    /// Length of a step at a time, s: as wanted, or shortly beyond the event.
    pub fn aimed(self, t: f64, wanted: f64) -> f64 {
        let past = (self.0 - t) * (1.0 + PASSED);
        if past > 0.0 && past < 1.2 * wanted { past } else { wanted }
    }
}

impl Stepper {
    /// First steps of the modes so far.
    pub(crate) fn first_steps(&self) -> FirstSteps {
        FirstSteps(self.visits.iter().map(|(mode, visit)| (*mode, visit.first_step)).collect())
    }

    /// Begins the next visits to modes with these first steps.
    pub(crate) fn begin_with(&mut self, FirstSteps(steps): &FirstSteps) {
        for (mode, first_step) in steps {
            if let Some(visit) = self.visits.get_mut(mode) {
                visit.first_step = *first_step;
            }
        }
    }
}
