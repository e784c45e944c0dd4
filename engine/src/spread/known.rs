//! Constants that a calibration learned, in place of what is assumed of them.

use crate::names::Part;
use crate::parts::Parameter;
use serde::{Deserialize, Serialize};

/// What a calibration left open of a constant.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Known {
    /// dotted path of the setting
    pub path: String,
    /// factor either way that holds 90 % of new clutches, the error of what was learned included
    pub factor: f64,
}

impl Known {
    /// Whether the life of a part goes with it.
    pub fn of_life(&self) -> bool {
        Part::ALL.iter().flat_map(|part| part.constants()).any(|p| p.path == self.path)
    }

    /// Factor of a constant, if it is among those learned; never below 1.
    pub fn factor_of(known: &[Self], p: &Parameter) -> Option<f64> {
        known.iter().find(|one| one.path == p.path).map(|one| one.factor.max(1.0))
    }
}
