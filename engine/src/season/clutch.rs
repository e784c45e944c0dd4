//! A sampled cart of a season: its uses and its oil, advanced day by day with the rates of the map.

use super::map::{Map, filled};
use super::probe::{RATES, at, by_constant, lacks};
use super::surface::of_two;
use super::workshop::{Cart, Day, spare};
use crate::document::season::{Rate, SPARES};
use crate::laws::bearing::GRABS;
use crate::laws::wear::relaxed;
use crate::names::{Channel, Part};
use crate::parts::{Machine, parameter};
use crate::spread::{Levels, Spread, Uncertain, common_share, machine_at};
use crate::statistics::{NINETY_FIVE, normal_share};
use crate::units::HOUR;

/// Longest step, s, and largest change of the fill within one.
const STEP: f64 = 6.0 * HOUR;
const OF_FILL: f64 = 0.02;
/// Time in which a dry bushing grabs its shaft, s: in the probes it takes half an hour to an hour; the longer errs low on how
/// soon, by less than one day.
const DRY: f64 = HOUR;

/// The slow quantities of a cart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Worn {
    lining: f64,
    bore: f64,
    washer: f64,
    fill: f64,
    oxidation: f64,
    charring: f64,
    ageing: f64,
    relaxation: f64,
    score: f64,
}

/// A sampled cart.
pub struct Clutch<'a> {
    map: &'a Map,
    machine: Machine,
    levels: Levels,
    normals: Vec<f64>,
    rates: [[f64; 6]; RATES.len()],
    worn: Worn,
    /// number of renewals of each spare part, and its wear relative to the first one
    renewals: [u64; SPARES.len()],
    quality: [f64; SPARES.len()],
    /// mass of a full bushing's oil, kg
    full_mass: f64,
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
    pub fn new(map: &'a Map, nominal: &Machine, levels: Levels, full_mass: f64) -> Self {
        let (machine, normals) = sampled(nominal, &map.uncertain, levels);
        let rates = map.of_clutch(&normals, &machine);
        let worn = Worn { fill: 1.0, ..Worn::default() };
        let mut cart = Self {
            map,
            machine,
            levels,
            normals,
            rates,
            worn,
            renewals: [0; SPARES.len()],
            quality: [1.0; SPARES.len()],
            full_mass,
        };
        cart.worn.fill = cart.most(0.0);
        cart
    }

    /// The machine.
    pub fn machine(&self) -> &Machine {
        &self.machine
    }

    /// Mass of a full bushing's oil, kg.
    #[cfg(test)]
    pub fn full_mass(&self) -> f64 {
        self.full_mass
    }

    /// Wear of lining, bore and washer, m, and the fill.
    pub fn depths(&self) -> [f64; 4] {
        [self.worn.lining, self.worn.bore, self.worn.washer, self.worn.fill]
    }

    fn rate(&self, rate: Rate, warmth: f64) -> f64 {
        of_two(&self.rates[at(rate)], warmth, filled(self.worn.fill))
    }

    fn exp(&self, rate: Rate, warmth: f64) -> f64 {
        libm::exp(self.rate(rate, warmth))
    }

    /// Loss of oil, as a share of a full bushing's per second.
    fn loses(&self, warmth: f64) -> f64 {
        [Rate::Leaks, Rate::Evaporates, Rate::Thrown].map(|rate| self.exp(rate, warmth)).iter().sum()
    }

    /// The most oil that the bushing holds when hot, as a fill.
    fn most(&self, warmth: f64) -> f64 {
        (1.0 - self.exp(Rate::Driven, warmth)).clamp(0.5, 1.0)
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
            Channel::OilFill => w.fill,
            Channel::WasherDose => w.charring,
            Channel::Relaxation => w.relaxation,
            Channel::Score => w.score,
            Channel::Oxidation => w.oxidation,
            _ => 0.0,
        }
    }

    fn part_used(&self, part: Part) -> f64 {
        part.row().use_at(&self.machine, &|channel| self.reading(channel))
    }

    /// Rides for a time at a warmth.
    fn advance(&mut self, time: f64, warmth: f64) {
        let lining = self.exp(Rate::Lining, warmth) * self.quality(Part::Lining);
        let bore = [Rate::BoreOnFilm, Rate::BoreOnTips].map(|rate| self.exp(rate, warmth)).iter().sum::<f64>()
            * self.quality(Part::Bushing);
        let washer = self.exp(Rate::Washer, warmth) * self.quality(Part::Washer);
        let ageing = self.exp(Rate::Ageing, warmth);
        let aged = 1.0 + (self.worn.ageing + 0.5 * ageing * time) / self.machine.washer.age_life;
        let oil = self.loses(warmth);
        let [oxidation, charring] = [Rate::Oxidation, Rate::Charring].map(|rate| self.exp(rate, warmth));
        let dry = self.worn.fill <= self.rate(Rate::Scores, warmth);
        let relaxes = self.exp(Rate::Relaxation, warmth);
        let aged_scores = self.exp(Rate::AgedScores, warmth);
        let from = self.machine.bushing.score_from;
        let w = &mut self.worn;
        w.lining += lining * time;
        w.bore += bore * time;
        w.washer += washer * aged * time;
        w.ageing += ageing * time;
        w.fill = (w.fill - oil * time).max(0.0);
        w.oxidation = (w.oxidation + oxidation * time).min(1.0);
        w.charring += charring * time;
        w.relaxation = relaxed(w.relaxation, relaxes, time);
        let scores = if dry { GRABS / DRY } else { lacks(w.oxidation, from).powi(2) * aged_scores };
        w.score = (w.score + scores * time).min(1.0);
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
        let warmth = self.map.warmth(day.temperature);
        self.worn.fill = self.worn.fill.min(self.most(warmth));
        let mut ridden = 0.0;
        while ridden < day.hours - 1.0 {
            let oil = self.loses(warmth);
            let step = (OF_FILL / oil).clamp(60.0, STEP).min(day.hours - ridden);
            let before = self.worn;
            self.advance(step, warmth);
            if let Some((part, used)) = self.at_limit() {
                // In proportion within the step.
                let after = std::mem::replace(&mut self.worn, before);
                let was = self.part_used(part);
                let share = if used > was { ((1.0 - was) / (used - was)).clamp(0.0, 1.0) } else { 0.0 };
                self.worn = after;
                return Some((part, (ridden + share * step) / day.hours));
            }
            ridden += step;
        }
        None
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
            Part::Bushing => (w.bore, w.oxidation, w.score, w.fill) = (0.0, 0.0, 0.0, 1.0),
            _ => w.relaxation = 0.0,
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
        let share = self.map.share_kept(&self.normals, drops, before_opening, self.worn.fill);
        let dose = drops * self.machine.drop_mass(&self.machine.oil) / self.full_mass;
        let kept = share * dose;
        // Fresh oil takes its share of the old.
        self.worn.oxidation *= 1.0 - kept / (self.worn.fill + kept).max(1e-9);
        self.worn.fill = (self.worn.fill + kept).min(1.0);
    }

    fn oil_due(&self) -> bool {
        self.worn.fill <= self.machine.limits.oil_service
    }
}

impl Clutch<'_> {
    /// The parts as worn as after so much running at a temperature, oiled meanwhile.
    pub fn ridden(&mut self, used: &[(Part, f64)], temperature: f64) {
        let warmth = self.map.warmth(temperature);
        for (part, time) in used {
            let mut other = self.worn;
            std::mem::swap(&mut other, &mut self.worn);
            self.worn.fill = other.fill;
            self.advance(*time, warmth);
            let after = std::mem::replace(&mut self.worn, other);
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
