//! Settings that follow from geometry and masses unless they are set by hand.

use super::derived::ring;
use super::{Machine, Parameter, settings};
use std::f64::consts::PI;

/// Specific heat of the shoes' metal, J/(kg·K): steel.
const SHOES_HEAT: f64 = 460.0;
/// Moment of inertia of motor and carrier without the shoes, kg·m²: assumed, so that the whole is 0.021.
const MOTOR: f64 = 0.0203;
/// Moment of inertia of sprocket and drum hub, kg·m²: assumed.
const HUB: f64 = 0.8e-4;
/// Density and specific heat of porous bronze, kg/m³ and J/(kg·K).
const BRONZE: (f64, f64) = (6600.0, 380.0);
/// Specific heat of oil, J/(kg·K).
const OIL_HEAT: f64 = 2000.0;
/// Density and specific heat of vulcanised fibre, kg/m³ and J/(kg·K).
const FIBRE: (f64, f64) = (1203.0, 1687.0);
/// Relative difference below which a value counts as the one that follows.
const SAME: f64 = 1e-9;

/// A setting that follows, with its formula.
type Follows = (&'static Parameter, fn(&Machine) -> f64);

/// Settings that follow, each with its formula.
///
/// | setting | formula |
/// |---|---|
/// | motor inertia | 0.0203 kg·m² + n m r² |
/// | drum inertia | ρ 2π(R + t/2)³ t b + ½ρπ t_w R⁴ + 0.8e-4 kg·m² |
/// | web area | π(R² − (D/2)²), D the bushing's bore |
/// | web capacity | c ρ π R² t_w |
/// | bushing capacity | bronze, ρ c V, and the oil of full pores |
/// | washer capacity | ρ c V |
/// | shoes' capacity | (n m − ρ_l V_l) c, V_l the lining's volume |
/// | washer rim area | π d t |
///
/// Result: SI. Neglect: holes, fillets, the web's taper. Source: geometry; properties from tables of materials.
const FOLLOWING: &[Follows] = &[
    (&settings::motor::inertia, |m| {
        let c = &m.clutch;
        MOTOR + c.shoes * c.shoe_mass * c.shoe_radius * c.shoe_radius
    }),
    (&settings::drum::inertia, |m| {
        let d = &m.drum;
        let band = 2.0 * PI * (d.radius + 0.5 * d.wall).powi(3) * d.wall * d.band;
        d.density * (band + 0.5 * PI * d.web * d.radius.powi(4)) + HUB
    }),
    (&settings::drum::web_area, |m| ring(m.bushing.bore, 2.0 * m.drum.radius)),
    (&settings::heat::web, |m| {
        let d = &m.drum;
        d.specific_heat * d.density * PI * d.radius * d.radius * d.web
    }),
    (&settings::heat::bushing, |m| {
        let b = &m.bushing;
        let bronze = BRONZE.0 * BRONZE.1 * ring(b.bore, b.outside) * b.length;
        bronze + OIL_HEAT * m.oil.density_15 * b.pore_volume()
    }),
    (&settings::heat::washer, |m| {
        let w = &m.washer;
        FIBRE.0 * FIBRE.1 * ring(w.inside, w.outside) * w.thickness
    }),
    (&settings::heat::shoes, |m| (m.clutch.shoes * m.clutch.shoe_mass - m.lining_mass()) * SHOES_HEAT),
    (&settings::washer::rim_area, |m| PI * m.washer.outside * m.washer.thickness),
];

/// A setting that was set by hand though it could follow.
#[derive(Clone, Copy)]
pub struct ByHand {
    /// the setting
    pub setting: &'static Parameter,
    /// its value, SI
    pub value: f64,
    /// value that would follow, SI
    pub follows: f64,
}

/// The settings that could follow, each with the value that follows, within its range.
fn following(machine: &Machine) -> impl Iterator<Item = (&'static Parameter, f64)> + '_ {
    FOLLOWING.iter().map(|&(p, of)| (p, of(machine).max(p.least).min(p.most)))
}

impl Machine {
    /// Changes settings; those that followed from geometry and masses before follow again, unless they are changed
    /// themselves.
    ///
    /// ```
    /// use slipsoak_engine::parts::Machine;
    /// let mut machine = Machine::default();
    /// machine.change(|m| m.drum.radius = 0.060);
    /// assert!((machine.heat.web - 156.2).abs() < 0.1); // 112 J/K at 50.8 mm, and it goes as the square
    /// machine.change(|m| m.heat.web = 120.0);
    /// machine.change(|m| m.drum.radius = 0.050);
    /// assert_eq!(machine.heat.web, 120.0); // set by hand
    /// ```
    pub fn change<T>(&mut self, edit: impl FnOnce(&mut Self) -> T) -> T {
        let near = |a: f64, b: f64| (a - b).abs() <= SAME * b.abs();
        let followed: Vec<_> = following(self)
            .map(|(p, follows)| (p, (p.of)(self), follows))
            .filter(|&(_, now, follows)| near(now, follows))
            .collect();
        let result = edit(self);
        let new: Vec<_> = following(self).collect();
        for (p, before, _) in followed {
            let unchanged = (p.of)(self).to_bits() == before.to_bits();
            if let (true, Some((_, value))) = (unchanged, new.iter().find(|n| n.0 == p)) {
                (p.put)(self, *value);
            }
        }
        result
    }

    /// Sets all that can follow from geometry and masses.
    pub(super) fn follow(mut self) -> Self {
        let all: Vec<_> = following(&self).collect();
        for (p, value) in all {
            (p.put)(&mut self, value);
        }
        self
    }

    /// Settings that could follow from geometry and masses but have another value.
    pub fn by_hand(&self) -> Vec<ByHand> {
        following(self)
            .map(|(setting, follows)| ByHand { setting, value: (setting.of)(self), follows })
            .filter(|s| (s.value - s.follows).abs() > SAME * s.follows.abs())
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_s_defaults_are_those_that_follow() {
        for (p, value) in following(&Machine::default()) {
            assert!(
                (p.default / value - 1.0).abs() < 1e-3,
                "{}: {} follows, {} in the table",
                p.path,
                value,
                p.default
            );
        }
    }
}
