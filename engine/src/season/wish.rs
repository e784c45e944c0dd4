//! The question on a season.

use super::day::Day;
use super::workshop::Stock;
use crate::calendar::Date;
use crate::document::calibration::Learned;
use crate::document::season::{Policy, Prices, SPARES};
use crate::laws::margin::VARIATION;
use crate::names::Part;
use crate::parts::Machine;
use crate::units::HOUR;
use crate::usage::Usage;

/// Running on a riding day, s; carts; sampled seasons; and clutches simulated for the map, if nothing else is asked.
const HOURS: f64 = 6.0 * HOUR;
const CARTS: u64 = 12;
const SAMPLES: u64 = 200;
const CLUTCHES: u64 = 400;

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
    /// Twelve carts with new parts, ridden six hours every day between two dates at their own ambient temperature, with every spare
    /// part at hand and none of them priced.
    pub fn new(machine: Machine, usage: Usage, dates: (Date, Date), policies: Vec<Policy>) -> Self {
        Self {
            temperatures: vec![(dates.0.month() as u64, machine.surroundings.ambient)],
            machine,
            usage,
            wander: VARIATION,
            carts: CARTS,
            dates,
            weekdays: [true; 7],
            hours: HOURS,
            policies,
            used: vec![],
            stock: vec![],
            lead: None,
            prices: None,
            learned: vec![],
            direct: false,
            samples: SAMPLES,
            clutches: CLUTCHES,
            seed: 1,
        }
    }

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
