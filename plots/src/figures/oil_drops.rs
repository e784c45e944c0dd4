//! Where the oil of a run ends, counted in drops or parts of one, so that the dots of its destinations add up.

use crate::figures::reading::booked;
use crate::sheet::prelude::*;
use crate::words::dose::GROUND;
use slipsoak_engine::names::{Channel, Entry, Supply};
use slipsoak_engine::parts::settings::oiling;
use slipsoak_engine::record::Run;

/// Density of motor oil, kg/m³: within 3 % of every usual grade (from memory), far finer than a dot.
const DENSITY: f64 = 880.0;
/// Largest number of dots in a row, before each stands for more oil.
const MOST: f64 = 120.0;
/// Least oil that a dot may stand for, drops.
const LEAST: f64 = 0.1;

/// A place where oil ends: its name, its colour, its entries at the end, and those at the start.
pub struct Ending {
    pub name: &'static str,
    pub hue: usize,
    ends: &'static [Entry],
    starts: &'static [Entry],
}

/// Number of places, and of the first of them, in which oil serves bushing and washer.
pub const PLACES: usize = 7;
const KEPT: usize = 3;

/// Every place, in the order of columns. Oil that stands in the clearance is the bushing's, and the first to be lost.
pub const ENDINGS: [Ending; PLACES] = [
    Ending {
        name: "pores",
        hue: hues::BUSHING,
        ends: &[Entry::InPores, Entry::InGrease],
        starts: &[Entry::InPoresAtTheStart],
    },
    Ending { name: "film", hue: hues::OIL, ends: &[Entry::InFilm], starts: &[Entry::InFilmAtTheStart] },
    Ending { name: "washer", hue: hues::WASHER, ends: &[Entry::InWasher], starts: &[Entry::InWasherAtTheStart] },
    Ending { name: "lining", hue: hues::LINING, ends: &[Entry::OnLining], starts: &[] },
    Ending { name: "ground", hue: hues::MOTOR, ends: &GROUND, starts: &[] },
    Ending { name: "air", hue: hues::OUTSIDE, ends: &[Entry::Evaporated], starts: &[] },
    Ending { name: "old parts", hue: hues::SHOES, ends: &[Entry::RemovedWithParts], starts: &[Entry::InNewParts] },
];

/// The oil of a run from its first oiling on, kg: what was lost before is nothing of what was put on.
pub struct Oil {
    pub put_on: f64,
    /// gained at each place of [`ENDINGS`]; below zero it was given up
    pub gained: [f64; PLACES],
    /// number of drops put on
    pub drops: f64,
    /// the most that was on the lining at once
    pub most_on_lining: f64,
    /// share of the lining's grip lost to it: at worst, and at the end
    pub grip_lost: Option<[f64; 2]>,
}

impl Oil {
    pub fn of(run: &Run) -> Self {
        let ledger = run.oil_ledger();
        let sum = |entries: &[Entry]| entries.iter().map(|entry| booked(ledger, *entry)).sum::<f64>();
        let most = Channel::OilOnLining.of(&run.overall.most);
        let most_on_lining = if most.is_finite() { most.max(0.0) } else { 0.0 };
        Self {
            put_on: booked(ledger, Entry::PutOn).max(0.0),
            gained: ENDINGS.map(|ending| sum(ending.ends) - sum(ending.starts)),
            drops: run.supplies.get(&Supply::Drops).copied().unwrap_or(0.0),
            most_on_lining,
            grip_lost: run.grip.map(|left| left.map(|share| (1.0 - share).clamp(0.0, 1.0))),
        }
    }

    /// Oil that went anywhere, kg.
    pub fn moved(&self) -> f64 {
        self.gained.iter().map(|kg| kg.max(0.0)).sum()
    }

    /// Oil that places gave up, kg.
    pub fn given_up(&self) -> f64 {
        self.gained.iter().map(|kg| (-kg).max(0.0)).sum()
    }

    /// Share of the oil put on that bushing and washer gained; none if none was put on.
    pub fn kept(&self) -> Option<f64> {
        (self.put_on > 0.0).then(|| (self.gained[..KEPT].iter().sum::<f64>() / self.put_on).clamp(0.0, 1.0))
    }

    /// Dots at each place, of so much oil each, kg: they add up to all that went anywhere, by the largest remainders.
    pub fn dots(&self, each: f64) -> [usize; PLACES] {
        let whole = (self.moved() / each).round() as usize;
        apportioned(self.gained.map(|kg| kg.max(0.0) / each), whole)
    }
}

/// Whole numbers that add up to a total, nearest to these amounts by the largest remainders.
fn apportioned<const N: usize>(amounts: [f64; N], total: usize) -> [usize; N] {
    let mut counts = amounts.map(|amount| amount.floor() as usize);
    let mut order: Vec<usize> = (0..amounts.len()).collect();
    order.sort_by(|a, b| amounts[*b].fract().total_cmp(&amounts[*a].fract()));
    let missing = total.saturating_sub(counts.iter().sum());
    order.into_iter().take(missing).for_each(|k| counts[k] += 1);
    counts
}

/// Mass of a drop: as put on, else by the volume of a drop, kg.
pub fn drop_mass(run: &Run, oil: &Oil) -> Option<f64> {
    if oil.drops > 0.0 && oil.put_on > 0.0 {
        return Some(oil.put_on / oil.drops);
    }
    usual_drop(run)
}

/// Mass of a drop by its volume, kg.
pub fn usual_drop(run: &Run) -> Option<f64> {
    run.setting(&oiling::drop).map(|volume| DENSITY * volume).filter(|kg| *kg > 0.0)
}

/// Drops that a dot stands for: a tenth, or as many tenfold as keep every row short.
pub fn unit(most: f64) -> f64 {
    let tenfold = (most / MOST / LEAST).max(1.0).log10().ceil();
    LEAST * 10f64.powf(tenfold)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dots_add_up_and_none_is_farther_than_one_from_its_amount() {
        for amounts in [[0.4, 0.4, 0.4, 0.4, 0.4, 0.0], [3.3, 2.6, 0.1, 90.0, 0.0, 0.0], [0.0; 6]] {
            let total = amounts.iter().sum::<f64>().round() as usize;
            let counts = apportioned(amounts, total);
            assert_eq!(counts.iter().sum::<usize>(), total, "{amounts:?}");
            assert!(counts.iter().zip(amounts).all(|(n, amount)| (*n as f64 - amount).abs() < 1.0), "{counts:?}");
        }
    }

    #[test]
    fn a_dot_is_a_tenth_of_a_drop_until_a_row_is_too_long() {
        for (most, each) in [(0.0, 0.1), (9.0, 0.1), (12.1, 1.0), (1951.0, 100.0)] {
            assert!((unit(most) - each).abs() < 1e-9, "{most}: {}", unit(most));
        }
    }
}
