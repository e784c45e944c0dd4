//! One machine under one duty.

use super::close_up::CloseUp;
use super::columns::{round, round_rows};
use super::engagement::Engagement;
use super::halt::Halt;
use super::ledgers::{Ledger, Ledgers, OilSince};
use super::life::{Horizon, PartUse};
use super::segments::{self, Extremes, SegmentSummary};
use super::setting::Setting;
use super::sound::{oil_apart, require, sound};
use super::warning::{Warned, Warning};
use super::windows::Windows;
use crate::integrate::Work;
use crate::laws::margin::{VARIATION, needed};
use crate::names::{Happening, IdleKind, LiningKind, MomentOf, Part, Supply};
use crate::parts::settings::{clutch, limits, motor, surroundings, vehicle};
use crate::parts::{Parameter, below_limit};
use crate::spread::{Known, first_worn_range, life_factor};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Warnings of what a descent does to a machine.
const DOWNHILL: [Warned; 5] =
    [Warned::NoBraking, Warned::Overrun, Warned::RollsFree, Warned::RunsAway, Warned::Overspeed];

/// One variant under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// the machine
    pub variant: String,
    /// the duty
    pub duty: String,
    /// the settings of the machine
    pub settings: Vec<Setting>,
    /// what holds the motor's idle speed
    #[serde(default)]
    pub idle_kind: IdleKind,
    /// material of the lining
    #[serde(default, skip_serializing_if = "LiningKind::is_woven")]
    pub lining_kind: LiningKind,
    /// constants that a calibration learned, by which the ranges of lives go
    pub learned: Vec<Known>,
    /// duration of the run, s
    pub duration: f64,
    /// time during which the shoes slipped on the drum, s; shoes off the drum do not slip
    pub sliding_time: f64,
    /// time the motor ran, s
    pub running_time: f64,
    /// distance covered, m
    pub distance: f64,
    /// number of launches (the vehicle set off)
    pub launches: u64,
    /// windows that cover the run, in order
    pub windows: Windows,
    /// the launch with the hottest lining, step by step; none if the vehicle never set off
    #[serde(default)]
    pub close_up: Option<CloseUp>,
    /// snapshots of one ride and its cool-down: the ride with the longest rest (ties: the hottest lining)
    #[serde(default)]
    pub moments: Vec<Moment>,
    /// torques over the motor's speed for the machine's settings, new at 20 °C
    #[serde(default)]
    pub engagement: Engagement,
    /// each segment of the duty with its extremes
    #[serde(with = "segments")]
    #[cfg_attr(feature = "schemas", schemars(with = "segments::SavedSegments"))]
    pub segments: Vec<SegmentSummary>,
    /// number of segments not listed
    pub segments_left_out: u64,
    /// events in order; if there are too many, whole kinds are left out, the least informative first
    pub events: Vec<Event>,
    /// number of events not listed
    pub events_left_out: u64,
    /// least, mean and greatest of every channel over the run
    pub overall: Extremes,
    /// balances of energy, oil and wear
    pub ledgers: Ledgers,
    /// the oil's ledger from the moment before oil or grease was put on for the first time; none if none was, or at the start
    pub oil_since: Option<OilSince>,
    /// use of each part, 0 new to 1 at its limit
    pub parts: Vec<PartUse>,
    /// skipping and lives of a repeated block; none if nothing was repeated
    pub horizon: Option<Horizon>,
    /// supplies used by services
    pub supplies: BTreeMap<Supply, f64>,
    /// limits exceeded, and departures from the duty
    pub warnings: Vec<Warning>,
    /// share of the lining's dry friction that oil on it left: the least in the run, and at its end; none if the run was not
    /// recorded
    #[serde(default)]
    pub grip: Option<[f64; 2]>,
    /// where the run was stopped, because a part became too hot; none if it was performed to its end
    #[serde(default)]
    pub halt: Option<Halt>,
    /// work of the integrator
    pub work: Work,
}

impl Run {
    /// The run with the numbers of its windows, segments and curves as they are saved, so that reading it back changes
    /// nothing.
    #[must_use]
    pub fn rounded(mut self) -> Self {
        let Windows { least, mean, most, .. } = &mut self.windows;
        round_rows(least.iter_mut().chain(mean).chain(most));
        let extremes = self.segments.iter_mut().map(|s| &mut s.extremes);
        round_rows(extremes.flat_map(|e| [&mut e.least, &mut e.mean, &mut e.most]));
        round_rows(self.close_up.iter_mut().flat_map(|c| &mut c.rows));
        for part in &mut self.parts {
            round(&mut part.curve);
        }
        self.engagement.round();
        self
    }

    /// The oil's ledger from the first oiling on, else that of the whole run: what was lost before is nothing of what was put on.
    pub fn oil_ledger(&self) -> &Ledger {
        self.oil_since.as_ref().map_or(&self.ledgers.oil, |since| &since.ledger)
    }

    /// Distance covered in an hour of running, m.
    pub fn hourly(&self) -> f64 {
        if self.running_time > 0.0 { 3600.0 * self.distance / self.running_time } else { 0.0 }
    }

    /// Parts that wear, the oil set apart: at its limit oil is due for service.
    fn wearing(&self) -> impl Iterator<Item = &PartUse> {
        self.parts.iter().filter(|part| part.part.wears() && part.life.is_some_and(f64::is_finite))
    }

    /// Each part that wears with the running time until it is worn out, s.
    pub fn running_lives(&self) -> impl Iterator<Item = (Part, f64)> {
        self.wearing().filter_map(|part| Some((part.part, part.running.or(part.life)?)))
    }

    /// The part that is worn out first.
    pub fn first_worn(&self) -> Option<&PartUse> {
        self.wearing().min_by(|a, b| a.life.partial_cmp(&b.life).unwrap_or(std::cmp::Ordering::Equal))
    }

    /// Range of the running time until the first part is worn out, s, by what is open of the wear constants.
    pub fn life_range(&self) -> Option<[f64; 2]> {
        first_worn_range(self.running_lives(), self.lining_kind, &self.learned)
    }

    /// Factor of uncertainty either way of a part's life by its constant, learned or assumed.
    pub fn life_factor(&self, part: Part) -> Option<f64> {
        life_factor(part, self.lining_kind, &self.learned)
    }

    /// Factor within which a calibration learned a constant; none if it did not.
    pub fn knows(&self, p: &Parameter) -> Option<f64> {
        Known::factor_of(&self.learned, p)
    }

    /// Whether every launch got to its speed: none ran out of time or was stopped by heat.
    pub(crate) fn launched(&self) -> bool {
        self.halt.is_none() && [Warned::Launch, Warned::TooSlow].iter().all(|kind| self.warned(*kind).is_none())
    }

    /// The warning of this kind, if there is one.
    pub fn warned(&self, kind: Warned) -> Option<&Warning> {
        self.warnings.iter().find(|warning| warning.kind == kind)
    }

    /// Whether its duty has a descent: its ground has a slope, or one drove the machine or carried it off.
    pub fn descends(&self) -> bool {
        let slope = self.setting(&surroundings::grade).is_some_and(|grade| grade != 0.0);
        slope || DOWNHILL.iter().any(|kind| self.warned(*kind).is_some())
    }

    /// A setting of the machine, SI.
    pub fn setting(&self, p: &Parameter) -> Option<f64> {
        self.settings.iter().find(|s| s.path == p.path).map(|s| s.value)
    }

    /// Speed at which the clutch engages, new at 20 °C, rad/s: its first shoe touches.
    pub fn engages(&self) -> Option<f64> {
        self.engagement.first.or_else(|| self.setting(&clutch::engagement))
    }

    /// How far above the idle a spring has to engage that engages at this speed when it is hot and relaxed, rad/s: for the
    /// clutch's number of shoes, and the variation of the idle that the script gives, or else the assumed one. The run holds the
    /// range of nine motors in ten.
    pub fn margin_needed(&self, engages: f64) -> Option<f64> {
        let shoes = self.setting(&clutch::shoes)?.round() as u32;
        Some(needed(engages, shoes, self.setting(&motor::idle)?, self.variation()))
    }

    /// How far the motor's idle varies to either side, rad/s.
    pub(super) fn variation(&self) -> f64 {
        self.engagement.idle.map_or(VARIATION, |(low, high)| (high - low) / (2.0 * 0.9))
    }

    /// Lock-up speed, m/s: at a lower held speed the clutch slips.
    pub fn lock_up_speed(&self) -> Option<f64> {
        let locks = self.engagement.lock.or_else(|| self.engages())?;
        Some(locks * self.setting(&vehicle::wheel_radius)? / self.setting(&vehicle::ratio)?)
    }

    /// Whether the springs were given so weak that they are too near to the idle when new: below their limit from the start.
    pub fn springs_below_limit(&self) -> bool {
        let limits = [&clutch::shoes, &motor::idle, &limits::spring_margin].map(|setting| self.setting(setting));
        let [Some(shoes), Some(idle), Some(limit)] = limits else { return false };
        self.engages().is_some_and(|engages| below_limit(engages, shoes.round() as u32, idle, limit))
    }

    /// Checks the run's curves; `of` names a part of it.
    pub(super) fn curves_checked(&self, of: &impl Fn(&str) -> String) -> Result<(), String> {
        self.engagement.consistent(of)?;
        let ends = self.windows.end.len();
        let curves = self.parts.iter().all(|p| p.curve.len() == ends || p.curve.is_empty());
        require(curves, &of("parts.curve"), "it has not a value for each window")?;
        sound(self.parts.iter().flat_map(|p| p.curve.iter().copied().chain([p.used]).chain(p.life)), &of("parts"))?;
        if let Some(horizon) = &self.horizon {
            oil_apart([horizon.ended_by], &of("horizon.ended_by"))?;
            let parts = self.parts.len();
            let used = horizon.points.iter().all(|p| p.used.len() == parts);
            require(used, &of("horizon.points"), "a point has not a use for each part")?;
            require(horizon.ends.len() == parts, &of("horizon.ends"), "it has not a time for each part")?;
        }
        Ok(())
    }
}

/// Every channel at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Moment {
    /// name; after the hottest lining: motor off, or standstill if the motor kept running
    pub what: MomentOf,
    /// time, s
    pub time: f64,
    /// channels, SI
    pub values: Vec<f64>,
}

/// An event.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Event {
    /// time, s
    pub time: f64,
    /// kind of event
    pub what: Happening,
}
