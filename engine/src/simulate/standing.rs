//! Condition of a machine as an inspection would find it.

use super::simulation::Simulation;
use crate::life::{Pair, Worn};
use crate::model::{slow, state};
use crate::names::Part;

/// Condition of a machine with the drum removed, cold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Standing {
    /// time since the start, s
    pub clock: f64,
    /// hour meter: running time of the motor, s
    pub running: f64,
    /// number of launches
    pub launches: f64,
    reads: [f64; Part::COUNT],
}

impl Standing {
    /// Reading of a part at an inspection, SI; 0 for a part that is not read.
    pub const fn of(&self, part: Part) -> f64 {
        self.reads[part as usize]
    }

    /// Interpolation to another condition at this share of the way.
    #[must_use]
    pub fn towards(&self, to: &Self, share: f64) -> Self {
        let at = |a: f64, b: f64| a + share * (b - a);
        Self {
            clock: at(self.clock, to.clock),
            running: at(self.running, to.running),
            launches: at(self.launches, to.launches),
            reads: std::array::from_fn(|k| at(self.reads[k], to.reads[k])),
        }
    }
}

impl Simulation {
    /// The present condition of the machine.
    pub fn standing(&self) -> Standing {
        let worn = Worn {
            depth: &Pair::ALL.map(|pair| self.assembly.depth(pair, &self.slow)),
            relaxation: self.slow[slow::RELAXATION],
            oil: self.y[state::PORES] + self.y[state::FILM],
        };
        let read = |part: Part| part.row().inspection.as_ref().map_or(0.0, |read| (read.reads)(self.machine(), &worn));
        Standing {
            clock: self.time,
            running: self.running(),
            launches: self.assembly.launches,
            reads: Part::ALL.map(read),
        }
    }
}
