//! Fleets: what became of each clutch, and of all together.

use super::failed::{Failed, left_out};
use super::head::Head;
use super::kind::{Document, Is, Kind};
use super::sound::{filled, oil_apart, require, sound};
use crate::names::Part;
use crate::spread::Uncertain;
use crate::statistics::{Bounds, Weibull};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What became of one clutch, in a few hundred bytes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Outcome {
    /// its number, from 0
    pub clutch: u64,
    /// when its first part was worn out or charred, s, the oil set apart; none if none was within the horizon
    pub end: Option<f64>,
    /// for how long its motor had run by then, s
    pub running: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
    /// when its oil was due for service, s; the clutch goes on
    pub service_due: Option<f64>,
    /// for how long its motor had run by then, s
    pub service_running: Option<f64>,
    /// share of the time followed during which its motor ran
    pub running_share: f64,
    /// remaining life, 1 − the largest use of a part, the oil set apart, at times up to the horizon, closer together at its start
    pub left: Vec<f64>,
    /// for each part when three quarters, half, a quarter and nothing of its life was left for the first time, whole s, as far
    /// as the clutch's way goes
    pub reached: Vec<Vec<f64>>,
    /// launches until then
    pub launches: u64,
    /// blocks run in full and skipped
    pub blocks: (u64, u64),
}

/// A time by which a share of the fleet is there.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Milestone {
    /// B10, B50, B90
    pub name: String,
    /// s, with bounds that assume no distribution; none beyond the horizon, or for too few clutches
    pub time: Bounds,
}

/// How often a part is the first to fail.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Share {
    /// the part; none of them lasted to the horizon
    pub part: Option<Part>,
    /// clutches
    pub clutches: u64,
    /// share of the fleet, with bounds
    pub share: f64,
    /// lower bound
    pub low: f64,
    /// upper bound
    pub high: f64,
}

impl Share {
    /// The part's name; "none" where none was worn out.
    pub fn name(&self) -> &'static str {
        self.part.map_or("none", Part::name)
    }
}

/// How a part's life runs out over a fleet.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Wearing {
    /// the part
    pub part: Part,
    /// for three quarters, half, a quarter and nothing of its life left: by when a tenth, half and nine tenths of the
    /// clutches are there, s; none where that lies beyond the ways of too many
    pub times: [[Option<f64>; 3]; 4],
}

/// A fleet of one variant under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Fleet {
    /// the machine
    pub variant: String,
    /// what it was put through
    pub duty: String,
    /// how far, s
    pub horizon: f64,
    /// what was drawn for each clutch
    pub uncertain: Vec<Uncertain>,
    /// share of the time during which the motor ran, mean over the clutches
    pub running_share: f64,
    /// hours of running to the service of the oil; a clutch that was worn out before counts as later
    pub service_running: Vec<Milestone>,
    /// the same by the calendar
    pub service: Vec<Milestone>,
    /// hours of running to the first worn part, the oil set apart
    pub end_running: Vec<Milestone>,
    /// the same by the calendar
    pub end: Vec<Milestone>,
    /// which part is first
    pub first: Vec<Share>,
    /// a Weibull distribution through the running times to the first worn part; none with fewer than three of them
    pub weibull: Option<Weibull>,
    /// whether that distribution may be used
    pub statement: String,
    /// times of the curves, s
    pub times: Vec<f64>,
    /// remaining life at those times: tenth, fiftieth and ninetieth of a hundred clutches
    pub bands: Vec<[f64; 3]>,
    /// the parts one by one
    pub wearing: Vec<Wearing>,
    /// each clutch
    pub outcomes: Vec<Outcome>,
}

/// All fleets of a study.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Report {
    /// which kind of document it is
    pub kind: Is<Report>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// the machine that the others are held against, where the script names one
    #[serde(default)]
    pub reference: Option<String>,
    /// clutches of each fleet
    pub clutches: u64,
    /// one for each variant and duty, clutch for clutch of the same draws
    pub fleets: Vec<Fleet>,
    /// every fleet but the first against the first, clutch for clutch
    pub pairs: Vec<Paired>,
    /// clutches that could not be computed: they are left out
    #[serde(default)]
    pub failed: Vec<Failed>,
}

impl Document for Report {
    const KIND: Kind = Kind::Fleet;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        filled(&self.fleets, "fleets")?;
        for fleet in &self.fleets {
            let of = |what: &str| format!("{what} of {}, {}", fleet.variant, fleet.duty);
            filled(&fleet.outcomes, &of("outcomes"))?;
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
            require(times > 1 && fleet.bands.len() == times, &of("bands"), "it has not a row for each time")?;
            let left = fleet.outcomes.iter().all(|o| o.left.len() == times);
            require(left, &of("outcomes.left"), "it has not a value for each time")?;
            let curves = fleet
                .times
                .iter()
                .copied()
                .chain(fleet.bands.iter().flatten().copied())
                .chain([fleet.horizon, fleet.running_share]);
            sound(curves, &of("bands"))?;
            sound(
                fleet
                    .outcomes
                    .iter()
                    .flat_map(|o| [o.end, o.running, o.service_due, o.service_running, Some(o.running_share)])
                    .flatten(),
                &of("outcomes"),
            )?;
        }
        Ok(())
    }
}

impl Fleet {
    /// The same without its clutches.
    fn summary(&self) -> Self {
        Self {
            variant: self.variant.clone(),
            duty: self.duty.clone(),
            horizon: self.horizon,
            uncertain: self.uncertain.clone(),
            running_share: self.running_share,
            service_running: self.service_running.clone(),
            service: self.service.clone(),
            end_running: self.end_running.clone(),
            end: self.end.clone(),
            first: self.first.clone(),
            weibull: self.weibull,
            statement: self.statement.clone(),
            times: self.times.clone(),
            bands: self.bands.clone(),
            wearing: self.wearing.clone(),
            outcomes: vec![],
        }
    }
}

impl Report {
    /// The clutches that could not be computed, in a sentence; none where all could.
    pub fn left_out(&self) -> Option<String> {
        left_out(&self.failed, self.clutches * self.fleets.len() as u64, "clutches")
    }

    /// The same without the clutches, of which there may be very many.
    #[must_use]
    pub fn summary(&self) -> Self {
        Self {
            kind: self.kind,
            head: self.head.clone(),
            reference: self.reference.clone(),
            clutches: self.clutches,
            fleets: self.fleets.iter().map(Fleet::summary).collect(),
            pairs: self.pairs.clone(),
            failed: self.failed.clone(),
        }
    }
}

/// A fleet against that of the reference machine, or against the first of its study.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Paired {
    /// the machine
    pub variant: String,
    /// what it was put through
    pub duty: String,
    /// machine and duty that it is held against
    pub against: (String, String),
    /// of the running time to the first worn part, the oil set apart
    pub end: Gain,
    /// of the running time to the service of the oil
    pub service: Gain,
}

/// What the change does to a time.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Gain {
    /// clutches that last longer
    pub longer: u64,
    /// clutches that last less long
    pub shorter: u64,
    /// clutches that last as long, to 0.1 %
    pub alike: u64,
    /// clutches of which it is not known, because neither time came within the horizon
    pub unknown: u64,
    /// share of all that last longer, with bounds
    pub gaining: crate::statistics::Share,
    /// how often chance alone would make longer and shorter so unequal, were neither likelier: two-sided sign test
    pub chance: f64,
    /// median of the new time over the old one, with bounds that assume no distribution; none where the horizon hides it
    pub ratio: Bounds,
    /// median of the new time less the old one, s, likewise
    pub difference: Bounds,
    /// mean ratio and its standard error, of times cut at the horizon
    pub mean_ratio: (f64, f64),
    /// mean difference and its standard error, s, of times cut at the horizon
    pub mean_difference: (f64, f64),
    /// all that in a sentence
    pub statement: String,
}
