//! Fleets: the outcome of each clutch, and of all together.

use super::Is;
use super::failed::Failed;
use super::fault::{Fault, grabs};
pub use super::gain::{Direction, Gain, Paired};
use super::head::Head;
use super::sound::{filled, oil_apart, require, sound};
use crate::names::{Part, Quantile};
use crate::spread::Uncertain;
use crate::statistics::{Bounds, Fit, Weibull};
use serde::{Deserialize, Serialize};

/// Outcome of one clutch, in a few hundred bytes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    /// its number, from 0
    pub clutch: u64,
    /// time at which the first part was worn out or charred, s, oil excluded; none if none was within the horizon
    pub end: Option<f64>,
    /// running time at that moment, s
    pub running: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
    /// time at which oil service was due, s; the clutch continues
    pub service_due: Option<f64>,
    /// running time at that moment, s
    pub service_running: Option<f64>,
    /// share of the simulated time during which the motor ran
    pub running_share: f64,
    /// remaining life, 1 − the largest use of a part, oil excluded, at times up to the horizon, more closely spaced at
    /// its start
    pub left: Vec<f64>,
    /// for each part, the times at which three quarters, half, a quarter and nothing of its life first remained, whole
    /// s, as far as simulated
    pub reached: Vec<Vec<f64>>,
    /// whether it dragged at idle, new or relaxed, or a shoe of it did
    pub drags: bool,
    /// peak temperature of its springs and that to which their relaxation is known, K, where they grow hotter: how near to the idle
    /// they come is unknown then, so that `drags` says only what was seen; none elsewhere
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub springs: Option<(f64, f64)>,
    /// whether its bushing held oil of which some stays on a lining, filled or put on
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// whether its duty has a descent
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub descends: bool,
    /// why it must not be used so whatever its springs and oil: it is too slow for the duty, a descent drives its motor, or its cold bushing
    /// moves it off at idle
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unfit: Option<Fault>,
    /// distance covered in an hour of running, m
    pub hourly: f64,
    /// number of launches until the end
    pub launches: u64,
    /// blocks run in full and skipped
    pub blocks: (u64, u64),
    /// temperature of its hottest part, K, where that is beyond the model: it has no life then; none elsewhere
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beyond: Option<f64>,
}

/// A time by which a share of the fleet has reached a state.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Milestone {
    /// B10, B50, B90
    pub name: Quantile,
    /// s, with distribution-free bounds; none beyond the horizon, or for too few clutches
    pub time: Bounds,
}

/// Frequency of a part as the first to fail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// the part; none for clutches that lasted to the horizon
    pub part: Option<Part>,
    /// number of clutches
    pub clutches: u64,
    /// share of the fleet, with bounds
    pub share: f64,
    /// lower bound
    pub low: f64,
    /// upper bound
    pub high: f64,
}

/// Distribution of a part's remaining life over a fleet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Wearing {
    /// the part
    pub part: Part,
    /// for three quarters, half, a quarter and nothing of its life remaining: times by which a tenth, half and nine
    /// tenths of the clutches have reached it, s; none if too many were not simulated that far
    pub times: [[Option<f64>; 3]; 4],
}

/// A fleet of one variant under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Fleet {
    /// the machine
    pub variant: String,
    /// the duty
    pub duty: String,
    /// engagement speed of its machine before any is sampled, rad/s; none in results of earlier versions
    pub engagement: Option<f64>,
    /// horizon, s
    pub horizon: f64,
    /// settings sampled for each clutch
    pub uncertain: Vec<Uncertain>,
    /// share of the time during which the motor ran, mean over the clutches
    pub running_share: f64,
    /// distance covered in an hour of running, m, mean over the clutches
    pub hourly: f64,
    /// running time to oil service; a clutch that wore out before counts as later
    pub service_running: Vec<Milestone>,
    /// the same in calendar time
    pub service: Vec<Milestone>,
    /// running time to the first worn part, oil excluded
    pub end_running: Vec<Milestone>,
    /// the same in calendar time
    pub end: Vec<Milestone>,
    /// shares of the parts that wear out first
    pub first: Vec<Share>,
    /// Weibull distribution fitted to the running times to the first worn part; none for fewer than three of them
    pub weibull: Option<Weibull>,
    /// whether that distribution may be used; none without a distribution
    pub fit: Option<Fit>,
    /// longest simulated running time of a clutch, s
    pub followed: f64,
    /// times of the curves, s
    pub times: Vec<f64>,
    /// remaining life at those times: 10th, 50th and 90th percentile of the clutches
    pub bands: Vec<[f64; 3]>,
    /// each part separately
    pub wearing: Vec<Wearing>,
    /// number of clutches in which a part grew hotter than the model reaches, and the highest temperature, K; they have no
    /// life and are left out of all else
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beyond: Option<(u64, f64)>,
    /// each clutch
    pub outcomes: Vec<Outcome>,
}

/// Share of clutches that may drag at idle in a fleet that is recommended: 19 of 20 stay clear, as for the margin of one spring.
pub const DRAGGING: f64 = 0.05;

/// Share of clutches whose bushings may grab within a season in a fleet that is recommended: a tenth, by which lives are stated.
const GRABBING: f64 = 0.1;

impl Fleet {
    /// Number of clutches that dragged at idle.
    pub fn dragging(&self) -> usize {
        self.outcomes.iter().filter(|o| o.drags).count()
    }

    /// Whether more of its clutches drag at idle than may.
    pub fn drags(&self) -> bool {
        self.dragging() as f64 > DRAGGING * self.outcomes.len() as f64
    }

    /// Number of clutches whose springs grow hotter than their relaxation is known to, the highest of those temperatures and the lowest
    /// of those limits, K; none if there are none.
    pub fn springs_unknown(&self) -> Option<(usize, f64, f64)> {
        let all = || self.outcomes.iter().filter_map(|o| o.springs);
        let peak = all().map(|one| one.0).reduce(f64::max)?;
        Some((all().count(), peak, all().map(|one| one.1).fold(f64::INFINITY, f64::min)))
    }

    /// Number of clutches that dragged at idle or may, since what their springs do there is unknown.
    pub fn may_drag(&self) -> usize {
        self.outcomes.iter().filter(|o| o.drags || o.springs.is_some()).count()
    }

    /// Whether more of its clutches may drag at idle than is recommended, because of springs of which too little is known.
    pub fn unclear(&self) -> bool {
        !self.drags() && self.may_drag() as f64 > DRAGGING * self.outcomes.len() as f64
    }

    /// Number of clutches whose bushing grabbed its shaft within a season, before its oil was due.
    pub fn grabbing(&self) -> usize {
        self.outcomes.iter().filter(|o| grabs(o.running, o.ended_by, o.service_running)).count()
    }

    /// Number of clutches whose bushing grabbed its shaft within a season, whether its oil was due or not.
    pub fn seized(&self) -> usize {
        self.outcomes.iter().filter(|o| grabs(o.running, o.ended_by, None)).count()
    }

    /// Whether more of its bushings grab so than may.
    pub fn grabs(&self) -> bool {
        self.grabbing() as f64 > GRABBING * self.outcomes.len() as f64
    }

    /// The most frequent reason, apart from springs and oil, for which more of its clutches must not be used so than may, and their
    /// number.
    pub fn unfit(&self) -> Option<(Fault, usize)> {
        let faults = Fault::OF_DUTY.into_iter();
        let counted = faults.map(|fault| (fault, self.outcomes.iter().filter(|o| o.unfit == Some(fault)).count()));
        counted
            .max_by_key(|(_, count)| *count)
            .filter(|(_, count)| *count as f64 > DRAGGING * self.outcomes.len() as f64)
    }

    /// Whether it is not recommended for what happens to too many of its clutches.
    pub fn refused(&self) -> bool {
        self.drags() || self.grabs() || self.unfit().is_some()
    }

    /// Whether any of its clutches held an oil that stays on a lining: its lives are no reason to use that oil.
    pub fn wrong_oil(&self) -> bool {
        self.outcomes.iter().any(|o| o.wrong_oil)
    }

    /// Whether all clutches are beyond the model, so that nothing is known of their lives.
    pub fn unknown(&self) -> bool {
        self.beyond.is_some() && self.outcomes.is_empty()
    }
}

/// All fleets of a study.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Report {
    /// kind of document
    pub kind: Is<Report>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// machine that the others are compared with, if the script names one
    #[serde(default)]
    pub reference: Option<String>,
    /// number of clutches of each fleet
    pub clutches: u64,
    /// one for each variant and duty, all with the same samples
    pub fleets: Vec<Fleet>,
    /// every other fleet compared with the reference or the first, clutch by clutch
    pub pairs: Vec<Paired>,
    /// clutches that could not be computed and are left out
    #[serde(default)]
    pub failed: Vec<Failed>,
}

impl Report {
    /// Whether a fleet is not recommended: for what happens to too many of its clutches, or, where there is a choice of machines, for
    /// springs of which too little is known.
    pub fn refuses(&self, fleet: &Fleet) -> bool {
        fleet.refused() || (self.of_several() && fleet.unclear())
    }

    /// Whether several machines are compared.
    pub fn of_several(&self) -> bool {
        self.fleets.windows(2).any(|pair| pair[0].variant != pair[1].variant)
    }

    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.fleets, "fleets")?;
        for fleet in &self.fleets {
            let of = |what: &str| format!("{what} of {}, {}", fleet.variant, fleet.duty);
            let unknown = fleet.unknown();
            if !unknown {
                filled(&fleet.outcomes, &of("outcomes"))?;
            }
            oil_apart(fleet.outcomes.iter().map(|o| o.ended_by), &of("outcomes.ended_by"))?;
            for (set, what) in [
                (&fleet.end, "end"),
                (&fleet.end_running, "end_running"),
                (&fleet.service, "service"),
                (&fleet.service_running, "service_running"),
            ] {
                filled(set, &of(what))?;
            }
            let times = fleet.times.len();
            require(
                unknown || (times > 1 && fleet.bands.len() == times),
                &of("bands"),
                "it has not a row for each time",
            )?;
            let left = fleet.outcomes.iter().all(|o| o.left.len() == times);
            require(left, &of("outcomes.left"), "it has not a value for each time")?;
            let curves = fleet.times.iter().copied().chain(fleet.bands.iter().flatten().copied()).chain([
                fleet.horizon,
                fleet.running_share,
                fleet.hourly,
            ]);
            sound(curves, &of("bands"))?;
            sound(
                fleet
                    .outcomes
                    .iter()
                    .flat_map(|o| {
                        [o.end, o.running, o.service_due, o.service_running, Some(o.running_share), Some(o.hourly)]
                    })
                    .flatten(),
                &of("outcomes"),
            )?;
        }
        Ok(())
    }
}
