//! Rows of channels of a run: windows, segments and a launch, as they are read and as they are saved.

use super::columns::{Spans, all_steps, columns, rows};
use crate::names::TaskName;
use ndarray::Array2;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Consecutive windows. They have equal lengths while the motor runs, and grow with the duration of a rest. If a block
/// is repeated, there is one window for each simulated block (or for several), whose ends are as far apart as blocks
/// were skipped.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(into = "SavedWindows", try_from = "SavedWindows")]
pub struct Windows {
    /// length of each while the motor runs, s (the last may be shorter); length of the first if windows are blocks
    pub length: f64,
    /// end of each window, s
    pub end: Vec<f64>,
    /// running time at the end of each, s
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

    /// Means as one array, windows × channels, SI; empty if the rows differ in length.
    pub fn means(&self) -> Array2<f64> {
        let columns = self.mean.first().map_or(0, Vec::len);
        let flat: Vec<f64> = self.mean.iter().flatten().copied().collect();
        Array2::from_shape_vec((self.mean.len(), columns), flat).unwrap_or_default()
    }
}

/// A launch with every channel at the starts, middles and ends of the integrator's steps (thinned if there are very
/// many).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(into = "SavedCloseUp", try_from = "SavedCloseUp")]
pub struct CloseUp {
    /// time at which the vehicle set off, s
    pub sets_off: f64,
    /// times, s
    pub time: Vec<f64>,
    /// channels at these times, SI
    pub rows: Vec<Vec<f64>>,
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

fn damaged(what: &str, why: &str) -> String {
    format!("`{what}` is damaged: {why}")
}

/// Windows as they are saved.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SavedWindows {
    /// length of each while the motor runs, s (the last may be shorter); length of the first if windows are blocks
    length: f64,
    /// end of each window, s
    end: Vec<f64>,
    /// running time at the end of each, s
    running: Vec<f64>,
    /// channels in each window
    values: Spans,
}

impl From<Windows> for SavedWindows {
    fn from(windows: Windows) -> Self {
        let Windows { length, end, running, least, mean, most } = windows;
        Self { length, end, running, values: Spans::of([least.iter(), mean.iter(), most.iter()]) }
    }
}

impl TryFrom<SavedWindows> for Windows {
    type Error = String;

    fn try_from(saved: SavedWindows) -> Result<Self, String> {
        let SavedWindows { length, end, running, values } = saved;
        let [least, mean, most] = values.rows(end.len()).map_err(|why| damaged("windows", &why))?;
        Ok(Self { length, end, running, least, mean, most })
    }
}

/// The segments of a duty as they are saved.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
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

/// A launch as it is saved.
#[derive(Clone, Debug, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SavedCloseUp {
    /// time at which the vehicle set off, s
    sets_off: f64,
    /// times, s
    time: Vec<f64>,
    /// steps per SI unit of each channel
    per: Vec<f64>,
    /// channels at these times, steps: a column for each, in the order of the channels. A value is its number divided by
    /// `per`
    values: Vec<Vec<i64>>,
}

impl From<CloseUp> for SavedCloseUp {
    fn from(CloseUp { sets_off, time, rows }: CloseUp) -> Self {
        let rows: Vec<&[f64]> = rows.iter().map(Vec::as_slice).collect();
        let per = all_steps(&rows);
        Self { sets_off, time, values: columns(&rows, &per), per }
    }
}

impl TryFrom<SavedCloseUp> for CloseUp {
    type Error = String;

    fn try_from(saved: SavedCloseUp) -> Result<Self, String> {
        let rows = rows(&saved.values, &saved.per, saved.time.len()).map_err(|why| damaged("close_up", &why))?;
        Ok(Self { sets_off: saved.sets_off, time: saved.time, rows })
    }
}

/// Reads and writes segments as columns.
pub(super) mod segments {
    use super::{SavedSegments, SegmentSummary};
    use serde::de::Error;
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub fn serialize<S: Serializer>(segments: &[SegmentSummary], to: S) -> Result<S::Ok, S::Error> {
        SavedSegments::from(segments).serialize(to)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<SegmentSummary>, D::Error> {
        SavedSegments::deserialize(from)?.try_into().map_err(D::Error::custom)
    }
}

#[cfg(test)]
mod tests {
    use super::super::columns::{round, round_rows};
    use super::*;

    /// Windows of channels from 1e-13 to 1e12 in size, above, below and around zero, and one of zeros.
    fn windows() -> Windows {
        let size = |k: usize| (k as f64 - 13.0).exp2() * 10f64.powf(k as f64 - 13.0);
        let value = |row: usize, k: usize| match k {
            0 => 0.0,
            k => size(k) * (libm::sin(row as f64 * (k as f64 + 0.7)) + [0.0, 5.0, -5.0][k % 3]),
        };
        let row = |row: usize| (0..26).map(|k| value(row, k)).collect::<Vec<f64>>();
        let beside = |by: f64| (0..40).map(|r| row(r).iter().map(|v| v + by * v.abs()).collect()).collect();
        let end: Vec<f64> = (1..=40).map(|k| f64::from(k) / 3.0).collect();
        Windows { length: 1.0, running: end.clone(), end, least: beside(-0.01), mean: beside(0.0), most: beside(0.02) }
    }

    fn rounded_windows() -> Windows {
        let mut windows = windows();
        round_rows(windows.least.iter_mut().chain(&mut windows.mean).chain(&mut windows.most));
        windows
    }

    #[test]
    fn rounded_rows_are_read_back_to_the_bit_and_written_to_the_same_bytes() {
        let rounded = rounded_windows();
        let text = serde_json::to_string(&rounded).expect("JSON");
        let read: Windows = serde_json::from_str(&text).expect("it reads back");
        assert_eq!(read, rounded);
        assert_eq!(serde_json::to_string(&read).expect("JSON"), text);
        assert_eq!(serde_json::to_string(&windows()).expect("JSON"), text, "what is saved is rounded in the same way");
    }

    #[test]
    fn rounding_moves_no_value_by_more_than_half_a_millionth_of_its_channels_greatest() {
        let (exact, rounded) = (windows(), rounded_windows());
        for k in 0..26 {
            let of = |windows: &Windows| -> Vec<f64> {
                [&windows.least, &windows.mean, &windows.most].into_iter().flatten().map(|row| row[k]).collect()
            };
            let (exact, rounded) = (of(&exact), of(&rounded));
            let most = exact.iter().fold(0.0, |most: f64, v| most.max(v.abs()));
            let off = exact.iter().zip(&rounded).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            assert!(off <= 0.5001e-6 * most, "channel {k}: {off} of {most}");
            assert!(k == 0 || off > 1e-9 * most, "channel {k} is not rounded");
        }
    }

    #[test]
    fn a_number_that_is_not_finite_stays_so_that_the_result_is_refused() {
        let mut values = [1.0, f64::NAN, f64::INFINITY, 0.123_456_789];
        round(&mut values);
        assert!(values[1].is_nan() && values[2] == f64::INFINITY && values[3] == 0.123_456_8, "{values:?}");
    }

    #[test]
    fn columns_of_another_length_are_refused_with_what_is_damaged() {
        let mut saved = serde_json::to_value(rounded_windows()).expect("JSON");
        saved["values"]["below"][3].as_array_mut().expect("a column").pop();
        let message = serde_json::from_value::<Windows>(saved).expect_err("damaged").to_string();
        assert!(message.contains("`windows` is damaged") && message.contains("40 numbers"), "{message}");
    }
}
