//! What to measure for a decision.

use super::Is;
use super::head::Head;
use super::reason::Reason;
use super::record::Setting;
use super::sound::{filled, require, sound};
use super::spring_choice::{Judged, Renewed};
use crate::names::{Decision, Method};
use serde::{Deserialize, Serialize};

/// Standard errors that a gain has to exceed to count: of some ten measurements the luckiest is not to be recommended.
pub const SURE: f64 = 3.0;
/// Share of its deviation to which a measurement has to bring an answer to be worth doing for its range.
const NARROWER: f64 = 0.95;

/// The answer on what to measure. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct MeasurePlan {
    /// kind of document
    pub kind: Is<MeasurePlan>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// its use
    pub usage: String,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// the decision
    pub decision: Decision,
    /// idle variation to either side, rad/s
    #[serde(default = "crate::laws::margin::usual")]
    pub wander: f64,
    /// the shop whose season it is, if parts are stocked for one
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub season: Option<Stocked>,
    /// whether the machine's oil is one of which some stays on a lining
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// what is against the use with the machine's springs, or with each of those to choose from
    #[serde(default)]
    pub against: Vec<Reason>,
    /// a whole new set where something is against the use and the machine's springs are weaker than such a set
    pub renewed: Option<Renewed>,
    /// in place of springs that something is against, the softest that stays clear of the highest idle, judged as for a choice; none if
    /// no speed is clear, or where a new set of the same is the remedy
    pub sought: Option<Judged>,
    /// what may be done: springs by name, or intervals, s
    pub actions: Vec<Action>,
    /// index of the action that is best while nothing is measured
    pub now: u64,
    /// running time or number of parts that is uncertain, as known beforehand; zeros where nothing was sampled
    pub prior: Prior,
    /// where oiling is decided: riding until oil service is due, s, with the greatest end leakage and the shortest life of the oil in
    /// heat that are possible, and with the least and the longest, as in an oiling plan; none beyond ten years of outings
    pub due: Option<[Option<f64>; 2]>,
    /// number of clutches sampled over what is assumed; 0 where the machine must not be ridden so
    pub samples: u64,
    /// number of them that could not be computed
    pub failed: u64,
    /// loss that would be saved if all were known, in the loss of the decision
    pub perfect: f64,
    /// longest riding between two readings, s, so that 19 of 20 clutches are above their service level by then, and one with the greatest
    /// end leakage and the shortest life of the oil in heat too; none if there is no such limit
    pub safe: Option<f64>,
    /// the measurements, each with its best wait: those whose gain stands out from chance by their gain, then the others by what they
    /// narrow; none where nothing was sampled
    pub candidates: Vec<Candidate>,
    /// index of the one to make; none if none changes the decision enough, or narrows an answer that is not a choice, or if the machine
    /// must not be ridden so
    pub best: Option<u64>,
    /// index of the one that gains most per minute; none likewise
    pub quickest: Option<u64>,
    /// the two that gain most together; none if no pair gains more than the best alone
    pub pair: Option<Pair>,
    /// constants that the recommended measurement narrows most, or the first candidate if none is recommended
    pub learns: Vec<Learns>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl MeasurePlan {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        if self.may_ride() {
            filled(&self.candidates, "candidates")?;
        }
        filled(&self.actions, "actions")?;
        let known = |index: Option<u64>, all: usize| index.is_none_or(|index| index < all as u64);
        let (actions, candidates) = (self.actions.len(), self.candidates.len());
        require(known(Some(self.now), actions), "now", "there is no such action")?;
        let indices = [self.best, self.quickest].into_iter().chain(self.pair.iter().flat_map(|p| p.of.map(Some)));
        require(
            indices.into_iter().all(|i| known(i, candidates)),
            "best, quickest, pair",
            "there is no such candidate",
        )?;
        let ranges = [self.prior.low, self.prior.middle, self.prior.high, self.prior.deviation];
        sound(
            ranges.into_iter().chain(self.candidates.iter().flat_map(|c| [c.deviation, c.minutes, c.wait])),
            "prior, candidates",
        )
    }

    /// Whether the machine may be ridden in the use.
    pub fn may_ride(&self) -> bool {
        !self.against.iter().any(Reason::forbids)
    }

    /// Whether an answer of this deviation is narrower than today's by more than hardly.
    pub fn narrows(&self, deviation: f64) -> bool {
        self.prior.narrows(deviation)
    }

    /// The recommended measurement.
    pub fn recommended(&self) -> Option<&Candidate> {
        self.candidates.get(self.best? as usize)
    }
}

/// A shop that stocks parts for a season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stocked {
    /// number of its carts
    pub carts: f64,
    /// running of each in the season, s
    pub running: f64,
}

/// What may be done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Action {
    /// after every so much riding, s
    Every(f64),
    /// this spring
    Fit(String),
    /// have so many parts for the season
    Stock(u64),
}

/// A running time, s, or a number of parts that is uncertain: 5, 50 and 95 of 100 sampled clutches reach no more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Prior {
    /// 5th percentile
    pub low: f64,
    /// median
    pub middle: f64,
    /// 95th percentile
    pub high: f64,
    /// standard deviation of its logarithm
    pub deviation: f64,
    /// share of the clutches that outlast what was simulated; they count as ending there
    pub beyond: f64,
}

impl Prior {
    /// Whether an answer of this deviation is narrower by more than hardly.
    pub fn narrows(&self, deviation: f64) -> bool {
        deviation < NARROWER * self.deviation
    }
}

/// A measurement with its wait.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Candidate {
    /// what is measured
    pub method: Method,
    /// riding between the first and the second reading, s; 0 if it is read once
    pub wait: f64,
    /// work that it takes, min
    pub minutes: f64,
    /// expected standard deviation of the logarithm of the running time or number, afterwards
    pub deviation: f64,
    /// the same by slopes at the nominal machine, exact if all were linear
    pub by_slope: f64,
    /// information on all constants by slopes, bits
    pub bits: f64,
    /// probability that another action is taken; 0 where the gain by it does not stand out from chance
    pub change: f64,
    /// expected loss saved, in the loss of the decision
    pub gain: f64,
    /// its standard error
    pub error: f64,
}

impl Candidate {
    /// Whether its gain stands out from chance.
    pub fn is_sure(&self) -> bool {
        self.gain > SURE * self.error
    }
}

/// Two measurements together.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Pair {
    /// indices of the candidates
    pub of: [u64; 2],
    /// expected standard deviation of the logarithm of the running time or number, afterwards
    pub deviation: f64,
    /// probability that another action is taken
    pub change: f64,
    /// expected loss saved
    pub gain: f64,
    /// its standard error
    pub error: f64,
}

/// A constant that a measurement narrows, by slopes at the nominal machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Learns {
    /// setting
    pub path: String,
    /// share of its standard deviation that is left
    pub left: f64,
}
