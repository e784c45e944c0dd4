//! The whole machine: its settings, its modes, and what follows from them.

use super::balance::Moment;
use super::heat::{Interface, LINKS, Link};
use super::names::*;
use super::oil::Liquid;
use super::shoes::Shoes;
use crate::laws::{air, conduction, motor, oil, vehicle};
use crate::life::Pair;
use crate::names::Happening;
use crate::parts::{Invalid, Machine, ring};
use std::f64::consts::PI;

const N: usize = state::COUNT;

/// Allowed errors of the motor's speed, the drum's and the throttle while locked, over those with slip. Off the drum those
/// of motor and throttle hold.
const WITHOUT_SLIP: [(usize, f64); 3] = [(state::MOTOR, 15.0), (state::THROTTLE, 3.0), (state::DRUM, 3.0)];

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
    pub(crate) shoes: Shoes,
    pub(crate) capacity: [f64; N],
    pub(super) links: [Link; LINKS.len()],
    pub(crate) interface: Interface,
    /// conductances of half the first cells of lining and wall, W/K
    halves: [f64; 2],
    /// share of the lined area that touches
    pub(super) bedded: f64,
    pub(crate) band_half: f64,
    pub(crate) lining_area: f64,
    pub(crate) sprocket_pitch_radius: f64,
    pub(crate) misalignment_slope: f64,
    pub(crate) speed_per_drum: f64,
    pub(crate) reduced_mass: f64,
    pub(crate) rolling: f64,
    pub(crate) grade: f64,
    pub(crate) air_density: f64,
    /// share of its indicated torque that the motor keeps in the air around it
    pub(super) air_share: f64,
    /// speed at which the motor idles at present, rad/s
    pub(crate) idle: f64,
    /// idle speed of a cold start, rad/s, while it is used
    pub(crate) fast_idle: Option<f64>,
    pub(crate) idle_opening: f64,
    /// indicated power of the throttle on its stop, W
    pub(crate) stop_power: f64,
    pub(crate) liquid: Liquid,
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
    /// its greatest value since the start; above 0 from the first drop of an oil of which some stays on a lining
    pub(crate) most_lasting: f64,
    /// allowed errors with the shoes off the drum, rubbing and locked
    pub(crate) abs_tol: [Vec<f64>; 3],
    /// allowed error of speeds and throttle, relative to the default
    pub(super) speeds: f64,
    /// that of the lining's first cell without slip and of the locked drum, relative to the default
    without_slip: f64,
    /// that of speeds and throttle while the lining slips, over the others'
    slipping: f64,
    /// that of the film, relative to the default
    film: f64,
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
        let (lasting, liquid) = (machine.oil.lasting, Liquid::of(&machine, None));
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
            links: Default::default(),
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
            air_share: 1.0,
            idle: 0.0,
            fast_idle: None,
            idle_opening: 0.0,
            stop_power: 0.0,
            liquid,
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
            most_lasting: lasting,
            abs_tol: [vec![], vec![], vec![]],
            speeds: 1.0,
            without_slip: 1.0,
            slipping: 1.0,
            film: 1.0,
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

    /// Sets the allowed errors of speeds and throttle, of what is followed more coarsely without slip, of speeds with slip, and
    /// of the film, relative to the default.
    pub(crate) fn follow(&mut self, speeds: f64, without_slip: f64, slipping: f64, film: f64) {
        (self.speeds, self.without_slip, self.slipping, self.film) = (speeds, without_slip, slipping, film);
        self.derive_abs_tol();
    }

    /// Computes the quantities derived from the machine's settings.
    pub(crate) fn derive(&mut self) {
        let m = &self.machine;
        self.preload = m.preload();
        self.shoes = Shoes::of(m, self.shoes.differ);
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
        self.air_share = motor::air_share(m.surroundings.pressure, m.surroundings.ambient);
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
        self.liquid = Liquid::of(&self.machine, Some(self.liquid.clone()));
        let m = &self.machine;
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
        let mut all = vec![0.02; N];
        // Slip power is torque times the difference of two speeds.
        all[state::MOTOR] = 1e-3 * self.speeds;
        all[state::DRUM] = 3e-4 * self.speeds;
        all[state::THROTTLE] = 1e-4 * self.speeds;
        // The web stores errors of the drum's heat longest: wear in hot duties is only as accurate as the web's
        // temperature, and the bushing's as its own.
        all[state::WEB] = 3e-4;
        all[state::BUSHING] = 6e-3;
        all[state::LINING] = 0.014;
        all[state::HEAD] = 200.0;
        all[state::PORES] = 2e-6 * self.full_mass;
        // Over a hundred outings errors of the oil add up: its service came 0.4 % early with five times as much allowed.
        // In a thick bushing the film is small compared with the oil in the pores, so its error scales with its own
        // size. A bore that is warm from ride to ride wears by 1.6 % less for each thousandth of a full bushing's oil more in it.
        all[state::FILM] = 2e-6 * self.film * self.full_mass.min(30.0 * self.clearance_volume * self.density_20);
        all[state::WASHER_OIL] = 1e-4 * self.washer_full;
        all[state::GREASE] = 1e-4 * self.full_mass;
        all[state::LINING_OIL] = 1e-9;
        all[state::LINING_RESIDUE] = 1e-9;
        all[state::SOAKED] = 1e-9;
        all[state::SCORE] = 1e-5;
        // Nothing that is reported depends as closely on speeds off the drum or locked to it as on those of a slip. What the
        // lining's first cell misses there is in the next cells, and is soon evened out; but blocks then differ by it.
        let mut locked = all.clone();
        for (k, times) in WITHOUT_SLIP {
            locked[k] *= times;
        }
        locked[state::DRUM] *= self.without_slip;
        locked[state::LINING] *= self.without_slip;
        let mut free = locked.clone();
        free[state::DRUM] = all[state::DRUM];
        for k in [state::MOTOR, state::DRUM, state::THROTTLE] {
            all[k] *= self.slipping;
        }
        self.abs_tol = [free, all, locked];
    }

    fn derive_heat(&mut self) {
        let m = &self.machine;
        let (l, d, h) = (&m.lining, &m.drum, &m.heat);
        let mut capacity = [1.0; N];
        // In the order of the links.
        let mut conductances = vec![];
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
                   conductances: &mut Vec<f64>| {
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
                    Some(b) => conductances.push(ring(b, middle)),
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
            &mut conductances,
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
            &mut conductances,
        );
        let series = |a: f64, b: f64| 1.0 / (1.0 / a + 1.0 / b);
        self.halves = [lining_half, wall_half];
        self.band_half = 1.0 / band_half;
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
        conductances.extend([
            series(h.lining_shoes, lining_back),
            h.band_web,
            h.web_sprocket,
            h.sprocket_bushing,
            m.washer_conductance(m.bushing.outside),
            m.washer_conductance(m.washer.outside),
            h.shoes_carrier,
            h.carrier_shaft,
            h.shaft_block,
            h.drum_shoes,
        ]);
        self.capacity = capacity;
        for ((link, ends), g) in self.links.iter_mut().zip(LINKS).zip(conductances) {
            *link = Link::between(ends, g, &capacity);
        }
        self.touch(self.bedded);
    }

    /// Sets the conductances of the rubbed faces for the share of the lined area that touches.
    pub(super) fn touch(&mut self, bedded: f64) {
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
}
