//! A sweep: combinations of settings, with the result of each.

use super::Is;
use super::failed::Failed;
use super::fault::{Fault, gravest};
use super::head::Head;
use super::record::Run;
use super::sound::{filled, oil_apart, require, sound};
use super::warning::Warned;
use crate::names::{Channel, Entry, Part};
use crate::parts::settings;
use crate::spread::Known;
use serde::{Deserialize, Serialize};

/// All combinations of a sweep.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Sweep {
    /// kind of document
    pub kind: Is<Sweep>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// varied settings
    pub axes: Vec<Axis>,
    /// one for each combination, in the order of the script
    pub rows: Vec<Row>,
    /// combinations that could not be computed and are left out
    #[serde(default)]
    pub failed: Vec<Failed>,
}

impl Sweep {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.rows, "rows")?;
        for axis in &self.axes {
            let labelled =
                !axis.labels.is_empty() && (axis.values.is_empty() || axis.values.len() == axis.labels.len());
            require(labelled, &format!("axes, {}", axis.name), "its labels are not as many as its values")?;
            sound(axis.values.iter().copied(), &format!("axes, {}", axis.name))?;
        }
        let placed = |place: &Vec<usize>| {
            place.len() == self.axes.len() && place.iter().zip(&self.axes).all(|(at, axis)| *at < axis.labels.len())
        };
        require(self.rows.iter().all(|r| placed(&r.place)), "rows.place", "it lies beyond the axes")?;
        oil_apart(self.rows.iter().map(|r| r.summary.ended_by), "rows.summary.ended_by")?;
        let found = self.rows.iter().map(|r| &r.summary);
        let numbers = found.flat_map(|s| {
            [
                Some(s.lining_peak),
                Some(s.hourly),
                Some(s.to_come),
                Some(s.slip_power),
                s.slip_energy,
                s.life,
                s.service_due,
                s.service_running,
            ]
        });
        let ranges = self.rows.iter().filter_map(|r| r.summary.range).flatten();
        sound(numbers.flatten().chain(ranges), "rows.summary")
    }
}

/// One varied quantity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Axis {
    /// path of the setting; `machine` or `duty` for names
    pub name: String,
    /// meaning
    pub meaning: String,
    /// SI unit of the values; empty for names
    pub unit: String,
    /// values, SI, ascending; empty for names
    pub values: Vec<f64>,
    /// label of each value, with its unit
    pub labels: Vec<String>,
}

/// One combination.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// index on each axis
    pub place: Vec<usize>,
    /// the machine
    pub variant: String,
    /// the duty
    pub duty: String,
    /// its result
    pub summary: Summary,
}

/// Result of a run, in a few hundred bytes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Summary {
    /// duration of the run, s
    pub duration: f64,
    /// distance covered in an hour of running, m
    #[serde(default)]
    pub hourly: f64,
    /// number of launches
    pub launches: u64,
    /// highest temperature of the lining's surface, K
    pub lining_peak: f64,
    /// temperature limit of the lining's surface, K; none in results of earlier versions
    #[serde(default)]
    pub lining_limit: Option<f64>,
    /// engagement speed of the weakest spring, cold and new, rad/s; none in results of earlier versions
    #[serde(default)]
    pub engagement: Option<f64>,
    /// idle speed of the motor, rad/s; none in results of earlier versions
    #[serde(default)]
    pub idle: Option<f64>,
    /// engagement speed at its lowest: hot in the run, or relaxed for 300 h at its highest temperature, rad/s; none in results
    /// of earlier versions
    #[serde(default)]
    pub settled: Option<f64>,
    /// how far above the idle it then has to engage for the idle's variation and the tolerances of springs and tachometer, with
    /// this number of shoes, rad/s
    pub needed: Option<f64>,
    /// whether the springs grew hotter than their relaxation is known to, so that how near to the idle they come is unknown
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub springs_unknown: bool,
    /// highest temperature of the bushing, K
    pub bushing_peak: f64,
    /// slip power averaged over the running time, W
    pub slip_power: f64,
    /// slip energy per launch, J; none without a launch
    pub slip_energy: Option<f64>,
    /// oil fill of the bushing at the end
    pub oil_fill: f64,
    /// time until the first part other than the oil reaches its limit, s: simulated if the duty is repeated that far,
    /// else extrapolated at its late rate; none if nothing is being used up
    pub life: Option<f64>,
    /// running time until then, s; none in results of earlier versions
    #[serde(default)]
    pub running: Option<f64>,
    /// range of that running time by what is open of the wear constants, s; none in results of earlier versions
    #[serde(default)]
    pub range: Option<[f64; 2]>,
    /// constants that a calibration learned, by which the range goes
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub learned: Vec<Known>,
    /// that part
    pub ended_by: Option<Part>,
    /// time at which oil service is due, s; none unless the duty is repeated that far
    pub service_due: Option<f64>,
    /// running time until then, s
    #[serde(default)]
    pub service_running: Option<f64>,
    /// rise of the bushing's temperature still to come if the machine were ridden on, K
    #[serde(default)]
    pub to_come: f64,
    /// kinds of the run's warnings
    pub warnings: Vec<Warned>,
    /// whether its duty has a descent
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub descends: bool,
    /// running time after which the bushing first ran dry, s; none if it did not
    pub dry: Option<f64>,
}

impl Summary {
    /// Summary of a recorded run.
    pub fn of(run: &Run) -> Self {
        let last = run.windows.mean.last().unwrap_or(&run.overall.mean);
        let heat = run.ledgers.heat.inward.get(&Entry::SlipHeat).copied().unwrap_or(0.0);
        let first = run.first_worn();
        let hot = Some(Channel::Engagement.of(&run.overall.least)).filter(|w| *w > 0.0).unwrap_or(f64::INFINITY);
        let mut warnings: Vec<Warned> = run.warnings.iter().map(|w| w.kind).collect();
        warnings.dedup();
        let settled = run.engagement.settled.map(|late| late.min(hot));
        Self {
            duration: run.duration,
            hourly: run.hourly(),
            launches: run.launches,
            lining_peak: Channel::LiningSurface.of(&run.overall.most),
            lining_limit: run.setting(&settings::limits::lining_most),
            engagement: run.engages(),
            idle: run.setting(&settings::motor::idle),
            settled,
            needed: settled.or_else(|| run.engages()).and_then(|engages| run.margin_needed(engages)),
            springs_unknown: run.springs_unknown().is_some(),
            bushing_peak: Channel::Bushing.of(&run.overall.most),
            slip_power: if run.running_time > 0.0 { heat / run.running_time } else { 0.0 },
            slip_energy: (run.launches > 0).then(|| heat / run.launches as f64),
            oil_fill: Channel::OilFill.of(last),
            life: first.and_then(|part| part.life),
            running: first.and_then(|part| part.running.or(part.life)),
            range: run.life_range(),
            learned: run.learned.clone(),
            ended_by: first.map(|part| part.part),
            service_due: run.horizon.as_ref().and_then(|h| h.service_due),
            service_running: run.horizon.as_ref().and_then(|h| h.service_running),
            to_come: run.to_come(),
            warnings,
            descends: run.descends(),
            dry: run.warned(Warned::Dry).map(|warning| warning.value),
        }
    }

    /// Margin of the springs' engagement speed over idle, cold and new, rad/s.
    pub fn over_idle(&self) -> Option<f64> {
        Some(self.engagement? - self.idle?)
    }

    /// The gravest fault for which the machine must not be used so.
    pub fn fault(&self) -> Option<Fault> {
        let hot = || self.lining_limit.is_some_and(|limit| self.lining_peak > limit);
        let close = |engages: Option<f64>| {
            engages.zip(self.idle).zip(self.needed).is_some_and(|((engages, idle), needed)| engages - idle < needed)
        };
        let life = (self.running.or(self.life), self.ended_by);
        gravest(|kind| self.warnings.contains(&kind), life, [self.dry, self.service_running])
            .or_else(|| hot().then_some(Fault::Lining))
            .or_else(|| self.springs_unknown.then_some(Fault::Springs))
            .or_else(|| close(self.engagement).then_some(Fault::Near))
            .or_else(|| close(self.settled).then_some(Fault::Settles))
    }

    /// Whether the clutch drags at idle.
    pub fn drags(&self) -> bool {
        self.warnings.iter().any(|kind| matches!(kind, Warned::Drag | Warned::Creep))
    }

    /// Whether the bushing held oil of which some stays on a lining.
    pub fn wrong_oil(&self) -> bool {
        self.warnings.contains(&Warned::Additive)
    }

    /// Whether a part grew hotter than the model reaches, so that there is no life.
    pub fn beyond(&self) -> bool {
        self.warnings.contains(&Warned::Beyond)
    }
}

impl Sweep {
    /// The row at a place on the axes; none if there was no run.
    pub fn at(&self, place: &[usize]) -> Option<&Row> {
        self.rows.iter().find(|row| row.place == place)
    }
}
