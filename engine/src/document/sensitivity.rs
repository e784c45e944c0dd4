//! Sensitivities: effect of each uncertain constant and each choice on the results of a duty.

use super::Is;
use super::failed::Failed;
use super::fault::Fault;
use super::head::Head;
use super::record::{Run, Warned};
use super::sound::{filled, oil_apart, sound};
use crate::names::{Channel, Part};
use crate::spread::Spread;
use crate::statistics::Index;
use serde::{Deserialize, Serialize};

/// Sensitivities for every machine and duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Influences {
    /// kind of document
    pub kind: Is<Influences>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// rows of the design for the shares of variance; 0 if only one variable at a time was changed
    pub rows: u64,
    /// one for each machine and duty
    pub rankings: Vec<Ranking>,
    /// number of runs of all rankings
    #[serde(default)]
    pub runs: u64,
    /// runs that could not be computed: a setting with a missing end is not ranked, and a machine under a duty with a
    /// missing design point has no shares of variance
    #[serde(default)]
    pub failed: Vec<Failed>,
}

impl Influences {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        let all = self.rankings.iter();
        let numbers = all.flat_map(|r| {
            let ends = r.influences.iter().flat_map(|i| [&i.low, &i.high]);
            let answers = ends.chain([&r.nominal]);
            let found = answers.flat_map(|a| [a.end, a.service_due, Some(a.lining_peak)]);
            let moved = r.influences.iter().flat_map(|i| &i.settings).flat_map(|m| [m.low, m.nominal, m.high]);
            found.chain([r.horizon, Some(r.running_share)]).flatten().chain(moved).collect::<Vec<_>>()
        });
        filled(&self.rankings, "rankings")?;
        let ends = self
            .rankings
            .iter()
            .flat_map(|r| r.influences.iter().flat_map(|i| [&i.low, &i.high]).chain([&r.nominal]).map(|a| a.ended_by));
        oil_apart(ends, "rankings")?;
        sound(numbers, "rankings")
    }
}

/// Sensitivities of one machine under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Ranking {
    /// the machine
    pub variant: String,
    /// the duty
    pub duty: String,
    /// running time of the repeated duty, s; none if it is not repeated, when lives are extrapolated at the late rate
    pub horizon: Option<f64>,
    /// share of the time during which the motor runs, with everything at its nominal value
    pub running_share: f64,
    /// results with everything at its nominal value
    pub nominal: Answer,
    /// each variable, the one with the largest effect on the life first
    pub influences: Vec<Influence>,
    /// number of design runs that did not end within the horizon; they count as ending there
    pub beyond: u64,
}

/// Results of one run.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// running time until the first part reaches its limit, s, oil excluded; none within the horizon
    pub end: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
    /// running time until oil service is due, s; none before the end, or if the duty is not repeated
    pub service_due: Option<f64>,
    /// share of the time during which the motor runs
    pub running_share: f64,
    /// highest temperature of the lining's surface, K
    pub lining_peak: f64,
    /// whether the bushing held oil of which some stays on a lining
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// whether its duty has a descent
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub descends: bool,
    /// the gravest fault for which the machine must not be used so; none if there is none
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fault: Option<Fault>,
}

/// Effect of one variable.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Influence {
    /// name of the variable
    pub draw: String,
    /// whether its spread is defined in the script; else it is an assumed constant
    pub by_script: bool,
    /// settings that it changes
    pub settings: Vec<Moved>,
    /// results at P10 of the variable, all else nominal
    pub low: Answer,
    /// results at P90
    pub high: Answer,
    /// shares of the variance of the life, limited to the horizon; none if not requested or without variance
    pub end: Option<Index>,
    /// the same of the time to service
    pub service_due: Option<Index>,
    /// the same of the lining's peak
    pub lining_peak: Option<Index>,
}

/// A setting and its change.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Moved {
    /// dotted path
    pub path: String,
    /// SI unit
    pub unit: String,
    /// its spread
    pub spread: Spread,
    /// value at P10, SI
    pub low: f64,
    /// nominal value, SI
    pub nominal: f64,
    /// value at P90, SI
    pub high: f64,
}

/// A quantity whose sensitivity is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// running time to the end of the first part
    End,
    /// running time to oil service
    Service,
    /// highest temperature of the lining
    LiningPeak,
}

impl Measure {
    /// Every measure.
    pub const ALL: [Self; 3] = [Self::End, Self::Service, Self::LiningPeak];

    /// Its value in an answer, s or K, limited to a horizon.
    pub fn of(self, answer: &Answer, horizon: Option<f64>) -> Option<f64> {
        match self {
            Self::End => answer.end.or(horizon),
            // Oil that outlasts the end was not due before it.
            Self::Service => answer.service_due.or(horizon.map(|h| answer.end.unwrap_or(h))),
            Self::LiningPeak => Some(answer.lining_peak),
        }
    }
}

impl Answer {
    /// The results of a run.
    pub fn of(run: &Run) -> Self {
        let (end, ended_by, service_due) = if let Some(way) = &run.horizon {
            let end = way.first_worn().map(|(_, end, running)| running.unwrap_or(end));
            let due = way.service_running.or(way.service_due);
            (end, way.ended_by, due.filter(|due| end.is_none_or(|end| *due <= end)))
        } else {
            // The oil loss of a single ride says nothing about the next, so it is not extrapolated.
            let first = run.first_worn();
            (first.and_then(|part| part.running.or(part.life)), first.map(|part| part.part), None)
        };
        let running_share = if run.duration > 0.0 { run.running_time / run.duration } else { 1.0 };
        let lining_peak = Channel::LiningSurface.of(&run.overall.most);
        let wrong_oil = run.warned(Warned::Additive).is_some();
        let (descends, fault) = (run.descends(), run.fault());
        Self { end, ended_by, service_due, running_share, lining_peak, wrong_oil, descends, fault }
    }
}

impl Influence {
    /// Values of a measure at P10 and P90, s or K.
    pub fn range(&self, measure: Measure, horizon: Option<f64>) -> Option<(f64, f64)> {
        Some((measure.of(&self.low, horizon)?, measure.of(&self.high, horizon)?))
    }

    /// Change of the measure from P10 to P90, s or K.
    pub fn swing(&self, measure: Measure, horizon: Option<f64>) -> f64 {
        self.range(measure, horizon).map_or(0.0, |(low, high)| (high - low).abs())
    }

    /// Shares of variance of a measure.
    pub fn index(&self, measure: Measure) -> Option<Index> {
        match measure {
            Measure::End => self.end,
            Measure::Service => self.service_due,
            Measure::LiningPeak => self.lining_peak,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_life_beyond_the_horizon_counts_as_ending_there() {
        let answer = Answer { lining_peak: 400.0, ..Answer::default() };
        assert_eq!(Measure::End.of(&answer, Some(10.0)), Some(10.0));
        assert_eq!(Measure::End.of(&answer, None), None);
        let ended = Answer { end: Some(4.0), ..answer };
        assert_eq!(Measure::Service.of(&ended, Some(10.0)), Some(4.0), "the oil was not due before the end");
    }
}
