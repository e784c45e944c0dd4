//! What matters most: how far each uncertain constant and each choice moves what a duty comes to.

use super::failed::{Failed, left_out};
use super::head::Head;
use super::kind::{Document, Is, Kind};
use super::record::Run;
use super::sound::{filled, oil_apart, sound};
use crate::names::{Channel, Part};
use crate::spread::Spread;
use crate::statistics::Index;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What matters, for every machine and duty asked about.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Influences {
    /// which kind of document it is
    pub kind: Is<Influences>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// rows of the design behind the shares of variance; 0 where only one draw at a time was moved
    pub rows: u64,
    /// one for each machine and duty
    pub rankings: Vec<Ranking>,
    /// runs of all rankings
    #[serde(default)]
    pub runs: u64,
    /// runs that could not be computed: a setting without one of its ends is not ranked, and a machine under a duty without a
    /// point of its design has no shares of variance
    #[serde(default)]
    pub failed: Vec<Failed>,
}

impl Document for Influences {
    const KIND: Kind = Kind::Influence;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        let all = self.rankings.iter();
        let numbers = all.flat_map(|r| {
            let ends = r.influences.iter().flat_map(|i| [&i.low, &i.high]);
            let answers = ends.chain([&r.nominal]);
            let found = answers.flat_map(|a| [a.end, a.service_due, Some(a.lining_peak)]);
            let moved = r.influences.iter().flat_map(|i| &i.settings).flat_map(|m| [m.low, m.nominal, m.high]);
            found.chain([r.horizon]).flatten().chain(moved).collect::<Vec<_>>()
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

/// What matters for one machine under one duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Ranking {
    /// the machine
    pub variant: String,
    /// what it was put through
    pub duty: String,
    /// how far the duty was repeated, s; none where it was not, and lives are those at its late rate
    pub horizon: Option<f64>,
    /// with everything at its nominal value
    pub nominal: Answer,
    /// each draw, the one that moves the end most first
    pub influences: Vec<Influence>,
    /// runs of the design that did not end within the horizon: they count as ending there
    pub beyond: u64,
}

/// What one run answers.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// when the first part is at its limit, s, the oil set apart; none within the horizon
    pub end: Option<f64>,
    /// that part
    pub ended_by: Option<Part>,
    /// when the oil is due for service, s; none until the end, or where the duty is not repeated
    pub service_due: Option<f64>,
    /// greatest temperature of the lining's surface, K
    pub lining_peak: f64,
}

/// What one draw does.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Influence {
    /// name of the draw
    pub draw: String,
    /// whether the script spreads it; else it is one of the assumed constants
    pub by_script: bool,
    /// the settings that it moves
    pub settings: Vec<Moved>,
    /// at P10 of the draw, all else nominal
    pub low: Answer,
    /// at P90
    pub high: Answer,
    /// shares of the variance of the end, cut at the horizon; none where it was not asked for or does not vary
    pub end: Option<Index>,
    /// the same of the time to service
    pub service_due: Option<Index>,
    /// the same of the lining's peak
    pub lining_peak: Option<Index>,
}

/// A setting and how far it is moved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Moved {
    /// dotted path
    pub path: String,
    /// SI unit
    pub unit: String,
    /// how it is spread
    pub spread: Spread,
    /// at P10, SI
    pub low: f64,
    /// nominal, SI
    pub nominal: f64,
    /// at P90, SI
    pub high: f64,
}

/// A quantity that draws move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// time to the first part's end
    End,
    /// time to the oil's service
    Service,
    /// greatest temperature of the lining
    LiningPeak,
}

impl Measure {
    /// Every measure.
    pub const ALL: [Self; 3] = [Self::End, Self::Service, Self::LiningPeak];

    /// Its value in an answer, s or K, cut at a horizon.
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
    /// What a run answers.
    pub fn of(run: &Run) -> Self {
        let (end, ended_by, service_due) = if let Some(way) = &run.horizon {
            let end = way.first_worn().map(|(_, end, _)| end);
            let service_due = way.service_due.filter(|due| end.is_none_or(|end| *due <= end));
            (end, way.ended_by, service_due)
        } else {
            // What oil a single ride loses says nothing of the next: its rate is not carried on.
            let first = run.first_worn();
            (first.and_then(|part| part.life), first.map(|part| part.part), None)
        };
        Self { end, ended_by, service_due, lining_peak: Channel::LiningSurface.of(&run.overall.most) }
    }
}

impl Influences {
    /// The runs that could not be computed and what is missing without them, in a sentence or two; none where all could.
    pub fn left_out(&self) -> Option<String> {
        let said = left_out(&self.failed, self.runs, "runs")?;
        let shares =
            if self.rows > 0 { ", and without a point of its design a machine has no shares of variance" } else { "" };
        Some(format!("{said} A setting without its P10 or P90 is not ranked{shares}."))
    }
}

impl Influence {
    /// Values of a measure at P10 and P90, s or K.
    pub fn range(&self, measure: Measure, horizon: Option<f64>) -> Option<(f64, f64)> {
        Some((measure.of(&self.low, horizon)?, measure.of(&self.high, horizon)?))
    }

    /// How far the measure moves from P10 to P90, s or K.
    pub fn swing(&self, measure: Measure, horizon: Option<f64>) -> f64 {
        self.range(measure, horizon).map_or(0.0, |(low, high)| (high - low).abs())
    }

    /// The shares of variance of a measure.
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
