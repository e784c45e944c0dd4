//! The calibration: learned constants with the evidence for them.

use super::Is;
use super::head::Head;
use super::sound::{filled, require, sound};
use crate::names::{Channel, Condition, IdleKind, LiningKind, Quantity};
use crate::spread::Known;
use crate::statistics::Bounds;
use serde::{Deserialize, Serialize};

/// Constants learned from data, for any script to use.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Calibration {
    /// kind of document
    pub kind: Is<Calibration>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// the machine fitted
    pub machine: String,
    /// its lining: what was learned of its wear holds for no other kind
    pub lining_kind: LiningKind,
    /// the data
    pub data: Vec<Source>,
    /// what holds the motor's idle, if drops under a known drag show it
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub idle_kind: Option<IdleKind>,
    /// learned constants
    pub constants: Vec<Learned>,
    /// correlation of the errors of their logarithms, in the same order
    pub correlation: Vec<Vec<f64>>,
    /// depths lost in running in, if they were fitted
    pub running_in: Vec<RunningIn>,
    /// thermocouples of the logs, if any
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub thermocouples: Vec<Thermocouple>,
    /// quality of the fit
    pub quality: Quality,
}

impl Calibration {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        filled(&self.constants, "constants")?;
        let square = self.correlation.len() == self.constants.len()
            && self.correlation.iter().all(|row| row.len() == self.constants.len());
        require(square, "correlation", "it has not a row and a column for each constant")?;
        let delays = self.thermocouples.iter().flat_map(|t| [t.clock, t.clock_error, t.lag, t.lag_error, t.offset]);
        sound(delays, "thermocouples")?;
        require(self.thermocouples.iter().all(|t| t.lag >= 0.0), "thermocouples.lag", "it is negative")?;
        sound(self.constants.iter().flat_map(|l| [l.before, l.value]), "constants")
    }
}

/// A file of data.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// its name, without its folder
    pub file: String,
    /// SHA-256 of its text, hexadecimal
    pub hash: String,
    /// the duty it was fitted with
    pub duty: String,
    /// readings used
    pub used: u64,
    /// readings set aside: readings during running-in, or readings that no fitted constant affects
    pub set_aside: u64,
}

/// A learned constant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Learned {
    /// dotted path of the setting
    pub path: String,
    /// SI unit
    pub unit: String,
    /// value used before, SI
    pub before: f64,
    /// prior: with 90 % probability the constant lies between `before` divided and multiplied by this
    pub before_factor: f64,
    /// fitted value, SI
    pub value: f64,
    /// fit: with 90 % confidence the constant lies between `value` divided and multiplied by this
    pub factor: f64,
    /// spread between clutches: 90 % of them lie between the value divided and multiplied by this; 1 if fewer than
    /// three were inspected, or if they differ no more than their readings scatter
    pub clutches_factor: f64,
    /// factor for a new clutch, both of the above together: the spread that a fleet uses
    pub spread: f64,
    /// measured quantities that depend on it
    pub from: Vec<String>,
}

impl From<&Learned> for Known {
    /// What it left open for a new clutch.
    fn from(one: &Learned) -> Self {
        Self { path: one.path.clone(), factor: one.spread }
    }
}

/// Depth lost by a part in running in.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct RunningIn {
    /// part
    pub part: String,
    /// depth, m
    pub depth: f64,
    /// standard error, m
    pub error: f64,
}

/// What a fit found of a thermocouple and the clock of its log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Thermocouple {
    /// file of the log
    pub file: String,
    /// where it measures
    pub place: Channel,
    /// what the log's clock shows as the duty starts, s
    pub clock: f64,
    /// standard error, s
    pub clock_error: f64,
    /// time constant of the sensor, s; 0 where none is seen
    pub lag: f64,
    /// standard error, s
    pub lag_error: f64,
    /// what it reads above the fitted model, K
    pub offset: f64,
}

/// Quality of the fit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Quality {
    /// sum of the squares of (predicted − measured)/deviation
    pub sum: f64,
    /// number of readings less the number of constants fitted without a prior
    pub freedom: u64,
    /// factor by which errors were widened because the readings scatter more than stated
    pub widened: f64,
    /// number of searches, and how many of them agree on the result
    pub searches: (u64, u64),
}

/// A chart of data against the fit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Evidence {
    /// the part or node
    pub name: String,
    /// quantity read at inspections; none for a thermocouple
    pub quantity: Option<Quantity>,
    /// SI unit of the measured quantity
    pub unit: String,
    /// conditions under which it was read, if it depends on any
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub under: Vec<Stated>,
    /// whether the abscissa counts launches; else it is time, s
    pub by_launches: bool,
    /// readings
    pub readings: Vec<Reading>,
    /// points of the curve: abscissa, value before the fit, fitted value, and limits of the fit's 90 % band; SI
    pub curve: Vec<[f64; 5]>,
}

/// A condition of readings.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stated {
    /// its name, that of its column
    pub name: Condition,
    /// SI unit
    pub unit: String,
    /// value, SI
    pub value: f64,
}

/// One reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// clutch, or file of a log
    pub of: String,
    /// time, s, or launches
    pub at: f64,
    /// value less the offset of its clutch or thermocouple, SI; of a log its time is less that of its clock
    pub value: f64,
    /// half width of the interval that holds 90 % of readings, SI
    pub scatter: f64,
}

/// Report of one calibration.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Told {
    /// kind of document
    pub kind: Is<Told>,
    /// learned constants, for scripts to use
    pub calibration: Calibration,
    /// data against the fit
    pub evidence: Vec<Evidence>,
    /// lives of a small fleet before and after, if requested
    pub forecast: Option<Forecast>,
}

impl Told {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        self.calibration.consistent()?;
        for e in &self.evidence {
            let of = format!("evidence, {}", e.name);
            filled(&e.readings, &of)?;
            require(e.curve.len() > 1, &of, "its curve has fewer than two points")?;
            let readings = e.readings.iter().flat_map(|r| [r.at, r.value, r.scatter]);
            sound(readings.chain(e.curve.iter().flatten().copied()), &of)?;
        }
        Ok(())
    }
}

/// Lives of a fleet with the constants before and after the calibration.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// duty
    pub duty: String,
    /// number of clutches
    pub clutches: u64,
    /// horizon, s
    pub horizon: f64,
    /// B10, B50, B90 with the constants used before, s
    pub before: [Bounds; 3],
    /// B10, B50, B90 with the learned constants, s
    pub after: [Bounds; 3],
}
