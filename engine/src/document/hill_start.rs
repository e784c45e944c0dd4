//! A start on a slope, from where a use leaves the clutch hottest.

use serde::{Deserialize, Serialize};

/// Longest time in which a start has to lock up where a slope is said to be one on which a machine starts, s.
const SOON: f64 = 30.0;

/// One start at full throttle on a slope, from the hottest stop of a use. SI units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct HillStart {
    /// slope, rise over run
    pub grade: f64,
    /// time until the clutch locks, s; none if it does not
    pub locks: Option<f64>,
    /// slip energy until it locks, J
    pub heat: f64,
    /// highest temperature of the lining's rubbed face, K
    pub lining: f64,
    /// highest temperature of the shoes and their springs, K
    pub shoes: f64,
    /// mean slip power, W, of a clutch that burns: above its limit for longer than a rider bears it
    pub burns: Option<f64>,
}

impl HillStart {
    /// Whether it locks up within half a minute, does not burn, and leaves the lining within this limit, K.
    pub fn is_borne(&self, limit: f64) -> bool {
        self.locks.is_some_and(|time| time <= SOON) && self.burns.is_none() && self.lining <= limit
    }
}
