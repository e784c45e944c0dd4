//! A sampled cart of a season: its uses and its oil, advanced day by day with the rates of the map.

mod hours;

use super::day::Day;
use super::gauge::{Gauge, PLACES, ease};
use super::map::Map;
use super::probe::Probe;
use super::store::{Around, Store, full};
use super::surface::of_two;
use super::warming::Now;
use super::workshop::{Cart, spare};
use crate::calendar::Date;
use crate::document::season::SPARES;
use crate::laws::wear::relaxed;
use crate::model::Assembly;
use crate::names::{Channel, Part};
use crate::parts::{Invalid, Machine};
use crate::spread::Levels;
use crate::units::MINUTE;

/// Rest of oil that is put on before opening, s.
pub const EARLY: f64 = 15.0 * MINUTE;

/// The slow quantities of a cart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Worn {
    pub lining: f64,
    pub bore: f64,
    pub washer: f64,
    pub oxidation: f64,
    pub charring: f64,
    pub ageing: f64,
    pub relaxation: f64,
    pub score: f64,
}

/// A cart that stands: rise of its bushing's temperature when it stopped, K, the date of that and the time after the opening, s, and
/// how long its oil has been carried since, s.
#[derive(Clone, Copy, Debug)]
struct Standing {
    rise: f64,
    since: (Date, f64),
    carried: f64,
}

/// A sampled cart.
pub struct Clutch<'a> {
    map: &'a Map,
    assembly: Assembly,
    levels: Levels,
    gauges: [[f64; 6]; PLACES],
    tips: [f64; 6],
    worn: Worn,
    oil: Store,
    standing: Option<Standing>,
    /// number of renewals of each spare part, and its wear relative to the first one
    renewals: [u64; SPARES.len()],
    quality: [f64; SPARES.len()],
}

/// The part that is at its limit first, with its use.
pub fn at_limit(used: impl Fn(Part) -> f64) -> Option<(Part, f64)> {
    let parts = Part::ALL.into_iter().filter(|part| *part != Part::Oil).map(|part| (part, used(part)));
    parts.filter(|(_, used)| *used >= 1.0).max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Largest use of what a spare part renews.
pub fn used_of(wanted: Part, used: impl Fn(Part) -> f64) -> f64 {
    let parts = Part::ALL.into_iter().filter(|part| *part != Part::Oil && spare(*part) == wanted);
    parts.map(used).fold(0.0, f64::max)
}

impl<'a> Clutch<'a> {
    /// A cart with new parts, full of oil.
    pub fn new(map: &'a Map, nominal: &Machine, levels: Levels) -> Result<Self, Invalid> {
        let (machine, normals) = map.constants.sampled(nominal, levels);
        Self::of(map, machine, &normals, levels)
    }

    /// A machine with these deviates of its constants.
    fn of(map: &'a Map, machine: Machine, normals: &[f64], levels: Levels) -> Result<Self, Invalid> {
        let (gauges, tips) = map.of_clutch(normals, &machine);
        let assembly = Assembly::new(machine)?;
        let (renewals, quality) = ([0; SPARES.len()], [1.0; SPARES.len()]);
        let (worn, oil) = (Worn::default(), full(&assembly));
        Ok(Self { map, assembly, levels, gauges, tips, worn, oil, standing: None, renewals, quality })
    }

    /// Oil lost by pores and film, kg, and growth of the bore, m, over the ride of a clutch held back.
    pub fn followed(map: &'a Map, machine: &Machine, normals: &[f64], probe: &Probe) -> Result<[f64; 2], Invalid> {
        let levels = Levels { seed: 0, shop: 0, clutch: 0 };
        let mut cart = Self::of(map, machine.clone(), normals, levels)?;
        cart.oil = Store::from(probe.start);
        [cart.worn.relaxation, cart.worn.lining] = probe.worn;
        cart.advance(probe.ride, &cart.now(machine.surroundings.ambient, 0.5 * probe.ride));
        let [pores, film, _] = probe.start;
        Ok([pores + film - cart.oil[0] - cart.oil[1], cart.worn.bore])
    }

    /// The machine.
    pub fn machine(&self) -> &Machine {
        &self.assembly.machine
    }

    /// What is worn.
    pub fn worn(&self) -> &Worn {
        &self.worn
    }

    /// Wear of lining, bore and washer, m, and the oil in pores and film over a full bushing's.
    pub fn depths(&self) -> [f64; 4] {
        [self.worn.lining, self.worn.bore, self.worn.washer, (self.oil[0] + self.oil[1]) / self.assembly.full_mass]
    }

    /// The gauges at a temperature, with the springs as they will have relaxed after riding for a time.
    fn now(&self, temperature: f64, ahead: f64) -> Now {
        let (warmth, w) = (self.map.warmth(temperature), &self.worn);
        let at = |place: usize, ease: f64| libm::exp(of_two(&self.gauges[place], warmth, ease));
        let relaxing = at(Gauge::Relaxation as usize, self.eased(w.relaxation));
        let ease = self.eased(relaxed(w.relaxation, relaxing, ahead));
        Now { temperature, warmth, gauges: std::array::from_fn(|place| at(place, ease)) }
    }

    /// Ease of the engagement with springs relaxed so far.
    fn eased(&self, relaxation: f64) -> f64 {
        ease(self.machine(), relaxation, self.worn.lining)
    }

    /// Mass of the film, kg.
    #[cfg(test)]
    pub fn film(&self) -> f64 {
        self.oil[1]
    }

    /// Springs that have relaxed so far.
    #[cfg(test)]
    pub fn relax(&mut self, relaxation: f64) {
        self.worn.relaxation = relaxation;
    }

    fn quality(&self, spare: Part) -> f64 {
        SPARES.iter().position(|one| *one == spare).map_or(1.0, |k| self.quality[k])
    }

    /// Value of a channel for the uses of parts.
    fn reading(&self, channel: Channel) -> f64 {
        let w = &self.worn;
        match channel {
            Channel::LiningWear => w.lining,
            Channel::BushingWear => w.bore,
            Channel::WasherWear => w.washer,
            Channel::OilFill => self.oil[0] / self.assembly.full_mass,
            Channel::WasherDose => w.charring,
            Channel::Relaxation => w.relaxation,
            Channel::Score => w.score,
            Channel::Oxidation => w.oxidation,
            _ => 0.0,
        }
    }

    fn part_used(&self, part: Part) -> f64 {
        part.row().use_at(&self.assembly.machine, &|channel| self.reading(channel))
    }

    /// Puts drops of oil on the face; they take their share of the old oil's age.
    fn put_on(&mut self, drops: f64) {
        let dose = drops * self.assembly.machine.drop_mass(&self.assembly.machine.oil);
        self.worn.oxidation *= 1.0 - dose / (self.oil[0] + self.oil[1] + dose).max(1e-12);
        self.oil[1] += dose;
    }
}

impl Cart for Clutch<'_> {
    fn ride(&mut self, day: &Day) -> Option<(Part, f64)> {
        self.stand(day.date, 0.0, day.temperature);
        let now = self.now(day.temperature, 0.5 * day.hours);
        let before = self.worn;
        self.advance(day.hours, &now);
        let reached = at_limit(|part| self.part_used(part)).map(|(part, used)| {
            // In proportion within the day.
            let after = std::mem::replace(&mut self.worn, before);
            let was = self.part_used(part);
            self.worn = after;
            let share = if used > was { ((1.0 - was) / (used - was)).clamp(0.0, 1.0) } else { 0.0 };
            (part, share)
        });
        let rode = day.hours * reached.map_or(1.0, |(_, share)| share);
        let rise = now.bushing(rode) - now.temperature;
        self.standing = Some(Standing { rise, since: (day.date, rode), carried: 0.0 });
        reached
    }

    fn used(&self, wanted: Part) -> f64 {
        used_of(wanted, |part| self.part_used(part))
    }

    fn renew(&mut self, spare: Part) {
        let w = &mut self.worn;
        match spare {
            Part::Lining => w.lining = 0.0,
            Part::Washer => (w.washer, w.ageing, w.charring) = (0.0, 0.0, 0.0),
            Part::Bushing => (w.bore, w.oxidation, w.score) = (0.0, 0.0, 0.0),
            _ => w.relaxation = 0.0,
        }
        let fresh = full(&self.assembly);
        match spare {
            Part::Washer => self.oil[2] = fresh[2],
            Part::Bushing => (self.oil[0], self.oil[1]) = (fresh[0], fresh[1]),
            _ => {}
        }
        let Some(k) = SPARES.iter().position(|one| *one == spare) else { return };
        self.renewals[k] += 1;
        self.quality[k] = self.map.constants.renewed(self.levels, spare, self.renewals[k]);
    }

    fn oil(&mut self, drops: f64, day: &Day, before_opening: bool) {
        let time = if before_opening { -EARLY } else { day.hours };
        self.stand(day.date, time, day.temperature);
        self.put_on(drops);
    }

    fn lacked(&self) -> f64 {
        let machine = &self.assembly.machine;
        (self.assembly.full_mass - self.oil[0] - self.oil[1]).max(0.0) / machine.drop_mass(&machine.oil)
    }

    fn oil_due(&self) -> bool {
        self.oil[0] <= self.assembly.machine.limits.oil_service * self.assembly.full_mass
    }
}

/// Halvings by which a life is searched for.
const HALVINGS: u32 = 40;

impl Clutch<'_> {
    /// Running after which a new spare part is at its limit at a temperature, oiled meanwhile, s; none if it lasts longer than a time.
    pub fn life(&mut self, part: Part, temperature: f64, within: f64) -> Option<f64> {
        let mut worn_out = |time: f64| {
            self.worn = Worn::default();
            self.ridden(&[(part, time)], temperature);
            self.used(part) >= 1.0
        };
        let (mut low, mut high) = (0.0, within);
        if !worn_out(high) {
            return None;
        }
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            *if worn_out(middle) { &mut high } else { &mut low } = middle;
        }
        Some(high)
    }

    /// The parts as worn as after so much running at a temperature, oiled meanwhile.
    pub fn ridden(&mut self, used: &[(Part, f64)], temperature: f64) {
        let now = self.now(temperature, 0.0);
        let t = now.bushing(f64::MAX);
        let stirring = now.stirring();
        let at = Around { bushing: t, warming: 0.0, ripple: 0.0, swing: 0.0, washer: t, stirring };
        for (part, time) in used {
            let mut after = self.worn;
            self.wear(&mut after, &now, &self.oil, &at, *time);
            match part {
                Part::Lining => self.worn.lining = after.lining,
                Part::Washer => {
                    (self.worn.washer, self.worn.ageing, self.worn.charring) =
                        (after.washer, after.ageing, after.charring);
                }
                Part::Bushing => self.worn.bore = after.bore,
                _ => self.worn.relaxation = after.relaxation,
            }
        }
    }
}
