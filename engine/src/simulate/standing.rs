//! Condition of a machine as an inspection would find it.

use super::simulation::Simulation;
use crate::life::Pair;
use crate::model::{slow, state};

/// Wear, oil and ageing of a machine, as far as readings depend on them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Worn {
    /// wear depth of each pair, m
    pub(crate) depth: [f64; Pair::COUNT],
    /// share of spring preload lost
    pub relaxation: f64,
    /// oil in the bushing's pores, kg
    pub pores: f64,
    /// oil in its clearance, kg
    pub film: f64,
    /// oxidation of that oil, 0 to 1
    pub oxidation: f64,
    /// score of the bushing, 0 to 1
    pub score: f64,
    /// share of its life that heat has taken from the washer
    pub dose: f64,
}

impl Worn {
    /// Wear depth of a pair, m.
    pub(crate) const fn of(&self, pair: Pair) -> f64 {
        self.depth[pair as usize]
    }

    fn towards(&self, to: &Self, share: f64) -> Self {
        let at = |a: f64, b: f64| a + share * (b - a);
        Self {
            depth: std::array::from_fn(|k| at(self.depth[k], to.depth[k])),
            relaxation: at(self.relaxation, to.relaxation),
            pores: at(self.pores, to.pores),
            film: at(self.film, to.film),
            oxidation: at(self.oxidation, to.oxidation),
            score: at(self.score, to.score),
            dose: at(self.dose, to.dose),
        }
    }
}

/// Condition of a machine with the drum removed, cold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Standing {
    /// time since the start, s
    pub clock: f64,
    /// hour meter: running time of the motor, s
    pub running: f64,
    /// number of launches
    pub launches: f64,
    /// wear, oil and ageing
    pub worn: Worn,
}

impl Standing {
    /// Interpolation to another condition at this share of the way.
    #[must_use]
    pub fn towards(&self, to: &Self, share: f64) -> Self {
        let at = |a: f64, b: f64| a + share * (b - a);
        Self {
            clock: at(self.clock, to.clock),
            running: at(self.running, to.running),
            launches: at(self.launches, to.launches),
            worn: self.worn.towards(&to.worn, share),
        }
    }
}

impl Simulation {
    /// The present condition of the machine.
    pub fn standing(&self) -> Standing {
        Standing {
            clock: self.time,
            running: self.running(),
            launches: self.assembly.launches,
            worn: Worn {
                depth: Pair::ALL.map(|pair| self.assembly.depth(pair, &self.slow)),
                relaxation: self.slow[slow::RELAXATION],
                pores: self.y[state::PORES],
                film: self.y[state::FILM],
                oxidation: self.slow[slow::OXIDATION],
                score: self.y[state::SCORE],
                dose: self.slow[slow::DOSE],
            },
        }
    }
}
