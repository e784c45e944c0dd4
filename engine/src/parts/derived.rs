//! Quantities derived from a machine's settings.

use super::{Bushing, Machine, Oil};
use crate::laws::{oil, shoe};
use std::f64::consts::PI;

/// Area of a ring between two diameters, m².
pub(crate) fn ring(inside: f64, outside: f64) -> f64 {
    PI / 4.0 * (outside * outside - inside * inside)
}

impl Bushing {
    /// Volume of the pores at 20 °C, m³.
    pub fn pore_volume(&self) -> f64 {
        self.porosity * ring(self.bore, self.outside) * self.length
    }
}

impl Machine {
    /// Spring preload per shoe at rest, N: F0 = m r ω_e² − k_s c.
    pub fn preload(&self) -> f64 {
        let c = &self.clutch;
        c.shoe_mass * c.shoe_radius * c.engagement * c.engagement - c.spring_rate * c.gap
    }

    /// Engagement speed at 20 °C, rad/s, with this share of the springs' preload lost and this depth of the lining worn, m.
    pub fn cold_engagement(&self, relaxation: f64, worn: f64) -> f64 {
        let c = &self.clutch;
        let force = shoe::spring_force(self.preload(), relaxation, 0.0, c.spring_rate, c.gap + worn, 293.15_f64);
        shoe::engagement_speed(c.shoe_mass, c.shoe_radius + worn, force.max(0.0))
    }

    /// Road speed per speed of the drum, m.
    pub fn speed_per_drum(&self) -> f64 {
        self.vehicle.wheel_radius / self.vehicle.ratio
    }

    /// Lock-up speed, m/s: the road speed below which a slipping clutch does not lock up.
    /// ```text
    /// v = ω_e r_w/i
    /// ```
    pub fn lock_up_speed(&self) -> f64 {
        self.clutch.engagement * self.speed_per_drum()
    }

    /// Area of the lining of all shoes, m².
    pub fn lining_area(&self) -> f64 {
        self.lining.arc_share * 2.0 * PI * self.drum.radius * self.lining.width
    }

    /// Mass of a drop of an oil, kg, at 20 °C.
    pub fn drop_mass(&self, oil: &Oil) -> f64 {
        self.oiling.drop * oil::density::<f64>(oil.density_15, 293.15)
    }
}
