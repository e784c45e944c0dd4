//! What a shop's carts need in a season.

mod mapped;
mod outcome;
mod question;

use super::Is;
use super::head::Head;
use super::reason::Reason;
use super::record::Setting;
use super::sound::{filled, require, sound};
use super::spring_choice::{Judged, Renewed};
use crate::names::Part;
use serde::{Deserialize, Serialize};

pub use mapped::{Chosen, Course, Direct, Followed, MapError, Mapped, Rate, Split};
pub use outcome::{Amount, Difference, Event, FirstStop, Happened, Need, Outcome, Paired, Week, WornBefore};
pub use question::{Asked, Oiling, Policy, Prices, SPARES, ServiceDays};

/// The answer on a season. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Season {
    /// kind of document
    pub kind: Is<Season>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// the machine
    pub machine: String,
    /// its use
    pub usage: String,
    /// the oil
    pub oil: String,
    /// whether the machine's oil is one of which some stays on a lining
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// volume of a drop of it, m³
    pub drop: f64,
    /// carts, calendar, stock and prices
    pub question: Asked,
    /// what is needed by each policy, the one asked for first; none where the carts must not be ridden in the use
    pub policies: Vec<Outcome>,
    /// differences of the other policies from the first, on the same sampled seasons
    pub pairs: Vec<Paired>,
    /// number of sampled seasons; 0 where the carts must not be ridden in the use
    pub samples: u64,
    /// assumed constants: how much of each is common to all carts
    pub split: Vec<Split>,
    /// the map from constants and temperature to rates, and its checked errors
    pub map: Mapped,
    /// what is against the use with the machine's springs in the warmest month
    #[serde(default)]
    pub against: Vec<Reason>,
    /// a whole new set in that month where something is against the use and the machine's springs are weaker than such a set
    pub renewed: Option<Renewed>,
    /// in place of springs that something is against, the softest that stays clear of the highest idle, judged as for a choice; none if
    /// no speed is clear, or where a new set of the same is the remedy
    pub sought: Option<Judged>,
    /// sampled carts whose clutch engages within 100 rpm of the idle, as a share: their rates are less sure
    pub near_idle: f64,
    /// parts that most carts would have worn out before the season
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub worn_before: Vec<WornBefore>,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

impl Season {
    /// Whether the carts may be ridden in the use.
    pub fn may_ride(&self) -> bool {
        !self.against.iter().any(Reason::forbids)
    }

    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        if self.may_ride() {
            filled(&self.policies, "policies")?;
        }
        let carts = (1..=crate::spread::MOST_CLUTCHES).contains(&self.question.carts);
        require(carts, "question.carts", "it is no number of carts")?;
        for outcome in &self.policies {
            filled(&outcome.weeks, "policies.weeks")?;
            let parts: Vec<Part> = outcome.needs.iter().map(|need| need.part).collect();
            require(parts == SPARES, "policies.needs", "it does not hold the spare parts in their order")?;
            let inside = |event: &Event| {
                (1..=self.question.carts).contains(&event.cart)
                    && (self.question.first..=self.question.last).contains(&event.date)
            };
            require(outcome.events.iter().all(inside), "policies.events", "an event is outside of the season")?;
            sound(outcome.weeks.iter().flat_map(|week| [week.down, week.worst, week.renewed]), "policies.weeks")?;
            let cost = outcome.cost.iter().flat_map(|cost| [cost.mean, cost.nine_tenths]);
            let counts = [
                outcome.down.mean,
                outcome.oil,
                outcome.oiled,
                outcome.lacked,
                outcome.lacked_most,
                outcome.due,
                outcome.grabbed,
            ];
            sound(cost.chain(counts), "policies")?;
        }
        let others = self.pairs.iter().all(|pair| (pair.other as usize) < self.policies.len());
        require(others, "pairs", "it names a policy that does not exist")?;
        let span = self.question.last.0 - self.question.first.0;
        require((0..=4000).contains(&span), "question", "its dates are no season")?;
        for followed in &self.map.followed {
            for course in [Some(&followed.map), followed.simulated.as_ref()].into_iter().flatten() {
                require(course.demands.len() == SPARES.len(), "map.followed", "it does not count every spare part")?;
            }
        }
        sound(self.worn_before.iter().flat_map(|one| [one.used, one.life, one.share]), "worn_before")?;
        sound([self.question.hours, self.drop, self.near_idle], "question")
    }
}
