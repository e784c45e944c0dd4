//! Quantities derived from a machine's settings.

use super::settings::springs;
use super::{Bushing, Machine, Oil, Parameter};
use crate::laws::margin::Tolerances;
use crate::laws::{deviates, margin, oil, shoe};
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

/// Largest number of shoes that are followed one by one.
pub(crate) const MOST_SHOES: usize = 6;

/// Settings of the single springs, in their order.
pub static SPRINGS: [&Parameter; MOST_SHOES] =
    [&springs::first, &springs::second, &springs::third, &springs::fourth, &springs::fifth, &springs::sixth];

/// Whether springs that engage at this speed when new are not above their limit, a margin over the idle, or nearer to the idle than
/// its usual variation and the assumed tolerances take, rad/s.
pub(crate) fn below_limit(engages: f64, shoes: u32, idle: f64, limit: f64) -> bool {
    engages - idle <= limit.max(margin::needed(engages, shoes, idle, margin::VARIATION))
}

impl Machine {
    /// Whether the springs differ from one another.
    pub fn one_by_one(&self) -> bool {
        let shares = self.spring_shares();
        shares.iter().any(|share| share.to_bits() != shares[0].to_bits())
    }

    /// Force of each shoe's spring over the nominal one: of its lot, of its own, and by its place in a set that scatters.
    /// ```text
    /// f_i = f_lot f_own,i (1 + s E_i),   E_i the expected i-th smallest of n normal deviates
    /// ```
    /// The first of an evenly scattered set is the weakest.
    pub fn spring_shares(&self) -> Vec<f64> {
        let s = &self.springs;
        let own = SPRINGS.map(|p| (p.of)(self));
        let places = deviates::normal_scores(self.clutch.shoes.round() as u32);
        let share = |i: usize| s.lot * own.get(i).unwrap_or(&1.0) * (1.0 + s.scatter * places[i]);
        (0..places.len()).map(share).collect()
    }

    /// Fits a new set of springs: a weak or broken one of the old set is gone, and so is its lot. The scatter stays. Of which lot the
    /// new set is nobody knows; margins over the idle allow for it.
    ///
    /// ```
    /// let mut machine = slipsoak_engine::parts::Machine::default();
    /// machine.springs.second = 0.0; // broken
    /// machine.springs.lot = 1.1; // stiff
    /// machine.fit_set();
    /// assert_eq!(machine.first_touch(), machine.clutch.engagement);
    /// ```
    pub fn fit_set(&mut self) {
        self.renew_set();
        self.springs.lot = 1.0;
    }

    /// Fits a new set of springs of the same lot.
    pub(crate) fn renew_set(&mut self) {
        let s = &mut self.springs;
        (s.first, s.second, s.third, s.fourth, s.fifth, s.sixth) = (1.0, 1.0, 1.0, 1.0, 1.0, 1.0);
    }

    /// Temperature that a start must not bring the lining over, K: its limit, or that of its bond.
    pub(crate) fn lining_limit(&self) -> f64 {
        self.limits.lining_most.min(self.limits.lining_bond)
    }

    /// Scatter that a margin over the idle has to cover: that of its own springs, if it gives one, or else the assumed one.
    pub fn tolerances(&self) -> Tolerances {
        let (own, assumed) = (self.springs.scatter, Tolerances::assumed(self.motor.idle));
        Tolerances { spring: if own > 0.0 { own } else { assumed.spring }, ..assumed }
    }

    /// Force of the weakest spring over the nominal one: its shoe touches first.
    pub fn weakest_spring(&self) -> f64 {
        self.spring_shares().into_iter().fold(f64::INFINITY, f64::min)
    }

    /// Spring preload per shoe at rest, N: F0 = m r ω_e² − k_s c.
    pub fn preload(&self) -> f64 {
        let c = &self.clutch;
        c.shoe_mass * c.shoe_radius * c.engagement * c.engagement - c.spring_rate * c.gap
    }

    /// Engagement speed at 20 °C, rad/s, with this share of the springs' preload lost and this depth of the lining worn, m.
    pub fn cold_engagement(&self, relaxation: f64, worn: f64) -> f64 {
        let c = &self.clutch;
        let force = shoe::spring_force(self.preload(), relaxation, 0.0, c.spring_rate, c.gap + worn, 293.15_f64)
            * self.weakest_spring();
        shoe::engagement_speed(c.shoe_mass, c.shoe_radius + worn, force.max(0.0))
    }

    /// Force of the weakest spring over that of the middle one, and of the middle one over the nominal: of most springs, a weak
    /// one apart.
    ///
    /// ```
    /// let mut machine = slipsoak_engine::parts::Machine::default();
    /// machine.springs.second = 0.7;
    /// assert_eq!(machine.weakest_of_middle(), (0.7, 1.0));
    /// ```
    pub fn weakest_of_middle(&self) -> (f64, f64) {
        let mut shares = self.spring_shares();
        shares.sort_by(f64::total_cmp);
        let middle = shares[shares.len() / 2];
        (if middle > 0.0 { shares[0] / middle } else { 0.0 }, middle)
    }

    /// Speed at which the new clutch engages at 20 °C, rad/s: the shoe with the weakest spring touches. 0 if that spring is
    /// broken.
    /// ```
    /// use slipsoak_engine::{parts::Machine, units::rpm};
    /// let mut machine = Machine::default();
    /// assert_eq!(machine.first_touch(), machine.clutch.engagement);
    /// machine.springs.second = 0.25;
    /// assert!((machine.first_touch() - rpm(1000.0)).abs() < 1e-9);
    /// ```
    pub fn first_touch(&self) -> f64 {
        if self.weakest_spring() == 1.0 { self.clutch.engagement } else { self.cold_engagement(0.0, 0.0) }
    }

    /// Whether the springs are too near to the idle when new: given so, not relaxed by use. Then they are below their limit from the
    /// start, and no time until that is given, which for springs just above the limit would be some minutes.
    pub fn springs_below_limit(&self) -> bool {
        let (idle, shoes) = (self.motor.idle, self.clutch.shoes.round() as u32);
        below_limit(self.first_touch(), shoes, idle, self.limits.spring_margin)
    }

    /// Road speed per speed of the drum, m.
    pub fn speed_per_drum(&self) -> f64 {
        self.vehicle.wheel_radius / self.vehicle.ratio
    }

    /// Radius at which the chain pulls, m.
    /// ```text
    /// r_s = p/(2 sin(π/z))
    /// ```
    pub fn sprocket_pitch_radius(&self) -> f64 {
        self.drum.pitch / (2.0 * (PI / self.drum.teeth).sin())
    }

    /// Area of the lining of all shoes, m².
    pub fn lining_area(&self) -> f64 {
        self.lining.arc_share * 2.0 * PI * self.drum.radius * self.lining.width
    }

    /// Conductance of the washer to a face on its ring out to a diameter, W/K: half its thickness and one contact.
    pub fn washer_conductance(&self, outside: f64) -> f64 {
        let w = &self.washer;
        let area = ring(w.inside, outside.min(w.outside)).max(0.0);
        area / (1.0 / w.contact + 0.5 * w.thickness / w.conductivity)
    }

    /// Mass of the lining of all shoes when new, kg.
    /// ```text
    /// ρ V,   V = a π(R² − (R − t)²) b,   a the lined share of the circumference
    /// ```
    pub fn lining_mass(&self) -> f64 {
        self.lining.density * self.lining_volume()
    }

    /// Volume of the lining of all shoes when new, m³.
    pub(crate) fn lining_volume(&self) -> f64 {
        let (l, outside) = (&self.lining, 2.0 * self.drum.radius);
        l.arc_share * ring(outside - 2.0 * l.thickness, outside) * l.width
    }

    /// Mass of a drop of an oil, kg, at 20 °C.
    pub fn drop_mass(&self, oil: &Oil) -> f64 {
        self.oiling.drop * oil::density::<f64>(oil.density_15, 293.15)
    }
}
