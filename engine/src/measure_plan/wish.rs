//! The question on what to measure.

use crate::laws::margin::VARIATION;
use crate::names::Decision;
use crate::parts::{Machine, settings};
use crate::spread::{Known, Spread, Uncertain, assumed};
use crate::spring_choice::Spring;
use crate::units::HOUR;
use crate::usage::Usage;

/// Carts of a shop, and running of each in a season, s, unless said otherwise.
const CARTS: f64 = 12.0;
const SEASON: f64 = 500.0 * HOUR;

/// A question on what to measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine
    pub machine: Machine,
    /// what is not known of it: constants assumed, or what a calibration leaves of them; its idle by [`Self::vary`]
    pub uncertain: Vec<Uncertain>,
    /// what a calibration left open of the constants that it learned, which the machine has already: for the range of the oil's service
    pub known: Vec<Known>,
    /// idle variation to either side, rad/s
    pub wander: f64,
    /// its use, in which it is measured
    pub usage: Usage,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// the decision
    pub decision: Decision,
    /// carts of a shop that stocks parts for a season
    pub carts: f64,
    /// running of each in a season, s
    pub season: f64,
    /// springs to choose from
    pub springs: Vec<Spring>,
    /// number of clutches to sample
    pub samples: u64,
    /// seed of the samples
    pub seed: u64,
}

impl Wish {
    /// Default question: outings of 40 min, one a day, 96 samples.
    pub fn new(machine: Machine, usage: Usage, decision: Decision) -> Self {
        let (riding, day) = (2400.0, 86400.0);
        let uncertain = assumed(&machine).map(|(p, spread)| Uncertain::alone(p.path, *spread)).collect();
        Self {
            machine,
            uncertain,
            known: vec![],
            wander: VARIATION,
            usage,
            riding,
            rest: day - riding,
            decision,
            carts: CARTS,
            season: SEASON,
            springs: vec![],
            samples: 96,
            seed: 1,
        }
    }

    /// Lets the idle vary by so much to either side, rad/s.
    pub fn vary(&mut self, wander: f64) {
        self.wander = wander;
        for own in self.uncertain.iter_mut().filter(|own| own.path == settings::motor::idle.path) {
            own.spread = Spread::Uniform(wander);
        }
    }
}
