//! Further values of a simulation besides its channels.

use super::simulation::Simulation;
use crate::document::record::Extremes;
use crate::model::state;

impl Simulation {
    /// Friction of the oiled lining as a share of its dry friction, 0 to 1.
    /// ```text
    /// (1 − ζ) + ζ μ_wet/μ0
    /// ```
    /// μ_wet is that of the mixture on the lining and in its pores: the share that wipes off and the share that lasts.
    pub fn grip(&self) -> f64 {
        self.assembly.grip(&self.y)
    }

    /// Mass of oil in the pores of a full bushing, kg.
    pub fn full_mass(&self) -> f64 {
        self.assembly.full_mass
    }

    /// Oil fill of the washer, 0 to 1.
    pub fn soaked(&self) -> f64 {
        (self.y[state::WASHER_OIL] / self.assembly.washer_full).clamp(0.0, 1.0)
    }

    /// Room for more oil in the pores at the bushing's present temperature, kg: hot oil takes up more of it.
    /// ```text
    /// m = ρ(T) V(T) − m_pores
    /// ```
    pub(crate) fn room(&self) -> f64 {
        let (a, t) = (&self.assembly, self.y[state::BUSHING]);
        (a.density(t) * a.pore_volume(t) - self.y[state::PORES]).max(0.0)
    }

    /// Extremes of the segment that ended last; none if nothing is recorded.
    pub(crate) fn ended(&self) -> Option<&Extremes> {
        let last = self.segments.last().filter(|last| last.end >= self.time)?;
        (!last.extremes.most.is_empty()).then_some(&last.extremes)
    }
}
