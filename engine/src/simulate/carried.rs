//! Slowly changing quantities of a machine, read and set to carry it from outing to outing.

use super::simulation::Simulation;
use crate::life::Pair;
use crate::model::{slow, state};

/// Indices of the slow quantities.
pub(crate) const OIL: usize = 0;
pub(crate) const GREASE: usize = 1;
const SLOW: usize = 2;
pub(crate) const LINING: usize = SLOW + slow::LINING;
pub(crate) const BORE: usize = SLOW + slow::depth(Pair::Bore);
pub(crate) const RELAXATION: usize = SLOW + slow::RELAXATION;
pub(crate) const DOSE: usize = SLOW + slow::DOSE;
pub(crate) const WASHER: usize = SLOW + slow::depth(Pair::Washer);
pub(crate) const AGE: usize = SLOW + slow::AGE;
pub(crate) const OXIDATION: usize = SLOW + slow::OXIDATION;
pub(crate) const TURNING: usize = SLOW + slow::TURNING_TIME;
pub(crate) const SCORE: usize = SLOW + slow::COUNT;

impl Simulation {
    /// Slow quantities: oil of pores, film and washer together and grease, kg, then wear depths and ageing,
    /// and the score of the bushing.
    pub(crate) fn slow(&self) -> Vec<f64> {
        let oil = self.y[state::PORES] + self.y[state::FILM] + self.y[state::WASHER_OIL];
        [oil, self.y[state::GREASE]]
            .into_iter()
            .chain(self.slow.iter().copied())
            .chain([self.y[state::SCORE]])
            .collect()
    }

    /// Sets the slow quantities. Temperatures and the film keep their values, and the ledgers no longer close: only for
    /// simulations that are read, never finished.
    pub(crate) fn carry(&mut self, values: &[f64]) {
        let values: Vec<f64> = values.iter().map(|value| value.max(0.0)).collect();
        self.y[state::PORES] = (values[OIL] - self.y[state::FILM] - self.y[state::WASHER_OIL]).max(0.0);
        self.y[state::GREASE] = values[GREASE];
        self.slow.copy_from_slice(&values[SLOW..SCORE]);
        self.y[state::SCORE] = values[SCORE].min(1.0);
        self.slow[slow::OXIDATION] = self.slow[slow::OXIDATION].min(1.0);
        self.assembly.settle(self.time, &mut self.y, &self.slow);
    }

    /// Sets some slow quantities, all shoes worn alike. The ledgers no longer close: only for simulations that are read.
    pub(crate) fn start_worn(&mut self, worn: &[(usize, f64)]) {
        let mut values = self.slow();
        for (index, value) in worn {
            values[*index] = *value;
            if *index == LINING {
                values[SLOW + slow::SHOES..SCORE].fill(*value);
            }
        }
        self.carry(&values);
    }
}
