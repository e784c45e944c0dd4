//! What a shop needs by one policy, and how policies differ.

use super::question::Policy;
use crate::calendar::Date;
use crate::names::Part;
use crate::statistics::Bounds;
use serde::{Deserialize, Serialize};

/// What the shop needs by one policy.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    /// the policy
    pub policy: Policy,
    /// needs of each spare part, in the order of `SPARES`: every part that is fitted counts, also one that is at its limit as another stops
    /// the cart
    pub needs: Vec<Need>,
    /// shares of the sampled seasons in which no part needs more than what is enough in half of the seasons, and in 9 of 10, of each
    /// part by itself
    pub together: (f64, f64),
    /// oil of all carts in a season by the rule, m³
    pub oil: f64,
    /// oilings of one cart in a season by the rule
    pub oilings: u64,
    /// oilings of one cart on average: carts that are down miss some
    pub oiled: f64,
    /// drops that a bushing lacks of a full one just before it is oiled, mean; 0 without oiling
    pub lacked: f64,
    /// the same, not exceeded before 19 of 20 oilings
    pub lacked_most: f64,
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
    /// cost of what has a price in a season, if prices are given
    pub cost: Option<Amount>,
    /// events of one sampled season, the same for every policy: that with the median number of renewals by the first
    pub events: Vec<Event>,
}

/// Needs of one part in a season, over all carts.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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

/// A kind of part that most carts would have worn out before the season, by the running that is given of it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct WornBefore {
    /// the spare part
    pub part: Part,
    /// running of it that is given, s
    pub used: f64,
    /// running after which half of the sampled carts have worn out a new one, s
    pub life: f64,
    /// share of the sampled carts that have worn it out by the running that is given
    pub share: f64,
}

/// One week.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Week {
    /// its first day
    pub start: Date,
    /// mean number of carts down, over its riding days
    pub down: f64,
    /// the same in the worst tenth of seasons
    pub worst: f64,
    /// mean number of parts renewed, those of carts that stopped on the last day in the last week
    pub renewed: f64,
}

/// An event of a season.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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

impl Outcome {
    /// Drops to put on: as many as refill 19 of 20 bushings, at least one, and no more than the rule says; none without oiling.
    pub fn dose(&self) -> Option<f64> {
        let drops = self.policy.oiling?.drops;
        // One of which less than a twentieth would go in is none.
        Some((self.lacked_most - 0.05).ceil().max(1.0).min(drops))
    }
}

impl Happened {
    /// Whether a new part was fitted.
    pub const fn fits(self) -> bool {
        matches!(self, Self::Renewed | Self::RenewedEarly)
    }

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
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Paired {
    /// index of the other policy
    pub other: u64,
    /// parts renewed: other less first
    pub parts: Difference,
    /// cart-days lost
    pub down: Difference,
    /// cost of what has a price, if prices are given
    pub cost: Option<Difference>,
}

/// A mean difference.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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
