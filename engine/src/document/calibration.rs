//! The calibration: constants that were learned, with all that tells where from.

use super::head::Head;
use super::kind::{Document, Is, Kind};
use super::sound::{filled, require, sound};
use crate::statistics::Bounds;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Constants learned from data, for any script to use.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Calibration {
    /// which kind of document it is
    pub kind: Is<Calibration>,
    /// what wrote it, from what, and how to get it again
    pub head: Head,
    /// the machine fitted
    pub machine: String,
    /// the data
    pub data: Vec<Source>,
    /// what was learned
    pub constants: Vec<Learned>,
    /// correlation of their errors' logarithms, in the same order
    pub correlation: Vec<Vec<f64>>,
    /// what running in took, where it was fitted
    pub running_in: Vec<RunningIn>,
    /// how well it fits
    pub quality: Quality,
}

impl Document for Calibration {
    const KIND: Kind = Kind::Calibration;

    fn head(&self) -> &Head {
        &self.head
    }

    fn check(&self) -> Result<(), String> {
        filled(&self.constants, "constants")?;
        let square = self.correlation.len() == self.constants.len()
            && self.correlation.iter().all(|row| row.len() == self.constants.len());
        require(square, "correlation", "it has not a row and a column for each constant")?;
        sound(self.constants.iter().flat_map(|l| [l.before, l.value]), "constants")
    }
}

/// A file of data.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
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
    /// readings set aside: of running-in, or of what no constant sought moves
    pub set_aside: u64,
}

/// A constant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Learned {
    /// dotted path of the setting
    pub path: String,
    /// SI unit
    pub unit: String,
    /// what was taken for it before, SI
    pub before: f64,
    /// 90 % of what was thought possible lay between that divided and multiplied by this
    pub before_factor: f64,
    /// what the data say, SI
    pub value: f64,
    /// with 90 % confidence it lies between that divided and multiplied by this
    pub factor: f64,
    /// clutches differ: 90 % of them lie between the value divided and multiplied by this, as far as the data show; 1 where
    /// fewer than three were seen, or they differ no more than their readings scatter
    pub clutches_factor: f64,
    /// a clutch not yet seen, both together: what a fleet is spread by
    pub spread: f64,
    /// what was measured that moves it
    pub from: Vec<String>,
}

/// What running in took off a part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunningIn {
    /// part
    pub part: String,
    /// depth, m
    pub depth: f64,
    /// standard error, m
    pub error: f64,
}

/// How well the fit fits.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Quality {
    /// sum of the squares of (predicted − measured)/deviation
    pub sum: f64,
    /// readings less what was fitted without prior
    pub freedom: u64,
    /// by how much errors were widened because the readings scatter more than stated
    pub widened: f64,
    /// searches, and how many of them came to the same place
    pub searches: (u64, u64),
}

/// A chart of data against the fit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Evidence {
    /// the part or node
    pub name: String,
    /// SI unit of what was measured
    pub unit: String,
    /// s for times, 1 for launches
    pub across: String,
    /// readings
    pub readings: Vec<Reading>,
    /// place, before the fit, fitted, and the fit's 90 % band: SI
    pub curve: Vec<[f64; 5]>,
}

/// One reading.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// clutch, or the file of a log
    pub of: String,
    /// time, s, or launches
    pub at: f64,
    /// value less the clutch's own level, SI
    pub value: f64,
    /// 90 % of readings lie within this of it
    pub scatter: f64,
}

/// Everything that is told of one calibration.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Told {
    /// which kind of document it is
    pub kind: Is<Told>,
    /// what scripts use
    pub calibration: Calibration,
    /// data against the fit
    pub evidence: Vec<Evidence>,
    /// lives of a small fleet before and after, where they were asked for
    pub forecast: Option<Forecast>,
}

impl Document for Told {
    const KIND: Kind = Kind::Told;

    fn head(&self) -> &Head {
        &self.calibration.head
    }

    fn check(&self) -> Result<(), String> {
        self.calibration.check()?;
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

/// Lives of a fleet before and after.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// duty
    pub duty: String,
    /// clutches
    pub clutches: u64,
    /// until when they were followed, s
    pub horizon: f64,
    /// B10, B50, B90 with what was known before, s
    pub before: [Bounds; 3],
    /// with what was learned
    pub after: [Bounds; 3],
}
