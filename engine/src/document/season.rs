//! What a shop's carts need in a season.

use super::Is;
use super::head::Head;
use super::reason::Reason;
use super::record::Setting;
use super::sound::{filled, require, sound};
use crate::calendar::Date;
use crate::names::Part;
use crate::spread::Spread;
use crate::statistics::Bounds;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Parts that a shop keeps, in the order of documents.
pub const SPARES: [Part; 4] = [Part::Washer, Part::Lining, Part::Bushing, Part::Spring];

/// The answer on a season. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
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
    /// volume of a drop of it, m³
    pub drop: f64,
    /// carts, calendar, stock and prices
    pub question: Asked,
    /// what is needed by each policy, the one asked for first
    pub policies: Vec<Outcome>,
    /// differences of the other policies from the first, on the same sampled seasons
    pub pairs: Vec<Paired>,
    /// number of sampled seasons
    pub samples: u64,
    /// assumed constants: how much of each is common to all carts
    pub split: Vec<Split>,
    /// the map from constants and temperature to rates, and its checked errors
    pub map: Mapped,
    /// what is against the use with the machine's springs in the warmest month; empty if it may be ridden so
    #[serde(default)]
    pub against: Vec<Reason>,
    /// sampled carts whose clutch engages within 100 rpm of the idle, as a share: their rates are less sure
    pub near_idle: f64,
    /// the settings of the machine
    pub settings: Vec<Setting>,
}

/// The question.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// number of carts
    pub carts: u64,
    /// first day
    pub first: Date,
    /// last day
    pub last: Date,
    /// whether carts ride on each weekday, Monday first
    pub weekdays: [bool; 7],
    /// running on a riding day, s
    pub hours: f64,
    /// number of riding days
    pub days: u64,
    /// months (1 to 12) of the season and their mean temperatures, K
    pub temperatures: Vec<(u64, f64)>,
    /// running of each spare part's kind at the start, s
    pub used: Vec<(Part, f64)>,
    /// parts in stock; a part that is not listed is always in stock
    pub stock: Vec<(Part, u64)>,
    /// days until a reordered part is there; none if nothing is reordered
    pub lead: Option<u64>,
    /// prices; none if none were given
    pub prices: Option<Prices>,
}

/// Prices, in one currency.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// of parts
    pub parts: Vec<(Part, f64)>,
    /// of the work on one cart to renew parts
    pub visit: f64,
    /// of oiling one cart, work included
    pub oiling: f64,
    /// of a cart that cannot be let for a day
    pub day_down: f64,
}

/// How carts are serviced.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Policy {
    /// oiling; none if never
    pub oiling: Option<Oiling>,
    /// share of use from which a part is renewed on a service day; none: only at its limit
    pub preventive: Option<f64>,
}

/// A rule of oiling.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Oiling {
    /// drops for each cart
    pub drops: f64,
    /// days of service
    pub on: ServiceDays,
    /// whether before opening, with a ride soon after; else after closing, with a night's rest
    pub before_opening: bool,
}

/// Days of service; closed days too.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum ServiceDays {
    /// every so many days, the first after as many
    Every(u64),
    /// on a weekday, 0 for Monday
    Weekday(u64),
}

/// What the shop needs by one policy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    /// the policy
    pub policy: Policy,
    /// needs of each spare part, in the order of `SPARES`
    pub needs: Vec<Need>,
    /// oil put on in a season, m³
    pub oil: f64,
    /// oilings of one cart in a season
    pub oilings: u64,
    /// cart-days lost
    pub down: Amount,
    /// carts whose oil was at its service level at some time, mean of a season
    pub due: f64,
    /// bushings that grabbed their shafts, mean of a season
    pub grabbed: f64,
    /// the first cart that stops, counted in days from the start of the season; by none of the bounds: none stops in so many
    /// seasons
    pub first_stop: FirstStop,
    /// by week
    pub weeks: Vec<Week>,
    /// cost of a season, if prices are given
    pub cost: Option<Amount>,
    /// events of the sampled season with the median number of renewals
    pub events: Vec<Event>,
}

/// Needs of one part in a season, over all carts.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Need {
    /// the part
    pub part: Part,
    /// mean
    pub mean: f64,
    /// standard error of the mean
    pub error: f64,
    /// number that is enough in half of the seasons
    pub half: u64,
    /// number that is enough in 9 of 10 seasons, with 90 % confidence limits
    pub nine_tenths: u64,
    /// lower confidence limit of that number
    pub low: u64,
    /// upper confidence limit of that number
    pub high: u64,
    /// number that is enough in 19 of 20 seasons
    pub most: u64,
    /// smallest stock with which no cart waits all season in 9 of 10 seasons, reordered parts arriving after the lead time
    pub stock: u64,
    /// share of demands met at once with that stock
    pub met_at_once: f64,
    /// share of the variance of the need that is common to all carts of a shop
    pub common: f64,
}

/// A mean with its error and its 90 % quantile.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Amount {
    /// mean
    pub mean: f64,
    /// standard error of the mean
    pub error: f64,
    /// not exceeded in 9 of 10 seasons
    pub nine_tenths: f64,
}

/// The day on which the first cart stops, from the start of the season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FirstStop {
    /// share of the seasons in which a cart stops
    pub share: f64,
    /// earliest tenth, days
    pub tenth: Bounds,
    /// median, days
    pub half: Bounds,
    /// part at its limit most often
    pub part: Option<Part>,
}

/// One week.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Week {
    /// its first day
    pub start: Date,
    /// mean number of carts down, over its riding days
    pub down: f64,
    /// the same in the worst tenth of seasons
    pub worst: f64,
    /// mean number of parts renewed
    pub renewed: f64,
}

/// An event of a season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Event {
    /// number of the cart, from 1
    pub cart: u64,
    /// day
    pub date: Date,
    /// what happened
    pub what: Happened,
    /// the part; none for oil
    pub part: Option<Part>,
    /// use of the part, 1 at its limit
    pub used: f64,
}

/// What happened to a cart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Happened {
    /// a part was at its limit, and the cart stopped
    Stopped,
    /// renewed after it had stopped
    Renewed,
    /// renewed on a service day, before its limit
    RenewedEarly,
    /// oiled
    Oiled,
    /// its oil was at the service level
    OilDue,
}

impl Happened {
    /// Its name in tables.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Stopped => "stopped",
            Self::Renewed => "renewed",
            Self::RenewedEarly => "renewed early",
            Self::Oiled => "oiled",
            Self::OilDue => "service due",
        }
    }
}

/// Difference of a policy from the first, on the same sampled seasons.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Paired {
    /// index of the other policy
    pub other: u64,
    /// parts renewed: other less first
    pub parts: Difference,
    /// cart-days lost
    pub down: Difference,
    /// cost, if prices are given
    pub cost: Option<Difference>,
}

/// A mean difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Difference {
    /// mean
    pub mean: f64,
    /// standard error of the mean
    pub error: f64,
    /// share of seasons in which the first policy has less
    pub first_less: f64,
    /// share of seasons in which the other has less
    pub other_less: f64,
}

/// How much of an assumed constant is common to all carts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Split {
    /// dotted path of the setting
    pub path: String,
    /// its spread
    pub spread: Spread,
    /// share of its variance that is common to all carts of a shop
    pub common: f64,
}

/// The map from constants and temperature to rates.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Mapped {
    /// days simulated to make it
    pub runs: u64,
    /// days that could not be simulated
    pub failed: u64,
    /// errors on days held back
    pub errors: Vec<MapError>,
    /// carts followed directly
    pub direct: Vec<Direct>,
}

/// Relative error of one rate on days held back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MapError {
    /// the rate
    pub rate: Rate,
    /// median
    pub median: f64,
    /// not exceeded on 19 of 20 days
    pub most: f64,
}

/// A rate that the map gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Rate {
    /// wear of the lining
    Lining,
    /// wear of the bushing's bore, in all
    Bore,
    /// wear of the washer
    Washer,
    /// loss of oil, in all
    Oil,
    /// ageing of the oil
    Oxidation,
    /// charring of the washer
    Charring,
    /// ageing of the washer
    Ageing,
    /// relaxation of the springs
    Relaxation,
    /// rise of the bushing's temperature
    Warming,
}

/// A cart simulated day by day beside the map: use by the map over that of the simulation.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Direct {
    /// number of the cart
    pub cart: u64,
    /// riding days
    pub days: u64,
    /// wear of the lining
    pub lining: f64,
    /// wear of the bore
    pub bore: f64,
    /// wear of the washer
    pub washer: f64,
    /// difference of the oil fill at the end: map less simulation
    pub fill: f64,
}

impl Season {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.policies, "policies")?;
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
            sound(cost.chain([outcome.down.mean, outcome.oil, outcome.due, outcome.grabbed]), "policies")?;
        }
        let others = self.pairs.iter().all(|pair| (pair.other as usize) < self.policies.len());
        require(others, "pairs", "it names a policy that does not exist")?;
        let span = self.question.last.0 - self.question.first.0;
        require((0..=4000).contains(&span), "question", "its dates are no season")?;
        sound([self.question.hours, self.drop, self.near_idle], "question")
    }
}
