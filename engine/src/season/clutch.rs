//! A sampled cart of a season: its uses and its oil, advanced day by day with the rates of the map.

use super::map::Map;
use super::probe::{Gauge, NODES, Probe, by_constant, carrying, lubricated};
use super::store::{Around, STANDING, Store, carry, full};
use super::surface::of_two;
use super::workshop::{Cart, Day, spare};
use crate::calendar::Date;
use crate::document::season::SPARES;
use crate::laws::bearing::{LOST_BY_AGE, SEIZED, tip_friction};
use crate::laws::wear::{relaxed, washer_constant};
use crate::model::Assembly;
use crate::names::{Channel, Part};
use crate::parts::{Invalid, Machine, parameter};
use crate::spread::{Levels, Spread, Uncertain, common_share, machine_at};
use crate::statistics::{NINETY_FIVE, normal_share};
use crate::units::{DAY, MINUTE};
use std::f64::consts::FRAC_PI_4;

/// Rest of oil that is put on before opening, s.
const EARLY: f64 = 15.0 * MINUTE;

/// The slow quantities of a cart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Worn {
    lining: f64,
    bore: f64,
    washer: f64,
    oxidation: f64,
    charring: f64,
    ageing: f64,
    relaxation: f64,
    score: f64,
}

/// The gauges of a cart at one temperature.
#[derive(Clone, Copy, Debug)]
struct Now {
    temperature: f64,
    warmth: f64,
    gauges: [f64; Gauge::ALL.len()],
}

impl Now {
    fn of(&self, gauge: Gauge) -> f64 {
        self.gauges[gauge.at()]
    }

    /// The bushing's temperature after riding for a time from the cold, between the nodes in proportion, K.
    fn bushing(&self, time: f64) -> f64 {
        let (mut before, mut low) = (0.0, 0.0);
        for (k, node) in NODES.into_iter().enumerate() {
            let high = self.of(Gauge::Rise(k));
            if time <= node {
                return self.temperature + low + (high - low) * (time - before) / (node - before);
            }
            (before, low) = (node, high);
        }
        self.temperature + low
    }
}

/// A sampled cart.
pub struct Clutch<'a> {
    map: &'a Map,
    assembly: Assembly,
    levels: Levels,
    gauges: [[f64; 6]; Gauge::ALL.len()],
    tips: [f64; 6],
    worn: Worn,
    oil: Store,
    /// rise of the bushing's temperature when it last stopped, K; the day and the time since its opening, s
    stopped: Option<(f64, Date, f64)>,
    /// drops put on before opening
    early: f64,
    /// number of renewals of each spare part, and its wear relative to the first one
    renewals: [u64; SPARES.len()],
    quality: [f64; SPARES.len()],
}

/// Normal deviates of the uncertain constants of a cart; wear constants include the first parts' own share.
fn normals(uncertain: &[Uncertain], levels: Levels) -> Vec<f64> {
    let one = |u: &Uncertain| {
        let Some(p) = parameter(&u.path) else { return 0.0 };
        let renewed = SPARES.into_iter().filter_map(by_constant).any(|own| own == p);
        levels.normal(&u.draw, common_share(p, u.spread), renewed.then_some(0))
    };
    uncertain.iter().map(one).collect()
}

/// The machine of a cart and the deviates of its constants.
pub fn sampled(nominal: &Machine, uncertain: &[Uncertain], levels: Levels) -> (Machine, Vec<f64>) {
    let normals = normals(uncertain, levels);
    let of = |draw: &str| uncertain.iter().position(|u| u.draw == draw).map(|k| normal_share(normals[k]));
    (machine_at(nominal, uncertain, of), normals)
}

impl<'a> Clutch<'a> {
    /// A cart with new parts, full of oil.
    pub fn new(map: &'a Map, nominal: &Machine, levels: Levels) -> Result<Self, Invalid> {
        let (machine, normals) = sampled(nominal, &map.uncertain, levels);
        Self::of(map, machine, &normals, levels)
    }

    /// A machine with these deviates of its constants.
    fn of(map: &'a Map, machine: Machine, normals: &[f64], levels: Levels) -> Result<Self, Invalid> {
        let (gauges, tips) = map.of_clutch(normals, &machine);
        let assembly = Assembly::new(machine)?;
        let (renewals, quality) = ([0; SPARES.len()], [1.0; SPARES.len()]);
        let (worn, oil) = (Worn::default(), full(&assembly));
        Ok(Self { map, assembly, levels, gauges, tips, worn, oil, stopped: None, early: 0.0, renewals, quality })
    }

    /// Oil lost by pores and film, kg, and growth of the bore, m, over the ride of a clutch held back.
    pub fn followed(map: &'a Map, machine: &Machine, normals: &[f64], probe: &Probe) -> Result<[f64; 2], Invalid> {
        let levels = Levels { seed: 0, shop: 0, clutch: 0 };
        let mut cart = Self::of(map, machine.clone(), normals, levels)?;
        cart.oil = Store::from(probe.start);
        let temperature = machine.surroundings.ambient;
        cart.advance(probe.ride, &cart.now(temperature));
        let [pores, film, _] = probe.start;
        Ok([pores + film - cart.oil[0] - cart.oil[1], cart.worn.bore])
    }

    /// The machine.
    pub fn machine(&self) -> &Machine {
        &self.assembly.machine
    }

    /// Wear of lining, bore and washer, m, and the oil in pores and film over a full bushing's.
    pub fn depths(&self) -> [f64; 4] {
        [self.worn.lining, self.worn.bore, self.worn.washer, (self.oil[0] + self.oil[1]) / self.assembly.full_mass]
    }

    fn now(&self, temperature: f64) -> Now {
        let warmth = self.map.warmth(temperature);
        let gauges = std::array::from_fn(|k| libm::exp(of_two(&self.gauges[k], warmth, 0.0)));
        Now { temperature, warmth, gauges }
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

    /// Rides for a time from the cold.
    fn advance(&mut self, time: f64, now: &Now) {
        let stirring = std::array::from_fn(|k| now.of(Gauge::Stirred(k)));
        let washer = now.temperature + now.of(Gauge::WasherRise);
        let around = |from: f64, to: f64| Around {
            bushing: now.bushing(0.5 * (from + to)),
            warming: (now.bushing(to) - now.bushing(from)) / (to - from),
            washer,
            stirring,
        };
        let mut worn = self.worn;
        let mut oil = self.oil;
        carry(&self.assembly, &mut oil, time, &around, &mut |oil, at, step| self.wear(&mut worn, now, oil, at, step));
        (self.worn, self.oil) = (worn, oil);
    }

    /// Wear of a step with this oil.
    fn wear(&self, w: &mut Worn, now: &Now, oil: &Store, at: &Around, step: f64) {
        let (a, m) = (&self.assembly, &self.assembly.machine);
        let (t, b) = (at.bushing, &m.bushing);
        let carries = carrying(a.fill(oil[1], t), a.viscosity(t));
        let odds = libm::exp(of_two(&self.tips, now.warmth, carries).clamp(-40.0, 40.0));
        let tips = now.of(Gauge::Pressed) * odds / (1.0 + odds);
        let film = now.of(Gauge::Pressed) - tips;
        let oiled = lubricated(a, oil[0], oil[1], t) * (1.0 - LOST_BY_AGE * w.oxidation);
        let on_tips = b.wear_boundary * libm::exp(libm::log(b.wear_dry / b.wear_boundary) * (1.0 - oiled));
        let friction = tip_friction(b.friction_oiled, b.friction_dry, b.friction_scored, oiled, w.score);
        let lacks = (1.0 - oiled / b.score_from).max(0.0);
        let soaked = oil[2] / a.washer_full;
        let washer = washer_constant(m.washer.wear_oiled, m.washer.wear_dry, soaked, w.ageing, m.washer.age_life);
        w.lining += now.of(Gauge::Lining) * self.quality(Part::Lining) * step;
        w.bore += (b.wear_film * film + on_tips * tips) / FRAC_PI_4 * self.quality(Part::Bushing) * step;
        w.washer += now.of(Gauge::Washer) * washer * self.quality(Part::Washer) * step;
        w.ageing += now.of(Gauge::Ageing) * step;
        w.oxidation = (w.oxidation + now.of(Gauge::Oxidation) * step).min(1.0);
        w.charring += now.of(Gauge::Charring) * step;
        w.relaxation = relaxed(w.relaxation, now.of(Gauge::Relaxation), step);
        w.score = (w.score + lacks * lacks * friction * tips / b.score_energy * step).min(SEIZED);
    }

    /// Stands for a time; `since`, s, it has stood already.
    fn rest(&mut self, time: f64, since: f64, rise: f64, now: &Now) {
        let cooling = now.of(Gauge::Cooling);
        let above = |time: f64| rise * libm::exp(-(since + time) / cooling);
        let around = |from: f64, to: f64| {
            let t = now.temperature + above(0.5 * (from + to));
            Around { bushing: t, warming: (above(to) - above(from)) / (to - from), washer: t, stirring: STANDING }
        };
        carry(&self.assembly, &mut self.oil, time, &around, &mut |_, _, _| {});
    }

    /// Stands until a day's opening; oil put on before opening rests for a quarter of an hour.
    fn stand(&mut self, day: &Day, now: &Now) {
        let drops = std::mem::take(&mut self.early);
        let early = if drops > 0.0 { EARLY } else { 0.0 };
        if let Some((rise, date, time)) = self.stopped {
            let stood = ((day.date.0 - date.0) as f64 * DAY - time).max(0.0);
            self.rest((stood - early).max(0.0), 0.0, rise, now);
        }
        self.put_on(drops);
        self.rest(early, DAY, 0.0, now);
    }

    /// Puts drops of oil on the face; they take their share of the old oil's age.
    fn put_on(&mut self, drops: f64) {
        let dose = drops * self.assembly.machine.drop_mass(&self.assembly.machine.oil);
        self.worn.oxidation *= 1.0 - dose / (self.oil[0] + self.oil[1] + dose).max(1e-12);
        self.oil[1] += dose;
    }

    /// The part that is at its limit first, with its use.
    fn at_limit(&self) -> Option<(Part, f64)> {
        let parts = Part::ALL.into_iter().filter(|part| *part != Part::Oil);
        let used = parts.map(|part| (part, self.part_used(part)));
        used.filter(|(_, used)| *used >= 1.0).max_by(|a, b| a.1.total_cmp(&b.1))
    }
}

impl Cart for Clutch<'_> {
    fn ride(&mut self, day: &Day) -> Option<(Part, f64)> {
        let now = self.now(day.temperature);
        self.stand(day, &now);
        let before = self.worn;
        self.advance(day.hours, &now);
        let reached = self.at_limit().map(|(part, used)| {
            // In proportion within the day.
            let after = std::mem::replace(&mut self.worn, before);
            let was = self.part_used(part);
            self.worn = after;
            let share = if used > was { ((1.0 - was) / (used - was)).clamp(0.0, 1.0) } else { 0.0 };
            (part, share)
        });
        let rode = day.hours * reached.map_or(1.0, |(_, share)| share);
        self.stopped = Some((now.bushing(rode) - now.temperature, day.date, rode));
        reached
    }

    fn used(&self, wanted: Part) -> f64 {
        let parts = Part::ALL.into_iter().filter(|part| *part != Part::Oil && spare(*part) == wanted);
        parts.map(|part| self.part_used(part)).fold(0.0, f64::max)
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
        let Some(p) = by_constant(spare) else { return };
        let known = self.map.uncertain.iter().find(|u| u.path == p.path);
        if let Some(Spread::Factor(factor)) = known.map(|u| u.spread) {
            let common = common_share(p, Spread::Factor(factor));
            let of = |renewals| self.levels.normal(p.path, common, Some(renewals));
            self.quality[k] = libm::exp(libm::log(factor) * (of(self.renewals[k]) - of(0)) / NINETY_FIVE);
        }
    }

    fn oil(&mut self, drops: f64, before_opening: bool) {
        if before_opening { self.early += drops } else { self.put_on(drops) }
    }

    fn oil_due(&self) -> bool {
        self.oil[0] <= self.assembly.machine.limits.oil_service * self.assembly.full_mass
    }
}

impl Clutch<'_> {
    /// The parts as worn as after so much running at a temperature, oiled meanwhile.
    pub fn ridden(&mut self, used: &[(Part, f64)], temperature: f64) {
        let now = self.now(temperature);
        let t = now.bushing(f64::MAX);
        let stirring = std::array::from_fn(|k| now.of(Gauge::Stirred(k)));
        let at = Around { bushing: t, warming: 0.0, washer: t, stirring };
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
