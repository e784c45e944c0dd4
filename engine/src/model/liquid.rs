//! The oil as a liquid: what depends on its temperature alone, and the room it has in pores and clearance.

use super::assembly::Assembly;
use super::tabulated::Tabulated;
use crate::laws::oil;
use crate::parts::Machine;
use crate::real::Real;
use std::sync::Arc;

/// What depends on the oil's temperature alone: its laws, and their tables over the temperatures at which oil is usually found.
#[derive(Clone, Debug)]
pub(crate) struct Liquid {
    walther: oil::Walther,
    density_15: f64,
    evaporation: [f64; 2],
    tables: Arc<Tabulated<4>>,
}

const DENSITY: usize = 0;
const VISCOSITY: usize = 1;
const THINNING: usize = 2;
const EVAPORATION: usize = 3;
/// First temperature of the tables, K, and how far they reach.
const TABLES: (f64, usize) = (233.15, 420);

impl Liquid {
    /// That of a machine; what there was before, if its oil is still the same.
    pub fn of(machine: &Machine, before: Option<Self>) -> Self {
        let (oil, dries) = (&machine.oil, &machine.oiling);
        let walther = oil::Walther::through(313.15, oil.viscosity_40, 373.15, oil.viscosity_100);
        let (density_15, evaporation) = (oil.density_15, [dries.evaporation, dries.evaporation_energy]);
        let same = |b: &Self| (b.walther, b.density_15, b.evaporation) == (walther, density_15, evaporation);
        before.filter(same).unwrap_or_else(|| {
            let mut made = Self { walther, density_15, evaporation, tables: Arc::default() };
            made.tables = Arc::new(Tabulated::of(TABLES.0, TABLES.1, |t| made.laws(t)));
            made
        })
    }

    fn laws<R: Real>(&self, t: R) -> [R; 4] {
        let (density, (kinematic, falls)) = (oil::density(self.density_15, t), self.walther.falling(t));
        let [at_100, energy] = self.evaporation;
        let thinning = falls + oil::expansion(self.density_15, t);
        [density, kinematic * density, thinning, oil::evaporation(at_100, energy, t)]
    }
}

impl Assembly {
    /// Oil density, kg/m³.
    pub(crate) fn density<R: Real>(&self, t: R) -> R {
        self.liquid.tables.at(DENSITY, t).unwrap_or_else(|| self.liquid.laws(t)[DENSITY])
    }
    /// Dynamic viscosity, Pa·s.
    pub(crate) fn viscosity<R: Real>(&self, t: R) -> R {
        self.liquid.tables.at(VISCOSITY, t).unwrap_or_else(|| self.liquid.laws(t)[VISCOSITY])
    }
    /// Share of the dynamic viscosity lost per kelvin, 1/K.
    pub(crate) fn thinning<R: Real>(&self, t: R) -> R {
        self.liquid.tables.at(THINNING, t).unwrap_or_else(|| self.liquid.laws(t)[THINNING])
    }
    /// Filled share of the running clearance.
    pub(crate) fn fill<R: Real>(&self, film: R, t: R) -> R {
        self.filled(film / self.density(t))
    }
    /// Share of the running clearance that a volume fills.
    pub(crate) fn filled<R: Real>(&self, volume: R) -> R {
        (volume / self.clearance_volume).max(R::from(0.0)).min(R::from(1.0))
    }
    /// Volume of the pores, m³.
    pub(crate) fn pore_volume<R: Real>(&self, t: R) -> R {
        ((t - 293.15) * self.machine.bushing.expansion + 1.0) * self.pore_volume_20
    }
    /// Evaporation, kg/(m²·s).
    pub(crate) fn evaporation<R: Real>(&self, t: R) -> R {
        self.liquid.tables.at(EVAPORATION, t).unwrap_or_else(|| self.liquid.laws(t)[EVAPORATION])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::real::Dual;

    /// The laws themselves, between the tables' nodes and beyond their ends.
    #[test]
    fn tables_of_the_oil_have_the_values_of_its_laws_and_nearly_their_slopes() {
        let a = Assembly::new(Machine::default()).expect("a machine");
        for k in -40..1300 {
            let t = Dual::<1>::variable(235.0 + 0.37 * f64::from(k), 0);
            let found = [a.density(t), a.viscosity(t), a.thinning(t), a.evaporation(t)];
            // Cold oil thickens by a seventh per kelvin.
            let allowed = if t.v < 283.15 { 1e-5 } else { 2e-6 };
            for (found, law) in found.iter().zip(a.liquid.laws(t)) {
                assert!((found.v / law.v - 1.0).abs() < allowed, "{} for {} at {} K", found.v, law.v, t.v);
                let slopes = (found.d[0], law.d[0]);
                assert!((slopes.0 - slopes.1).abs() <= 50.0 * allowed * slopes.1.abs(), "{slopes:?} at {} K", t.v);
            }
        }
    }

    #[test]
    fn another_oil_has_its_own_tables_and_the_same_oil_keeps_them() {
        let (mut machine, thin) = (Machine::default(), crate::parts::Oil::named("SAE 20").expect("an oil"));
        let one = Liquid::of(&machine, None);
        assert!(Arc::ptr_eq(&one.tables, &Liquid::of(&machine, Some(one.clone())).tables));
        machine.oil = thin;
        let other = Liquid::of(&machine, Some(one.clone()));
        let viscosity = |liquid: &Liquid| liquid.tables.at(VISCOSITY, 320.0_f64).expect("within");
        assert!(viscosity(&other) < 0.9 * viscosity(&one));
    }
}
