//! The whole machine: its settings, its modes, and what follows from them.

use super::balance::Moment;
use super::heat::{Interface, LINKS, Link};
use super::liquid::Liquid;
use super::names::*;
use super::shoes::Shoes;
use crate::laws::{air, motor, oil, vehicle};
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
    pub(crate) shoes: Shoes,
    pub(crate) capacity: [f64; N],
    pub(super) links: [Link; LINKS.len()],
    pub(crate) interface: Interface,
    /// conductances of half the first cells of lining and wall, W/K
    pub(super) halves: [f64; 2],
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
    /// that share of the oil outside the pores, from which oil is thrown off: a dose mixes at once with what stands there, but with the
    /// pores' oil only as that comes out. That dilution is neglected, so that it is never too small
    pub(crate) lasting_outside: f64,
    /// its greatest value since the start; above 0 from the first drop of an oil of which some stays on a lining
    pub(crate) most_lasting: f64,
    /// allowed errors with the shoes off the drum, rubbing and locked
    pub(crate) abs_tol: [Vec<f64>; 3],
    /// allowed error of speeds and throttle, relative to the default
    pub(super) speeds: f64,
    /// that of the lining's first cell without slip and of the locked drum, relative to the default
    pub(super) without_slip: f64,
    /// that of speeds and throttle while the lining slips, over the others'
    pub(super) slipping: f64,
    /// that of the film, relative to the default
    pub(super) film: f64,
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
            lasting_outside: lasting,
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

    /// Initial states of a new, cold machine: full of oil, washer soaked, everything at rest.
    pub(crate) fn fresh(&self) -> Vec<f64> {
        let mut y = vec![self.machine.surroundings.ambient; state::COUNT];
        y[state::MOTOR] = 0.0;
        y[state::DRUM] = 0.0;
        y[state::THROTTLE] = 0.0;
        y[state::HEAD] = 0.0;
        y[state::PORES] =
            self.density(self.machine.surroundings.ambient) * self.pore_volume(self.machine.surroundings.ambient);
        y[state::FILM] = self.density(self.machine.surroundings.ambient) * self.clearance_volume;
        y[state::WASHER_OIL] = self.washer_full;
        y[state::GREASE] = 0.0;
        y[state::LINING_OIL] = 0.0;
        y[state::LINING_RESIDUE] = 0.0;
        y[state::SOAKED] = 0.0;
        y[state::SCORE] = 0.0;
        y.resize(state::COUNT + counter::COUNT, 0.0);
        y
    }
}
