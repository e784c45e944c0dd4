//! What foretold pieces may miss: what their response says of what it does not know, times a factor that pieces teach which were foretold
//! and simulated after all. Checks at the ends of stretches do not see it: the first hire of a morning says little of those at noon.

use super::super::response::Foretold;

/// Weight of what was learned before, at each piece that is learned.
const FADES: f64 = 0.8;

/// Safety factor, as of what jumps do not know.
const MARGIN: f64 = 3.0;

/// Misses of foretold pieces that were simulated, and what was foretold of the misses, of each quantity.
#[derive(Clone, Debug, Default)]
pub(super) struct Doubt {
    missed: Vec<f64>,
    unseen: Vec<f64>,
}

impl Doubt {
    /// Learns from a piece that was foretold and then simulated, with these changes.
    pub fn learn(&mut self, told: &Foretold, change: &[f64]) {
        for sum in [&mut self.missed, &mut self.unseen] {
            sum.resize(change.len(), 0.0);
            for sum in sum.iter_mut() {
                *sum *= FADES;
            }
        }
        let misses = told.change.iter().zip(change).map(|(told, change)| (told - change).abs());
        self.missed.iter_mut().zip(misses).for_each(|(sum, miss)| *sum += miss);
        self.unseen.iter_mut().zip(&told.unseen).for_each(|(sum, unseen)| *sum += unseen);
    }

    /// What a foretold piece may miss of a quantity: at least what its response says, times the safety factor.
    pub fn of(&self, told: &Foretold, quantity: usize) -> f64 {
        let learned = self.missed.get(quantity).zip(self.unseen.get(quantity));
        let factor = learned.filter(|(_, unseen)| **unseen > 0.0).map_or(1.0, |(missed, unseen)| missed / unseen);
        MARGIN * factor.max(1.0) * told.unseen[quantity]
    }
}
