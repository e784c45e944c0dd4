//! The record of runs: one document with everything that a figure or a reader needs.

use super::Is;
use super::head::Head;
use super::sound::{require, sound};
pub use super::{
    close_up::CloseUp,
    engagement::Engagement,
    halt::Halt,
    ledgers::{Ledger, Ledgers, OilSince},
    life::{Horizon, Inside, LifePoint, Missed, PartUse},
    run::{Event, Moment, Run},
    segments::{Extremes, SegmentSummary},
    setting::Setting,
    warning::{Warned, Warning},
    windows::Windows,
};
pub use crate::integrate::Work;
use crate::names::Channel;
use serde::{Deserialize, Serialize};

/// A whole study: every variant under every duty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// kind of document
    pub kind: Is<Record>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// machine that others are compared with, if the script names one; else the first one
    #[serde(default)]
    pub reference: Option<String>,
    /// the channels of every run, in the order of each window's numbers
    pub channels: Vec<Column>,
    /// one per variant and duty
    pub runs: Vec<Run>,
}

impl Record {
    /// The record in a JSON text; text after it is an error. Records are long, and the program is optimised less than the engine.
    pub fn from_json(text: &str) -> serde_json::Result<Self> {
        serde_json::from_str(text)
    }

    /// The record as JSON.
    pub fn to_json(&self) -> serde_json::Result<String> {
        serde_json::to_string(self)
    }

    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        require(self.channels == Column::all(), "channels", "they are not those of this version, in their order")?;
        for run in &self.runs {
            let of = |what: &str| format!("{what} of run {}, {}", run.variant, run.duty);
            let w = &run.windows;
            let rows = [&w.least, &w.mean, &w.most];
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
            run.curves_checked(&of)?;
        }
        Ok(())
    }
}

/// One recorded quantity: a column of every row of numbers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Column {
    /// short name, as in the heads of CSV files
    pub name: Channel,
    /// SI unit
    pub unit: String,
    /// meaning
    pub meaning: String,
}

impl Column {
    /// The columns of every record, in the order of their channels.
    pub fn all() -> Vec<Self> {
        let column = |name: Channel| Self { name, unit: name.unit().to_owned(), meaning: name.meaning().to_owned() };
        Channel::ALL.map(column).into()
    }
}
