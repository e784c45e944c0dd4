//! The whole machine as a system for the stepper.

use super::balance::Moment;
use super::bounds::none_below_nothing;
use super::group::Group;
use super::heat::{Band, Block, Chain, Disc, Film, Inner, Interface, Link};
use super::mechanics::Mechanics;
use super::names::*;
use super::oil::Oil;
use super::shoes::Shoes;
use crate::integrate::{Entries, Flow, Jacobian, Sizes, Step, System};
use crate::laws::{air, conduction, history, oil, vehicle, wear};
use crate::life::Pair;
use crate::names::Happening;
use crate::parts::{Invalid, Machine, ring};
use std::f64::consts::PI;

const N: usize = state::COUNT;

/// Machine, modes and quantities derived from them.
#[derive(Clone)]
pub struct Assembly {
    /// the machine as it is now
    pub machine: Machine,
    pub(crate) contact: Contact,
    pub(crate) motion: Motion,
    pub(crate) motor: MotorState,
    pub(crate) ask: Ask,
    pub(crate) brake_ask: BrakeAsk,
    /// prescribed deceleration while the brake works, m/s²
    pub(crate) braking: Option<f64>,
    /// speed at which the segment ends
    pub(crate) target: Option<Target>,
    pub(crate) stop_when_still: bool,
    pub(crate) preload: f64,
    pub(super) shoes: Shoes,
    pub(crate) capacity: [f64; N],
    pub(crate) links: Vec<Link>,
    pub(crate) interface: Interface,
    /// conductances of half the first cells of lining and wall, W/K
    halves: [f64; 2],
    /// share of the lined area that touches
    bedded: f64,
    pub(crate) band_half: f64,
    pub(crate) lining_area: f64,
    pub(crate) sprocket_pitch_radius: f64,
    pub(crate) misalignment_slope: f64,
    pub(crate) speed_per_drum: f64,
    pub(crate) reduced_mass: f64,
    pub(crate) rolling: f64,
    pub(crate) grade: f64,
    pub(crate) air_density: f64,
    /// speed at which the motor idles at present, rad/s
    pub(crate) idle: f64,
    /// idle speed of a cold start, rad/s, while it is used
    pub(crate) fast_idle: Option<f64>,
    pub(crate) idle_opening: f64,
    /// indicated power of the throttle on its stop, W
    pub(crate) stop_power: f64,
    pub(crate) walther: oil::Walther,
    pub(crate) density_20: f64,
    pub(crate) viscosity_80: f64,
    pub(crate) eta_over_gamma_80: f64,
    pub(crate) clearance_volume: f64,
    pub(crate) pore_volume_20: f64,
    pub(crate) full_mass: f64,
    pub(crate) washer_full: f64,
    /// oil that the lining's pores hold when full, kg
    pub(crate) soak_full: f64,
    pub(crate) end_area: f64,
    pub(crate) grease_charge: f64,
    /// share of the bushing's oil that persists on a lining
    pub(crate) lasting: f64,
    pub(crate) abs_tol: Vec<f64>,
    /// allowed error of speeds and throttle, relative to the default
    pub(super) speeds: f64,
    /// accumulated residual of mechanics and chain over all steps, J
    pub(super) missing: [f64; 2],
    /// largest entry of mechanics and chain so far, J: a motor whose speed rises and falls gives back most of its work
    pub(crate) counted: [f64; 2],
    /// number of launches so far
    pub(crate) launches: f64,
    /// highest temperature of the washer while the limit for a dry one applied, K
    pub(crate) washer_dry_peak: f64,
    /// highest temperature of any part, K, until the bushing grabbed: with that the clutch had come to its end
    pub(crate) hottest_peak: f64,
    /// running time at which each pair was first worn through, s
    pub(crate) through: [Option<f64>; Pair::COUNT],
    /// time at which a part other than by wear first reached its limit within a step, s, and running time at that moment, s: the
    /// charred washer, the grabbing bushing
    pub(crate) reached: [Option<(f64, f64)>; 2],
    /// running time at which the bushing first squealed, grabbed and seized, s
    pub(crate) scored: [Option<f64>; 3],
    /// e-folds by which the film would have filled a lossless washer so far
    pub(crate) washer_fed: f64,
    /// events since an observer last read them: time, s, and kind
    pub(crate) unheard: Vec<(f64, Happening)>,
    /// the latest moment of each kind of mode, to search the cause if a ledger does not close
    pub(crate) moments: Vec<Moment>,
}

impl Assembly {
    /// Assembles a checked machine.
    pub fn new(machine: Machine) -> Result<Self, Invalid> {
        machine.check()?;
        let lasting = machine.oil.lasting;
        let mut made = Self {
            machine,
            contact: Contact::Free,
            motion: Motion::Held,
            motor: MotorState::Stopped,
            ask: Ask::Opening(0.0),
            brake_ask: BrakeAsk::Slow(2.0),
            braking: None,
            target: None,
            stop_when_still: false,
            preload: 0.0,
            shoes: Shoes::default(),
            capacity: [1.0; N],
            links: vec![],
            interface: Interface { lining_half: 1.0, closed: 1.0, open: 1.0, lining_share: 0.5 },
            halves: [1.0; 2],
            bedded: 1.0,
            band_half: 0.0,
            lining_area: 0.0,
            sprocket_pitch_radius: 0.0,
            misalignment_slope: 0.0,
            speed_per_drum: 0.0,
            reduced_mass: 0.0,
            rolling: 0.0,
            grade: 0.0,
            air_density: 0.0,
            idle: 0.0,
            fast_idle: None,
            idle_opening: 0.0,
            stop_power: 0.0,
            walther: oil::Walther::through(313.15, 1e-4, 373.15, 11.2e-6),
            density_20: 0.0,
            viscosity_80: 0.0,
            eta_over_gamma_80: 0.0,
            clearance_volume: 0.0,
            pore_volume_20: 0.0,
            full_mass: 0.0,
            washer_full: 0.0,
            soak_full: 0.0,
            end_area: 0.0,
            grease_charge: 0.0,
            lasting,
            abs_tol: vec![],
            speeds: 1.0,
            missing: [0.0; 2],
            counted: [0.0; 2],
            launches: 0.0,
            washer_dry_peak: 0.0,
            hottest_peak: 0.0,
            through: [None; Pair::COUNT],
            reached: [None; 2],
            scored: [None; 3],
            washer_fed: 0.0,
            unheard: vec![],
            moments: vec![],
        };
        made.derive();
        Ok(made)
    }

    /// Sets the allowed error of speeds and throttle, relative to the default.
    pub(crate) fn follow_speeds(&mut self, times: f64) {
        self.speeds = times;
        self.derive_abs_tol();
    }

    /// Computes the quantities derived from the machine's settings.
    pub(crate) fn derive(&mut self) {
        let m = &self.machine;
        self.preload = m.preload();
        self.shoes = Shoes::of(m);
        self.lining_area = m.lining_area();
        self.sprocket_pitch_radius = m.sprocket_pitch_radius();
        self.misalignment_slope = m.washer.misalignment.tan();
        self.speed_per_drum = m.speed_per_drum();
        let v = &m.vehicle;
        self.reduced_mass = vehicle::reduced_mass(v.mass, v.wheel_inertia, v.wheel_radius, v.ratio);
        let slope = m.surroundings.grade.atan();
        self.rolling = vehicle::rolling(v.mass, v.rolling, slope);
        self.grade = vehicle::grade(v.mass, slope);
        self.air_density = air::density(m.surroundings.pressure, m.surroundings.ambient);
        self.derive_idle();
        self.derive_oil();
        self.derive_abs_tol();
        self.derive_heat();
    }

    /// Computes what the idle speed sets: the machine's own, or a fast one.
    pub(crate) fn derive_idle(&mut self) {
        let m = &self.machine;
        self.idle = self.fast_idle.unwrap_or(m.motor.idle);
        self.idle_opening = m.balanced(self.idle);
        self.stop_power = m.stop_power(self.idle);
    }

    fn derive_oil(&mut self) {
        let m = &self.machine;
        self.walther = oil::Walther::through(313.15, m.oil.viscosity_40, 373.15, m.oil.viscosity_100);
        self.density_20 = self.density(293.15);
        self.viscosity_80 = self.viscosity(353.15);
        self.eta_over_gamma_80 = self.viscosity_80 / oil::tension(m.oil.tension_20, m.oil.tension_slope, 353.15);
        let b = &self.machine.bushing;
        self.clearance_volume = PI * b.bore * b.length * b.clearance;
        self.pore_volume_20 = b.pore_volume();
        self.full_mass = self.density_20 * self.pore_volume_20;
        self.end_area = 2.0 * ring(b.bore, b.outside);
        let l = &self.machine.lining;
        self.soak_full = l.pores * self.lining_area * l.thickness * self.density_20;
        let w = &self.machine.washer;
        let washer = ring(w.inside, w.outside) * w.thickness;
        self.washer_full = w.oil_share * washer * self.density_20;
    }

    fn derive_abs_tol(&mut self) {
        self.abs_tol = vec![0.02; N];
        self.abs_tol[state::MOTOR] = 5e-3 * self.speeds;
        self.abs_tol[state::DRUM] = 3e-4 * self.speeds;
        self.abs_tol[state::THROTTLE] = 1e-4 * self.speeds;
        // The web stores errors of the drum's heat longest: wear in hot duties is only as accurate as the web's
        // temperature.
        self.abs_tol[state::WEB] = 1e-3;
        self.abs_tol[state::HEAD] = 200.0;
        self.abs_tol[state::PORES] = 1e-5 * self.full_mass;
        // In a thick bushing the film is small compared with the oil in the pores, so its error scales with its own
        // size.
        self.abs_tol[state::FILM] = 1e-5 * self.full_mass.min(30.0 * self.clearance_volume * self.density_20);
        self.abs_tol[state::WASHER_OIL] = 1e-4 * self.washer_full;
        self.abs_tol[state::GREASE] = 1e-4 * self.full_mass;
        self.abs_tol[state::LINING_OIL] = 1e-9;
        self.abs_tol[state::LINING_RESIDUE] = 1e-9;
        self.abs_tol[state::SOAKED] = 1e-9;
        self.abs_tol[state::SCORE] = 1e-5;
    }

    fn derive_heat(&mut self) {
        let m = &self.machine;
        let (l, d, h) = (&m.lining, &m.drum, &m.heat);
        let mut capacity = [1.0; N];
        let mut links = vec![];
        // Lining: rings inward from the rubbed face; drum: rings outward from it.
        let lay = |thickness: f64,
                   cells: usize,
                   ratio: f64,
                   outward: f64,
                   first: usize,
                   width,
                   share,
                   k,
                   rho_c,
                   capacity: &mut [f64; N],
                   links: &mut Vec<Link>| {
            let widths = conduction::graded(thickness, cells, ratio);
            let ring = |a: f64, b: f64| conduction::ring_conductance(a.min(b), a.max(b), width, share, k);
            let mut edge = d.radius;
            let mut before: Option<f64> = None;
            let (mut half_first, mut half_last) = (0.0, 0.0);
            for (i, w) in widths.iter().enumerate() {
                let (next, middle) = (edge + outward * w, edge + outward * 0.5 * w);
                capacity[first + i] = conduction::ring_capacity(edge.min(next), edge.max(next), width, share, rho_c);
                match before {
                    None => half_first = ring(edge, middle),
                    Some(b) => links.push(Link { from: first + i - 1, to: first + i, conductance: ring(b, middle) }),
                }
                half_last = ring(middle, next);
                before = Some(middle);
                edge = next;
            }
            (half_first, half_last)
        };
        let (lining_half, lining_back) = lay(
            l.thickness,
            state::LINING_CELLS,
            1.6,
            -1.0,
            state::LINING,
            l.width,
            l.arc_share,
            l.conductivity,
            l.density * l.specific_heat,
            &mut capacity,
            &mut links,
        );
        let (wall_half, band_half) = lay(
            d.wall,
            state::WALL_CELLS,
            1.2,
            1.0,
            state::WALL,
            d.band,
            1.0,
            d.conductivity,
            d.density * d.specific_heat,
            &mut capacity,
            &mut links,
        );
        let series = |a: f64, b: f64| 1.0 / (1.0 / a + 1.0 / b);
        self.halves = [lining_half, wall_half];
        self.band_half = 1.0 / band_half;
        let back = state::LINING + state::LINING_CELLS - 1;
        for (node, value) in [
            (state::WEB, h.web),
            (state::SPROCKET, h.sprocket),
            (state::BUSHING, h.bushing),
            (state::WASHER, h.washer),
            (state::SHOES, h.shoes),
            (state::CARRIER, h.carrier),
            (state::SHAFT, h.shaft),
            (state::BLOCK, h.block),
        ] {
            capacity[node] = value;
        }
        for (from, to, conductance) in [
            (back, state::SHOES, series(h.lining_shoes, lining_back)),
            (state::BAND, state::WEB, h.band_web),
            (state::WEB, state::SPROCKET, h.web_sprocket),
            (state::SPROCKET, state::BUSHING, h.sprocket_bushing),
            (state::WASHER, state::BUSHING, m.washer_conductance(m.bushing.outside)),
            (state::WASHER, state::CARRIER, m.washer_conductance(m.washer.outside)),
            (state::SHOES, state::CARRIER, h.shoes_carrier),
            (state::CARRIER, state::SHAFT, h.carrier_shaft),
            (state::SHAFT, state::BLOCK, h.shaft_block),
            (state::WALL, state::SHOES, h.drum_shoes),
        ] {
            links.push(Link { from, to, conductance });
        }
        self.capacity = capacity;
        self.links = links;
        self.touch(self.bedded);
    }

    /// Sets the conductances of the rubbed faces for the share of the lined area that touches.
    fn touch(&mut self, bedded: f64) {
        let l = &self.machine.lining;
        let series = |a: f64, b: f64| 1.0 / (1.0 / a + 1.0 / b);
        let [lining_half, wall_half] = self.halves;
        let side = 2.0 * l.contact * self.lining_area * bedded;
        let (into_lining, into_wall) = (series(side, lining_half), series(side, wall_half));
        self.bedded = bedded;
        self.interface = Interface {
            lining_half,
            closed: series(into_lining, into_wall),
            open: series(series(lining_half, wall_half), (l.open_gap * self.lining_area).max(1e-9)),
            lining_share: into_lining / (into_lining + into_wall),
        };
    }

    fn interface_conductance(&self) -> f64 {
        if self.contact == Contact::Free { self.interface.open } else { self.interface.closed }
    }

    fn rubbed(&self) -> Link {
        Link { from: state::LINING, to: state::WALL, conductance: self.interface_conductance() }
    }

    fn all_links(&self) -> impl Iterator<Item = Link> + '_ {
        self.links.iter().copied().chain([self.rubbed()])
    }

    fn link(&self, l: Link, out: &mut Jacobian) {
        for (node, sign) in [(l.from, -1.0), (l.to, 1.0)] {
            let g = sign * l.conductance / self.capacity[node];
            out.states.add(node, l.from, g);
            out.states.add(node, l.to, -g);
        }
    }

    pub(super) fn web(&self) -> Disc<'_, { state::WEB }> {
        Disc { assembly: self, area: self.machine.drum.web_area, radius: self.machine.drum.radius }
    }
    pub(super) fn sprocket(&self) -> Disc<'_, { state::SPROCKET }> {
        Disc { assembly: self, area: self.machine.drum.sprocket_area, radius: self.machine.drum.sprocket_radius }
    }

    pub(crate) fn all_rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.bushing_rates(t, y, slow, out);
        Band(self).add_rates(y, out);
        self.web().add_rates(y, out);
        self.sprocket().add_rates(y, out);
        Chain(self).add_rates(y, out);
        Inner(self).add_rates(y, out);
        Block(self).add_rates(y, out);
        Oil(self).add_rates(y, out);
    }

    /// Rates of the groups that heat the bushing: enough for the bushing's own rate.
    pub(super) fn bushing_rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        out.fill(0.0);
        self.add_conduction(y, out);
        Mechanics { assembly: self, slow, time: t }.add_rates(y, out);
        Film(self).add_rates(y, out);
    }

    /// Heat conducted between parts.
    pub(super) fn add_conduction(&self, y: &[f64], out: &mut [f64]) {
        for l in self.all_links() {
            let heat = l.conductance * (y[l.from] - y[l.to]);
            out[l.from] -= heat / self.capacity[l.from];
            out[l.to] += heat / self.capacity[l.to];
        }
        out[counter::TO_MOTOR] += self.machine.heat.shaft_block * (y[state::SHAFT] - y[state::BLOCK]);
    }
}

impl System for Assembly {
    fn sizes(&self) -> Sizes {
        Sizes { states: N, counters: counter::COUNT, slow: slow::COUNT, guards: guard::COUNT }
    }

    fn pattern(&self) -> (Entries, Entries) {
        let mut reach = [0_u64; N + counter::COUNT];
        let mut probe = Self::new(self.machine.clone()).expect("checked already");
        probe.grease_charge = 1.0;
        let y = self.fresh();
        let slow = [0.0; slow::COUNT];
        for contact in [Contact::Free, Contact::Slip(1.0), Contact::Locked] {
            for motion in [Motion::Held, Motion::Moving(1.0)] {
                for motor in [MotorState::Running, MotorState::Coasting, MotorState::Stopped] {
                    for (braking, ask) in
                        [(None, Ask::Speed { speed: 5.0, slope: 0.0, at: 0.0 }), (Some(1.0), Ask::Opening(0.0))]
                    {
                        (probe.contact, probe.motion, probe.motor) = (contact, motion, motor);
                        (probe.braking, probe.ask) = (braking, ask);
                        Mechanics { assembly: &probe, slow: &slow, time: 0.0 }.add_pattern(&y, &mut reach);
                        Block(&probe).add_pattern(&y, &mut reach);
                    }
                }
            }
        }
        Band(&probe).add_pattern(&y, &mut reach);
        probe.web().add_pattern(&y, &mut reach);
        probe.sprocket().add_pattern(&y, &mut reach);
        Chain(&probe).add_pattern(&y, &mut reach);
        Inner(&probe).add_pattern(&y, &mut reach);
        Film(&probe).add_pattern(&y, &mut reach);
        for l in probe.all_links() {
            reach[l.from] |= (1 << l.from) | (1 << l.to);
            reach[l.to] |= (1 << l.from) | (1 << l.to);
        }
        reach[counter::TO_MOTOR] |= (1 << state::SHAFT) | (1 << state::BLOCK);
        Oil(&probe).add_pattern(&y, &mut reach);
        let entries = |rows: std::ops::Range<usize>| {
            let first = rows.start;
            rows.flat_map(|i| (0..N).filter(move |j| reach[i] >> j & 1 == 1).map(move |j| (i - first, j))).collect()
        };
        (entries(0..N), entries(N..N + counter::COUNT))
    }

    fn rates(&self, t: f64, y: &[f64], slow: &[f64], out: &mut [f64]) {
        self.all_rates(t, y, slow, out);
    }

    fn constant_slopes(&self, out: &mut Jacobian) {
        for l in &self.links {
            self.link(*l, out);
        }
    }

    fn jacobian(&self, t: f64, y: &[f64], slow: &[f64], out: &mut Jacobian) {
        self.link(self.rubbed(), out);
        for (node, sign) in [(state::SHAFT, 1.0), (state::BLOCK, -1.0)] {
            out.counters.add(counter::TO_MOTOR - N, node, sign * self.machine.heat.shaft_block);
        }
        Mechanics { assembly: self, slow, time: t }.add_slopes(y, 0.0, out);
        Band(self).add_slopes(y, 0.0, out);
        self.web().add_slopes(y, 0.0, out);
        self.sprocket().add_slopes(y, 0.0, out);
        Chain(self).add_slopes(y, 0.0, out);
        Inner(self).add_slopes(y, 0.0, out);
        Film(self).add_slopes(y, 0.0, out);
        Block(self).add_slopes(y, 0.0, out);
        let mut rates = [0.0; N + counter::COUNT];
        self.bushing_rates(t, y, slow, &mut rates);
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
        &self.abs_tol
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
        for (k, (s, m)) in slow.iter_mut().zip(mean).enumerate() {
            match k {
                slow::RELAXATION => *s = wear::relaxed(*s, *m, length),
                slow::OXIDATION => *s = (*s + m * length).min(1.0),
                slow::GLAZE => {
                    let cleaned = mean[slow::LINING] / self.machine.lining.glaze_depth;
                    *s = history::glazed(*s, *m, cleaned, length);
                }
                k if slow::wears(k) => {}
                _ => *s += m * length,
            }
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
