//! What an inspection would find on a machine under way.

use super::ride::Simulation;
use crate::model::{slow, state};

/// Density of sintered bronze with empty pores, kg/m³. Published property of the material, as in the table of heat.
const BRONZE: f64 = 6600.0;

/// How a machine stands when the drum is taken off, cold.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Standing {
    /// since the start, s
    pub clock: f64,
    /// hour meter: time that the motor ran, s
    pub running: f64,
    /// launches
    pub launches: f64,
    /// thickness of the washer, m
    pub washer: f64,
    /// play of the bushing on the shaft, across, m
    pub bushing: f64,
    /// thickness of the lining, m
    pub lining: f64,
    /// engagement speed at 20 °C, rad/s
    pub engagement: f64,
    /// weight of drum and bushing over that of the same with a dry, unworn bushing, kg: oil less bronze worn off
    pub weight: f64,
}

impl Standing {
    /// What lies between two, at a share of the way from this one.
    #[must_use]
    pub fn towards(&self, to: &Self, share: f64) -> Self {
        let at = |a: f64, b: f64| a + share * (b - a);
        Self {
            clock: at(self.clock, to.clock),
            running: at(self.running, to.running),
            launches: at(self.launches, to.launches),
            washer: at(self.washer, to.washer),
            bushing: at(self.bushing, to.bushing),
            lining: at(self.lining, to.lining),
            engagement: at(self.engagement, to.engagement),
            weight: at(self.weight, to.weight),
        }
    }
}

impl Simulation {
    /// How the machine stands now.
    pub fn standing(&self) -> Standing {
        let (m, worn) = (&self.assembly.machine, &self.worn);
        let c = &m.clutch;
        let force = m.preload() * (1.0 - worn[slow::RELAXATION]) + c.spring_rate * (c.gap + worn[slow::LINING]);
        let bronze = BRONZE * (1.0 - m.bushing.porosity) * worn[slow::BORE] * m.bushing.bore * m.bushing.length;
        Standing {
            clock: self.time,
            running: self.running(),
            launches: self.assembly.launches,
            washer: m.washer.thickness - worn[slow::WASHER],
            bushing: 2.0 * m.bushing.clearance + worn[slow::BORE],
            lining: m.lining.thickness - worn[slow::LINING],
            engagement: (force.max(0.0) / (c.shoe_mass * (c.shoe_radius + worn[slow::LINING]))).sqrt(),
            weight: self.y[state::PORES] + self.y[state::FILM] - bronze,
        }
    }
}
