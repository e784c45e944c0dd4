//! The question on a season.

use super::day::Day;
use super::workshop::Stock;
use crate::calendar::Date;
use crate::document::calibration::Learned;
use crate::document::season::{Policy, Prices, SPARES};
use crate::names::Part;
use crate::parts::Machine;
use crate::usage::Usage;

/// Days that are longer than any season.
const NEVER: u64 = 1_000_000;

/// A question on a season.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine with its oil
    pub machine: Machine,
    /// its use
    pub usage: Usage,
    /// idle variation to either side, from cart to cart, rad/s
    pub wander: f64,
    /// number of carts
    pub carts: u64,
    /// first and last day
    pub dates: (Date, Date),
    /// whether carts ride on each weekday, Monday first
    pub weekdays: [bool; 7],
    /// running on a riding day, s
    pub hours: f64,
    /// months of the season and their mean temperatures, K
    pub temperatures: Vec<(u64, f64)>,
    /// policies to compare, the one asked for first
    pub policies: Vec<Policy>,
    /// running of each spare part's kind at the start, s
    pub used: Vec<(Part, f64)>,
    /// parts in stock; a part that is not listed is always in stock
    pub stock: Vec<(Part, u64)>,
    /// days until a reordered part is there; none if nothing is reordered
    pub lead: Option<u64>,
    /// prices
    pub prices: Option<Prices>,
    /// constants that a calibration learned, which the machine has already
    pub learned: Vec<Learned>,
    /// whether carts of a season in the middle are simulated through beside the map
    pub direct: bool,
    /// number of seasons to sample
    pub samples: u64,
    /// number of clutches simulated for the map
    pub clutches: u64,
    /// seed of the samples
    pub seed: u64,
}

impl Wish {
    /// The days of the season.
    pub fn days(&self) -> Vec<Day> {
        let one = |number: i64| {
            let date = Date(number);
            let month = date.month() as u64;
            let mean = self.temperatures.iter().find(|known| known.0 == month);
            let temperature = mean.or(self.temperatures.first()).map_or(self.machine.surroundings.ambient, |m| m.1);
            Day { date, open: self.weekdays[date.weekday()], hours: self.hours, temperature }
        };
        (self.dates.0.0..=self.dates.1.0).map(one).collect()
    }

    /// The machine in the warmest month.
    pub(super) fn hottest(&self) -> Machine {
        let mut machine = self.machine.clone();
        let warmest = self.temperatures.iter().map(|month| month.1).reduce(f64::max);
        machine.surroundings.ambient = warmest.unwrap_or(machine.surroundings.ambient);
        machine
    }

    /// Its stock as the workshop takes it.
    pub(super) fn shelf(&self) -> Stock {
        let of = |part: Part| self.stock.iter().find(|known| known.0 == part).map(|known| known.1);
        Stock { parts: SPARES.map(of), lead: self.lead.unwrap_or(NEVER) }
    }
}
