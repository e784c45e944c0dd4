//! Windows of a run, as they are read and as they are saved.

use super::columns::Spans;
use super::sound::damaged;
use ndarray::Array2;
use serde::{Deserialize, Serialize};

/// Consecutive windows. They have equal lengths while the motor runs, and grow with the duration of a rest. If a block
/// is repeated, there is one window for each simulated block (or for several), whose ends are as far apart as blocks
/// were skipped.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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

/// Windows as they are saved.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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

#[cfg(test)]
mod tests {
    use super::super::columns::round_rows;
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
    fn columns_of_another_length_are_refused_with_what_is_damaged() {
        let mut saved = serde_json::to_value(rounded_windows()).expect("JSON");
        saved["values"]["below"][3].as_array_mut().expect("a column").pop();
        let message = serde_json::from_value::<Windows>(saved).expect_err("damaged").to_string();
        assert!(message.contains("`windows` is damaged") && message.contains("40 numbers"), "{message}");
    }
}
