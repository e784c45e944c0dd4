//! What a run leaves: one document that says everything a figure or a reader needs.

use super::head::Head;
use super::kind::{Document, Is, Kind};
use super::sound::{oil_apart, require, sound};
pub use super::{
    ledgers::{Ledger, Ledgers},
    life::{Horizon, LifePoint, Missed, PartUse},
    warning::{Warned, Warning},
};
pub use crate::integrate::Work;
use crate::names::{Channel, Happening, MomentOf, TaskName};
use crate::parts::{Confidence, Machine, PARAMETERS, Parameter};
use ndarray::Array2;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A whole study: every variant under every duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// which kind of document it is
    pub kind: Is<Record>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// the machine that others are held against, where the script names one; else the first compared
    #[serde(default)]
    pub reference: Option<String>,
    /// the channels of every run, in the order of each window's numbers
    pub channels: Vec<Column>,
    /// one per variant and duty
    pub runs: Vec<Run>,
}

impl Document for Record {
    const KIND: Kind = Kind::Record;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        require(self.channels == Column::all(), "channels", "they are not those of this version, in their order")?;
        for run in &self.runs {
            let of = |what: &str| format!("{what} of run {}, {}", run.variant, run.duty);
            let (w, ends) = (&run.windows, run.windows.end.len());
            let rows = [&w.least, &w.mean, &w.most];
            require(
                rows.iter().all(|rows| rows.len() == ends),
                &of("windows"),
                "its rows are not as many as its ends",
            )?;
            let sets = run
                .segments
                .iter()
                .map(|s| &s.extremes)
                .chain([&run.overall])
                .flat_map(|e| [&e.least, &e.mean, &e.most]);
            let moments = run.moments.iter().map(|m| &m.values);
            let close = run.close_up.iter().flat_map(|c| &c.rows);
            let all = rows.into_iter().flatten().chain(sets).chain(moments).chain(close);
            require(
                all.clone().all(|row| row.len() == Channel::COUNT),
                &of("a row"),
                "it does not hold every channel",
            )?;
            sound(all.flatten().copied(), &of("a row"))?;
            sound(w.end.iter().copied().chain([run.duration]), &of("windows.end"))?;
            let close = run.close_up.iter().all(|c| c.time.len() == c.rows.len());
            require(close, &of("close_up"), "its rows are not as many as its times")?;
            run.curves_checked(&of)?;
        }
        Ok(())
    }
}

/// One recorded quantity: a column of every row of numbers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Column {
    /// short name, as in CSV heads
    pub name: Channel,
    /// SI unit
    pub unit: String,
    /// what it is
    pub meaning: String,
}

impl Column {
    /// The columns of every record, in the order of their channels.
    pub fn all() -> Vec<Self> {
        let column = |name: Channel| Self { name, unit: name.unit().to_owned(), meaning: name.meaning().to_owned() };
        Channel::ALL.map(column).into()
    }
}

/// One variant under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// the machine compared
    pub variant: String,
    /// what it was put through
    pub duty: String,
    /// the settings of the machine
    pub settings: Vec<Setting>,
    /// length of the run, s
    pub duration: f64,
    /// time the motor and the drum turned at different speeds, s
    pub sliding_time: f64,
    /// time the motor ran, s
    pub running_time: f64,
    /// distance covered, m
    pub distance: f64,
    /// number of launches (the vehicle set off)
    pub launches: u64,
    /// windows that cover the run, in order
    pub windows: Windows,
    /// the launch that made the lining hottest, step by step; none where the vehicle never set off
    #[serde(default)]
    pub close_up: Option<CloseUp>,
    /// the hottest lining of a ride and the rest after it, as far as the run goes; of all rides the one with the longest such
    /// rest, among those the hottest
    #[serde(default)]
    pub moments: Vec<Moment>,
    /// torques over the motor's speed of the machine as settings say, new at 20 °C
    #[serde(default)]
    pub engagement: Engagement,
    /// each segment of the duty with its extremes
    pub segments: Vec<SegmentSummary>,
    /// segments beyond those listed
    pub segments_left_out: u64,
    /// what happened, in order; where it is too much to list, whole kinds are left out, those that tell least first
    pub events: Vec<Event>,
    /// events beyond those listed
    pub events_left_out: u64,
    /// least, mean and greatest of every channel over the run
    pub overall: Extremes,
    /// where energy and oil went, and what wore
    pub ledgers: Ledgers,
    /// use of each part, 0 new to 1 at its limit
    pub parts: Vec<PartUse>,
    /// how a repeated block was carried to the end of its way; none where nothing was repeated
    pub horizon: Option<Horizon>,
    /// what services used up: drops, parts
    pub supplies: BTreeMap<String, f64>,
    /// limits exceeded, and what went otherwise than asked
    pub warnings: Vec<Warning>,
    /// work of the integrator
    pub work: Work,
}

impl Run {
    /// The part that is worn out first, the oil set apart: at its limit oil is due for service.
    pub fn first_worn(&self) -> Option<&PartUse> {
        let worn = self.parts.iter().filter(|part| part.part.wears() && part.life.is_some_and(f64::is_finite));
        worn.min_by(|a, b| a.life.partial_cmp(&b.life).unwrap_or(std::cmp::Ordering::Equal))
    }

    /// The warning of a kind, if the run gave it.
    pub fn warned(&self, kind: Warned) -> Option<&Warning> {
        self.warnings.iter().find(|warning| warning.kind == kind)
    }

    /// Checks its curves; `of` names a part of it.
    fn curves_checked(&self, of: &impl Fn(&str) -> String) -> Result<(), String> {
        let e = &self.engagement;
        let alike = [&e.motor, &e.capacity, &e.load].iter().all(|column| column.len() == e.speed.len());
        require(alike && e.speed.len() > 1, &of("engagement"), "its columns are not of one length")?;
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

/// A setting of the machine.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Setting {
    /// dotted path
    pub path: String,
    /// value, SI
    pub value: f64,
    /// SI unit
    pub unit: String,
    /// how sure its default is
    pub confidence: Confidence,
}

impl Setting {
    /// Every setting of a machine.
    pub fn all(machine: &Machine) -> Vec<Self> {
        let setting = |p: &Parameter| Self {
            path: p.path.to_owned(),
            value: (p.of)(machine),
            unit: p.dimension.unit().to_owned(),
            confidence: p.confidence,
        };
        PARAMETERS.iter().map(setting).collect()
    }
}

/// Consecutive windows, of equal length while the motor runs and ever longer the longer it stands; or, where a block is repeated,
/// one window for each block that was run (or for each few of them), whose ends lie as far apart as blocks were skipped. In each
/// row the numbers stand in the order of the channels.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Windows {
    /// length of each while the motor runs, s (the last may be cut short by the end of the run); where windows are blocks, of the
    /// first
    pub length: f64,
    /// end of each window, s
    pub end: Vec<f64>,
    /// for how long the motor had run by the end of each, s
    #[serde(default)]
    pub running: Vec<f64>,
    /// least in the window
    pub least: Vec<Vec<f64>>,
    /// time mean over the window
    pub mean: Vec<Vec<f64>>,
    /// greatest in the window
    pub most: Vec<Vec<f64>>,
}

impl Windows {
    /// Start and end of each, s.
    pub fn spans(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        std::iter::once(0.0).chain(self.end.iter().copied()).zip(self.end.iter().copied())
    }

    /// Means as one array, windows × channels, SI; empty where the rows differ in length.
    pub fn means(&self) -> Array2<f64> {
        let columns = self.mean.first().map_or(0, Vec::len);
        let flat: Vec<f64> = self.mean.iter().flatten().copied().collect();
        Array2::from_shape_vec((self.mean.len(), columns), flat).unwrap_or_default()
    }
}

/// A launch with every channel at the starts, middles and ends of the integrator's steps (thinned where there are very many).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CloseUp {
    /// when the vehicle set off, s
    pub sets_off: f64,
    /// s
    pub time: Vec<f64>,
    /// channels at these times, SI
    pub rows: Vec<Vec<f64>>,
}

/// Every channel at one moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Moment {
    /// which: after the hottest lining the motor off, or standstill where the motor ran on
    pub what: MomentOf,
    /// s
    pub time: f64,
    /// channels, SI
    pub values: Vec<f64>,
}

/// What motor, clutch and vehicle do over the motor's speed, clutch new at 20 °C.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Engagement {
    /// speeds of the motor, rising, rad/s
    pub speed: Vec<f64>,
    /// torque of the motor at full throttle under its top governor, N·m
    pub motor: Vec<f64>,
    /// torque that the clutch can carry, N·m
    pub capacity: Vec<f64>,
    /// torque at the drum that holds the vehicle at the speed over ground that belongs to the locked clutch, N·m
    pub load: Vec<f64>,
    /// lowest speed of locking at full throttle, rad/s; none if the clutch never carries the motor's torque
    pub balance: Option<f64>,
    /// least and greatest idle of nine motors in ten, rad/s, by the wander that is assumed or that the script gives; none where
    /// nobody has said
    #[serde(default)]
    pub idle: Option<(f64, f64)>,
    /// engagement speed with the new lining when the springs are as hot as in the run and have relaxed for 300 h at that heat, rad/s;
    /// none where the run was not recorded
    #[serde(default)]
    pub settled: Option<f64>,
}

/// Extremes of every channel.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Extremes {
    /// least
    pub least: Vec<f64>,
    /// time mean
    pub mean: Vec<f64>,
    /// greatest
    pub most: Vec<f64>,
}

/// One segment of the duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SegmentSummary {
    /// what the rider did
    pub task: TaskName,
    /// start, s
    pub start: f64,
    /// end, s
    pub end: f64,
    /// extremes over the segment
    pub extremes: Extremes,
}

/// Something that happened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Event {
    /// when, s
    pub time: f64,
    /// what
    pub what: Happening,
}
