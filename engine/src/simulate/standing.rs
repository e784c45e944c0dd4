//! What an inspection would find on a machine under way.

use super::ride::Simulation;
use crate::life::{Pair, Worn};
use crate::model::{slow, state};
use crate::names::Part;

/// How a machine stands when the drum is taken off, cold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Standing {
    /// since the start, s
    pub clock: f64,
    /// hour meter: time that the motor ran, s
    pub running: f64,
    /// launches
    pub launches: f64,
    reads: [f64; Part::COUNT],
}

impl Standing {
    /// What an inspection reads off a part, SI; 0 for one that it does not read.
    pub const fn of(&self, part: Part) -> f64 {
        self.reads[part as usize]
    }

    /// What lies between two, at a share of the way from this one.
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
    /// How the machine stands now.
    pub fn standing(&self) -> Standing {
        let worn = Worn {
            depth: &self.worn[..Pair::COUNT],
            relaxation: self.worn[slow::RELAXATION],
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
