//! Hours ridden and stood: what they do to a cart's parts and oil.

use super::{Clutch, Standing, Worn};
use crate::calendar::Date;
use crate::document::season::Rate;
use crate::laws::bearing::{LOST_BY_AGE, SEIZED, tip_friction};
use crate::laws::wear::{relaxed, washer_constant};
use crate::names::Part;
use crate::season::gauge::{Gauge, NODES};
use crate::season::probe::{carrying, lubricated};
use crate::season::store::{Around, STANDING, Store, carry};
use crate::season::surface::of_two;
use crate::season::warming::Now;
use crate::units::DAY;
use std::f64::consts::FRAC_PI_4;

impl Clutch<'_> {
    /// Rides for a time from the cold.
    pub(super) fn advance(&mut self, time: f64, now: &Now) {
        let stirring = now.stirring();
        let washer = now.temperature + now.of(Gauge::WasherRise);
        let around = |from: f64, to: f64| {
            let warming = (now.bushing(to) - now.bushing(from)) / (to - from);
            let ripple = ((now.way(to) - now.way(from)) / (to - from)).max(warming.abs());
            let swing = now.of(Gauge::Swing) * ripple;
            Around { bushing: now.bushing(from), warming, ripple, swing, washer, stirring }
        };
        let mut worn = self.worn;
        let mut oil = self.oil;
        carry(&self.assembly, &mut oil, time, &NODES, &around, &mut |oil, at, step| {
            self.wear(&mut worn, now, oil, at, step);
        });
        let (before, after) = (self.oil[0] + self.oil[1], oil[0] + oil[1]);
        let more = (before - after).max(0.0) * (self.map.raised(Rate::Oil) - 1.0);
        let left = (1.0 - more / after.max(1e-12)).max(0.0);
        (oil[0], oil[1]) = (left * oil[0], left * oil[1]);
        (self.worn, self.oil) = (worn, oil);
    }

    /// Wear of a step with this oil.
    pub(super) fn wear(&self, w: &mut Worn, now: &Now, oil: &Store, at: &Around, step: f64) {
        let (a, m) = (&self.assembly, &self.assembly.machine);
        let (t, b) = (at.bushing + at.warming * 0.5 * step, &m.bushing);
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
        let bore = (b.wear_film * film + on_tips * tips) / FRAC_PI_4 * self.map.raised(Rate::Bore);
        w.bore += bore * self.quality(Part::Bushing) * step;
        w.washer += now.of(Gauge::Washer) * washer * self.quality(Part::Washer) * step;
        w.ageing += now.of(Gauge::Ageing) * step;
        w.oxidation = (w.oxidation + now.of(Gauge::Oxidation) * step).min(1.0);
        w.charring += now.of(Gauge::Charring) * step;
        w.relaxation = relaxed(w.relaxation, now.of(Gauge::Relaxation), step);
        w.score = (w.score + lacks * lacks * friction * tips / b.score_energy * step).min(SEIZED);
    }

    /// Stands for a time; `since`, s, it has stood already.
    fn rest(&mut self, time: f64, since: f64, rise: f64, ambient: f64) {
        let factors = &self.gauges[Gauge::Cooling as usize];
        let cooling = libm::exp(of_two(factors, self.map.warmth(ambient), self.eased(self.worn.relaxation)));
        let above = |time: f64| rise * libm::exp(-(since + time) / cooling);
        let around = |from: f64, to: f64| {
            let (bushing, washer) = (ambient + above(from), ambient + above(0.5 * (from + to)));
            let warming = (above(to) - above(from)) / (to - from);
            Around { bushing, warming, ripple: 0.0, swing: 0.0, washer, stirring: STANDING }
        };
        carry(&self.assembly, &mut self.oil, time, &[], &around, &mut |_, _, _| {});
    }

    /// Stands until a time after the opening of a day, s; nothing happens to a cart that has not ridden yet.
    pub(super) fn stand(&mut self, date: Date, time: f64, ambient: f64) {
        let Some(Standing { rise, since, carried }) = self.standing else {
            self.standing = Some(Standing { rise: 0.0, since: (date, time), carried: 0.0 });
            return;
        };
        let stood = (date.0 - since.0.0) as f64 * DAY + time - since.1;
        if stood > carried {
            self.rest(stood - carried, carried, rise, ambient);
            self.standing = Some(Standing { rise, since, carried: stood });
        }
    }
}
