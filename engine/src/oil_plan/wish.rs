//! The question on oiling.

use crate::laws::margin::VARIATION;
use crate::parts::Machine;
use crate::spread::Known;
use crate::usage::Usage;

/// A question on oiling.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine with its oil
    pub machine: Machine,
    /// its use
    pub usage: Usage,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// riding in a week, s; none if unknown
    pub weekly: Option<f64>,
    /// drops of one service
    pub drops: f64,
    /// oil fill at which habits are compared
    pub found: f64,
    /// grease in the grooves to compare with none, m³ of oil
    pub grease: f64,
    /// idle variation to either side, rad/s
    pub wander: f64,
    /// what a calibration left open of the constants that it learned, which the machine has already
    pub known: Vec<Known>,
}

impl Wish {
    /// Default question: outings of 40 min, one a day, four drops, habits compared at a fill of 85 %, half a millilitre of
    /// grease.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        let (riding, day) = (2400.0, 86400.0);
        let (weekly, drops, found, grease, known) = (None, 4.0, 0.85, 0.5e-6, vec![]);
        Self { machine, usage, riding, rest: day - riding, weekly, drops, found, grease, wander: VARIATION, known }
    }
}
