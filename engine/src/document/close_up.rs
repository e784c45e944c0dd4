//! A launch step by step, as it is read and as it is saved.

use super::columns::{all_steps, columns, rows};
use super::sound::damaged;
use serde::{Deserialize, Serialize};

/// A launch with every channel at the starts, middles and ends of the integrator's steps (thinned if there are very
/// many).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(into = "SavedCloseUp", try_from = "SavedCloseUp")]
pub struct CloseUp {
    /// time at which the vehicle set off, s
    pub sets_off: f64,
    /// times, s
    pub time: Vec<f64>,
    /// channels at these times, SI
    pub rows: Vec<Vec<f64>>,
}

/// A launch as it is saved.
#[derive(Clone, Debug, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
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
