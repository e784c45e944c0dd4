//! The machine as a system for the stepper: its rates, their slopes, and what it does between steps.

use super::assembly::Assembly;
use super::bounds::none_below_nothing;
use super::group::Group;
use super::heat::{Band, Block, Chain, Disc, Film, Inner, LINKS, Link, RUBBED};
use super::mechanics::{Governors, Mechanics};
use super::names::*;
use super::oil::Oil;
use crate::integrate::{Entries, Flow, Jacobian, Sizes, Step, System};
use crate::laws::{history, oil, wear};

const N: usize = state::COUNT;

impl Assembly {
    fn interface_conductance(&self) -> f64 {
        if self.contact == Contact::Free { self.interface.open } else { self.interface.closed }
    }

    /// Entries of the Jacobian in any mode with this contact.
    fn pattern_of(&self, contact: Contact) -> (Entries, Entries) {
        let mut reach = [0_u64; N + counter::COUNT];
        let mut probe = self.clone();
        (probe.contact, probe.grease_charge) = (contact, 1.0);
        let y = self.fresh();
        let slow = [0.0; slow::COUNT];
        for motion in [Motion::Held, Motion::Moving(1.0)] {
            for motor in [MotorState::Running, MotorState::Coasting, MotorState::Stopped] {
                for (braking, ask) in
                    [(None, Ask::Speed { speed: 5.0, slope: 0.0, at: 0.0 }), (Some(1.0), Ask::Opening(0.0))]
                {
                    (probe.motion, probe.motor) = (motion, motor);
                    (probe.braking, probe.ask) = (braking, ask);
                    Mechanics { assembly: &probe, slow: &slow }.add_pattern(&y, &mut reach);
                    Governors { assembly: &probe, time: 0.0 }.add_pattern(&y, &mut reach);
                    Block(&probe).add_pattern(&y, &mut reach);
                }
            }
        }
        Band(&probe).add_pattern(&y, &mut reach);
        probe.web().add_pattern(&y, &mut reach);
        probe.sprocket().add_pattern(&y, &mut reach);
        Chain(&probe).add_pattern(&y, &mut reach);
        Inner(&probe).add_pattern(&y, &mut reach);
        Film(&probe).add_pattern(&y, &mut reach);
        for (from, to) in LINKS.into_iter().chain([RUBBED]) {
            reach[from] |= (1 << from) | (1 << to);
            reach[to] |= (1 << from) | (1 << to);
        }
        reach[counter::TO_MOTOR] |= (1 << state::SHAFT) | (1 << state::BLOCK);
        Oil(&probe).add_pattern(&y, &mut reach);
        let entries = |rows: std::ops::Range<usize>| {
            let first = rows.start;
            rows.flat_map(|i| (0..N).filter(move |j| reach[i] >> j & 1 == 1).map(move |j| (i - first, j))).collect()
        };
        (entries(0..N), entries(N..N + counter::COUNT))
    }

    fn rubbed(&self) -> Link {
        Link::between(RUBBED, self.interface_conductance(), &self.capacity)
    }

    pub(super) fn web(&self) -> Disc<'_, { state::WEB }> {
        Disc { assembly: self, area: self.machine.drum.web_area, radius: self.machine.drum.radius }
    }
    pub(super) fn sprocket(&self) -> Disc<'_, { state::SPROCKET }> {
        Disc { assembly: self, area: self.machine.drum.sprocket_area, radius: self.machine.drum.sprocket_radius }
    }

    pub(crate) fn all_rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.bushing_rates(y, slow, out);
        Governors { assembly: self, time: t }.add_rates(y, out);
        Band(self).add_rates(y, out);
        self.web().add_rates(y, out);
        self.sprocket().add_rates(y, out);
        Chain(self).add_rates(y, out);
        Inner(self).add_rates(y, out);
        Block(self).add_rates(y, out);
        Oil(self).add_rates(y, out);
    }

    /// Rates of the groups that heat the bushing: no other adds to the bushing's own rate.
    pub(super) fn bushing_rates(&self, y: &[f64], slow: &[f64], out: &mut [f64]) {
        out.fill(0.0);
        self.add_conduction(y, out);
        Mechanics { assembly: self, slow }.add_rates(y, out);
        Film(self).add_rates(y, out);
    }

    /// Heat conducted between parts.
    pub(super) fn add_conduction(&self, y: &[f64], out: &mut [f64]) {
        let (Some(y), Some(out)) = (y.first_chunk::<N>(), out.first_chunk_mut::<{ N + counter::COUNT }>()) else {
            return;
        };
        let mut conduct = |(from, to): (usize, usize), link: Link| {
            let warmer = y[from] - y[to];
            out[from] -= link.per_from * warmer;
            out[to] += link.per_to * warmer;
        };
        for (ends, link) in LINKS.iter().zip(&self.links) {
            conduct(*ends, *link);
        }
        conduct(RUBBED, self.rubbed());
        out[counter::TO_MOTOR] += self.machine.heat.shaft_block * (y[state::SHAFT] - y[state::BLOCK]);
    }
}

impl System for Assembly {
    fn sizes(&self) -> Sizes {
        Sizes { states: N, counters: counter::COUNT, slow: slow::COUNT, guards: guard::COUNT }
    }

    fn pattern(&self) -> (Entries, Entries) {
        let all = self.patterns().into_iter().reduce(|(mut states, mut counters), more| {
            states.extend(more.0);
            counters.extend(more.1);
            (states, counters)
        });
        all.unwrap_or_default()
    }

    fn patterns(&self) -> Vec<(Entries, Entries)> {
        [Contact::Free, Contact::Slip(1.0), Contact::Locked].map(|contact| self.pattern_of(contact)).into()
    }

    fn kind(&self) -> usize {
        match self.contact {
            Contact::Free => 0,
            Contact::Slip(_) => 1,
            Contact::Locked => 2,
        }
    }

    fn rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.all_rates(t, y, slow, out);
    }

    fn constant_slopes(&self, out: &mut Jacobian) {
        for (link, ends) in self.links.iter().zip(LINKS) {
            link.add_slopes(ends, out);
        }
        for (node, sign) in [(state::SHAFT, 1.0), (state::BLOCK, -1.0)] {
            out.counters.add(counter::TO_MOTOR - N, node, sign * self.machine.heat.shaft_block);
        }
    }

    fn jacobian(&self, t: f64, y: &[f64], slow: &[f64], rates: &[f64], out: &mut Jacobian) {
        self.rubbed().add_slopes(RUBBED, out);
        Mechanics { assembly: self, slow }.add_slopes(y, 0.0, out);
        Governors { assembly: self, time: t }.add_slopes(y, 0.0, out);
        Band(self).add_slopes(y, 0.0, out);
        self.web().add_slopes(y, 0.0, out);
        self.sprocket().add_slopes(y, 0.0, out);
        Chain(self).add_slopes(y, 0.0, out);
        Inner(self).add_slopes(y, 0.0, out);
        Film(self).add_slopes(y, 0.0, out);
        Block(self).add_slopes(y, 0.0, out);
        Oil(self).add_slopes(y, rates[state::BUSHING], out);
    }

    fn time_slopes(&self, t: f64, y: &[f64], _slow: &[f64], out: &mut [f64]) -> bool {
        let Ask::Speed { slope, .. } = self.ask else { return false };
        if slope == 0.0 {
            return false;
        }
        let nudge = 1e-3;
        let at = |t: f64| -> f64 { self.opening(t, y[state::MOTOR], y[state::DRUM]) };
        out.fill(0.0);
        out[state::THROTTLE] = (at(t + nudge) - at(t)) / nudge / self.machine.motor.throttle_lag;
        true
    }

    fn abs_tol(&self) -> &[f64] {
        match self.contact {
            Contact::Free => &self.abs_tol[0],
            Contact::Slip(_) => &self.abs_tol[1],
            Contact::Locked => &self.abs_tol[2],
        }
    }

    fn slow_rates(&self, _t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.wear_rates(y, slow, out);
        let m = &self.machine;
        out[slow::RELAXATION] =
            wear::relaxation_per_decade(m.clutch.relaxation, m.clutch.relaxation_doubling, y[state::SHOES]);
        out[slow::AGE] = wear::ageing_rate(y[state::WASHER]);
        let soaked = y[state::WASHER_OIL] / self.washer_full;
        out[slow::DOSE] = wear::fibre_dose_rate(y[state::WASHER], wear::fibre_reference(soaked), m.washer.heat_life);
        out[slow::OXIDATION] = oil::oxidation_rate(m.oiling.oxidation_life, y[state::BUSHING]);
        out[slow::RUNNING_TIME] = f64::from(u8::from(self.motor == MotorState::Running));
    }

    fn slow_advance(&self, slow: &mut [f64], mean: &[f64], length: f64) {
        slow[slow::RELAXATION] = wear::relaxed(slow[slow::RELAXATION], mean[slow::RELAXATION], length);
        slow[slow::OXIDATION] = (slow[slow::OXIDATION] + mean[slow::OXIDATION] * length).min(1.0);
        let cleaned = mean[slow::LINING] / self.machine.lining.glaze_depth;
        slow[slow::GLAZE] = history::glazed(slow[slow::GLAZE], mean[slow::GLAZE], cleaned, length);
        for k in [slow::AGE, slow::SLIDING_TIME, slow::TURNING_TIME, slow::RUNNING_TIME, slow::DOSE] {
            slow[k] += mean[k] * length;
        }
        self.share_out(slow, mean, length);
    }

    fn guards(&self, _t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.guard_values(y, slow, out);
    }

    fn cross(&mut self, guard: usize, t: f64, y: &mut [f64], slow: &[f64]) -> Flow {
        self.transit(guard, t, y, slow)
    }

    fn mode(&self) -> u64 {
        self.mode_number()
    }

    fn imbalance(&self, before: &[f64], after: &[f64]) -> (f64, usize) {
        self.energy_missing(before, after)
    }

    fn bound(&mut self, before: &[f64], after: &mut [f64], middle: &mut [f64]) {
        self.keep_missing(before, after);
        none_below_nothing(after, middle);
    }

    fn accepted(&mut self, step: &Step<'_>) {
        if !wear::impregnated(step.after[state::WASHER_OIL] / self.washer_full) {
            self.washer_dry_peak = self.washer_dry_peak.max(step.after[state::WASHER]);
        }
        if self.scored[1].is_none() {
            self.hottest_peak = self.hottest_peak.max(self.hottest(step.after, step.slow).1);
        }
        self.note_through(step);
        self.note_score(step);
        self.note_reached(step);
        let l = &self.machine.lining;
        if l.bedding_share > 0.0 || self.bedded < 1.0 {
            self.touch(history::bedded(step.slow[slow::LINING], l.bedding_depth, l.bedding_share));
        }
        self.washer_fed += step.length * self.feeding(step.after[state::FILM], step.after[state::BUSHING]);
        self.remember(step);
    }
}
