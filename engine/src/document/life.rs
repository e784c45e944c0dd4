//! Use and life of the parts of a run.

use crate::names::Part;
use serde::{Deserialize, Serialize};

/// Use of one part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PartUse {
    /// the part
    pub part: Part,
    /// use at the end, from 0
    pub used: f64,
    /// time to its limit if the duty continues at the run's rate, s from the start; none if it is not being used up, or
    /// if oil loss is not steady
    pub life: Option<f64>,
    /// running time until then, s
    #[serde(default)]
    pub running: Option<f64>,
    /// (time s, use) over the run, one per window
    pub curve: Vec<f64>,
}

/// Result of a block repeated until a part is worn out or the time is over.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Horizon {
    /// blocks simulated in full, including those of rejected jumps
    pub blocks_run: u64,
    /// blocks skipped
    pub blocks_skipped: u64,
    /// whether the duty reads the ride: its blocks may differ, so all of them were simulated
    #[serde(default)]
    pub reads: bool,
    /// jumps rejected because of their error
    pub jumps_taken_back: u64,
    /// recurring pieces inside the block; none if the block itself was skipped
    #[serde(default)]
    pub inside: Vec<Inside>,
    /// estimated errors of skipping
    pub errors: Vec<Missed>,
    /// use of the parts at the ends of blocks, in order
    pub points: Vec<LifePoint>,
    /// time at which each part reached its limit, s, in the order of the parts
    pub ends: Vec<Option<f64>>,
    /// running time at that moment, s
    #[serde(default)]
    pub running: Vec<Option<f64>>,
    /// time at which oil service was due, s
    pub service_due: Option<f64>,
    /// running time at that moment, s
    #[serde(default)]
    pub service_running: Option<f64>,
    /// the part that reached its limit first, oil excluded
    pub ended_by: Option<Part>,
}

impl Horizon {
    /// The first part at its limit, oil excluded: part, time, s, and running time at that moment, s.
    pub fn first_worn(&self) -> Option<(Part, f64, Option<f64>)> {
        let ends = Part::ALL.into_iter().zip(&self.ends).filter(|(part, _)| part.wears());
        let (part, end) = ends.filter_map(|(part, end)| Some((part, (*end)?))).min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some((part, end, self.running.get(part as usize).copied().flatten()))
    }
}

/// A piece that recurs inside a repeated block.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Inside {
    /// duration when it was last simulated, s
    pub lasts: f64,
    /// how often it was simulated
    pub run: u64,
    /// how often it was skipped
    pub skipped: u64,
}

/// Estimated error of one slow quantity.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Missed {
    /// name: oil mass (in pores, film and washer, kg), lining wear, bushing wear, washer wear (m), relaxation (1)
    pub quantity: String,
    /// value at the end, SI
    pub value: f64,
    /// estimated error, SI
    pub error: f64,
}

/// Use of the parts at one time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct LifePoint {
    /// s
    pub time: f64,
    /// running time at that moment, s
    #[serde(default)]
    pub running: f64,
    /// use of each part, 0 new to 1 at its limit, in the order of the parts
    pub used: Vec<f64>,
}
