//! Segments of a duty with their extremes, as they are read and as they are saved.

use super::columns::Spans;
use super::sound::damaged;
use crate::names::TaskName;
use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Extremes of every channel.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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
#[derive(Clone, Debug, PartialEq)]
pub struct SegmentSummary {
    /// task of the rider
    pub task: TaskName,
    /// start, s
    pub start: f64,
    /// end, s
    pub end: f64,
    /// extremes over the segment
    pub extremes: Extremes,
}

/// The segments of a duty as they are saved.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct SavedSegments {
    /// task of the rider in each
    task: Vec<TaskName>,
    /// start of each, s
    start: Vec<f64>,
    /// end of each, s
    end: Vec<f64>,
    /// channels in each segment
    values: Spans,
}

impl From<&[SegmentSummary]> for SavedSegments {
    fn from(segments: &[SegmentSummary]) -> Self {
        let extremes = segments.iter().map(|s| &s.extremes);
        let of = |which: fn(&Extremes) -> &Vec<f64>| extremes.clone().map(which);
        Self {
            task: segments.iter().map(|s| s.task).collect(),
            start: segments.iter().map(|s| s.start).collect(),
            end: segments.iter().map(|s| s.end).collect(),
            values: Spans::of([of(|e| &e.least), of(|e| &e.mean), of(|e| &e.most)]),
        }
    }
}

impl TryFrom<SavedSegments> for Vec<SegmentSummary> {
    type Error = String;

    fn try_from(saved: SavedSegments) -> Result<Self, String> {
        let SavedSegments { task, start, end, values } = saved;
        if start.len() != task.len() || end.len() != task.len() {
            return Err(damaged("segments", "it has not a start and an end for each"));
        }
        let [least, mean, most] = values.rows(task.len()).map_err(|why| damaged("segments", &why))?;
        let extremes = least.into_iter().zip(mean).zip(most);
        let extremes = extremes.map(|((least, mean), most)| Extremes { least, mean, most });
        let times = start.into_iter().zip(end);
        let segment = |((task, (start, end)), extremes)| SegmentSummary { task, start, end, extremes };
        Ok(task.into_iter().zip(times).zip(extremes).map(segment).collect())
    }
}

/// Writes segments as columns.
pub(super) fn serialize<S: Serializer>(segments: &[SegmentSummary], to: S) -> Result<S::Ok, S::Error> {
    SavedSegments::from(segments).serialize(to)
}

/// Reads segments from columns.
pub(super) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<SegmentSummary>, D::Error> {
    SavedSegments::deserialize(from)?.try_into().map_err(D::Error::custom)
}
