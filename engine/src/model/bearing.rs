//! The drum on its bushing and washer: load, lubrication, friction, and the score of a bushing that ran badly oiled.

use super::assembly::Assembly;
use super::grip::Gripping;
use super::names::{Contact, slow, state};
use crate::integrate::Step;
use crate::laws::bearing::{self, GRABS, LOST_BY_AGE, SEIZED, SQUEALS};
use crate::names::{Happening, Part};
use crate::real::Real;

/// Least pressure on the bushing, Pa: a bushing without any load floats.
const LEAST_PRESSURE: f64 = 1.0;

/// Pieces of the integral of a spin-down.
const PIECES: u32 = 200;

/// Scores at which a bushing is heard, grabs its shaft, and is seized.
const STAGES: [(f64, Happening); 3] =
    [(SQUEALS, Happening::Squeals), (GRABS, Happening::Grabs), (SEIZED, Happening::Seizes)];

/// The oil in the running clearance.
#[derive(Clone, Copy, Debug)]
struct Film<R> {
    /// filled share of the clearance
    fill: R,
    /// density, kg/m³
    density: R,
    /// dynamic viscosity, Pa·s
    viscosity: R,
    /// share of the viscosity lost per kelvin, 1/K
    thinning: R,
}

/// The bushing on its shaft, and the thrust on the washer, while the drum turns against the motor.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Riding<R> {
    /// load on the bushing without that of its own friction, N
    pub load: R,
    /// how well it is lubricated, 0 to 1
    pub lubricated: R,
    /// share of the load on the tips of its faces
    pub tips: R,
    /// friction of the tips times their share of the load, as a lever, m
    pub lever: R,
    /// thrust on the washer, N
    pub thrust: R,
}

/// Friction of bushing and washer on the drum, N·m: zero while locked.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bearing<R> {
    /// of tips, film and grabbing together
    pub bushing: R,
    pub washer: R,
    /// growth of the bushing's score, 1/s
    pub scoring: R,
}

impl Assembly {
    fn pulls(&self) -> [f64; 3] {
        let b = &self.machine.bushing;
        [b.weight, b.chain_pull, b.shake]
    }

    /// Filled share, viscosity and its fall of the oil in the running clearance.
    fn film<R: Real>(&self, film: R, t: R) -> Film<R> {
        let density = self.density(t);
        let fill = self.filled(film / density);
        Film { fill, density, viscosity: self.viscosity(t), thinning: self.thinning(t) }
    }

    /// Load, lubrication and tips of the bushing under the lining's torque.
    fn riding<R: Real>(
        &self,
        [pores, t, score]: [R; 3],
        film: &Film<R>,
        slow: &[f64],
        grip: &Gripping<R>,
    ) -> Riding<R> {
        let (b, w) = (&self.machine.bushing, &self.machine.washer);
        let pull = grip.capacity / self.sprocket_pitch_radius;
        let load = bearing::load(self.pulls(), grip.capacity, self.sprocket_pitch_radius);
        let saturation = pores / film.density / self.pore_volume(t);
        let lubricated = bearing::lubrication(saturation, film.fill) * (1.0 - LOST_BY_AGE * slow[slow::OXIDATION]);
        let tips = self.tips(film, grip.slip, load);
        let friction = bearing::tip_friction(b.friction_oiled, b.friction_dry, b.friction_scored, lubricated, score);
        Riding {
            load,
            lubricated,
            tips,
            lever: friction * tips * (0.5 * b.bore),
            thrust: pull * self.misalignment_slope + w.preload,
        }
    }

    /// Share of a load that the tips of the faces carry at a slip.
    fn tips<R: Real>(&self, film: &Film<R>, slip: R, load: R) -> R {
        let b = &self.machine.bushing;
        let pressure = (load / (b.bore * b.length)).max(R::from(LEAST_PRESSURE));
        let number = bearing::sommerfeld(film.fill, 0.5 * b.bore / b.clearance, film.viscosity, slip, pressure);
        bearing::tip_share(number, b.mixed_number)
    }

    /// Time in which the drum alone comes to rest from a speed, s: shaft still; chain, washer and cover off; the bushing's
    /// temperature and oil stay.
    /// ```text
    /// t = J ∫ dω/T(ω),   T = μ b W R + film + grabbing
    /// ```
    /// Simpson over the root of the speed, since friction changes most near rest. Neglects the air: errs low by under 1 %.
    pub(crate) fn spin_down(&self, at: [f64; 4], oxidation: f64, speed: f64) -> f64 {
        let [pores, film, t, score] = at;
        let b = &self.machine.bushing;
        let film = self.film(film, t);
        let saturation = pores / film.density / self.pore_volume(t);
        let lubricated = bearing::lubrication(saturation, film.fill) * (1.0 - LOST_BY_AGE * oxidation);
        let friction = bearing::tip_friction(b.friction_oiled, b.friction_dry, b.friction_scored, lubricated, score);
        // Dry friction acts wholly until the drum stands.
        let grabs = bearing::grabbing(b.grab_torque, score);
        let torque = |w: f64| {
            let tips = friction * self.tips(&film, w, b.weight) * b.weight * 0.5 * b.bore;
            tips + self.film_torque(&film, w) + grabs
        };
        let slowness = |x: f64| 2.0 * x * speed / torque(x * x * speed);
        let step = 1.0 / f64::from(PIECES);
        let piece = |k: u32| {
            let x = f64::from(k) * step;
            step / 6.0 * (slowness(x) + 4.0 * slowness(x + 0.5 * step) + slowness(x + step))
        };
        self.machine.drum.inertia * (0..PIECES).map(piece).sum::<f64>()
    }

    /// Torque of the sheared film, N·m.
    fn film_torque<R: Real>(&self, film: &Film<R>, slip: R) -> R {
        let (b, radius) = (&self.machine.bushing, 0.5 * self.machine.bushing.bore);
        let heated =
            bearing::film_factor(bearing::nahme(film.thinning, film.viscosity, slip, radius, b.oil_conductivity));
        bearing::film_torque([radius, b.length, b.clearance], film.viscosity, slip, film.fill, heated)
    }

    /// Friction of bushing and washer. Whatever turns the drum pulls the chain, which loads the bushing in turn.
    pub(crate) fn bearing<R: Real>(
        &self,
        [pores, film, t, score]: [R; 4],
        slow: &[f64],
        grip: &Gripping<R>,
    ) -> Bearing<R> {
        let zero = R::from(0.0);
        if self.contact == Contact::Locked {
            return Bearing { bushing: zero, washer: zero, scoring: zero };
        }
        let (b, w) = (&self.machine.bushing, &self.machine.washer);
        let film = self.film(film, t);
        let on = self.riding([pores, t, score], &film, slow, grip);
        let turned = bearing::turned(grip.slip);
        let washer = turned * on.thrust * (w.friction * 0.25 * (w.inside + w.outside));
        let sheared = self.film_torque(&film, grip.slip);
        let grabs = turned * bearing::grabbing(b.grab_torque, score);
        let torque = grip.capacity + washer.abs() + sheared.abs() + grabs.abs();
        let load = bearing::load(self.pulls(), torque, self.sprocket_pitch_radius);
        let rubbing = turned * on.lever;
        let tips = rubbing * load * bearing::chain_loop(rubbing, self.sprocket_pitch_radius);
        let shadow = b.bore * b.length;
        let scores = bearing::score_rate(on.lubricated, b.score_from, tips * grip.slip, shadow, b.score_energy);
        let scoring = if score.value() < SEIZED { scores } else { zero.beside(scores) };
        Bearing { bushing: tips + sheared + grabs, washer, scoring }
    }

    /// The bushing as it rides in a state.
    pub(crate) fn ridden(&self, y: &[f64], slow: &[f64], grip: &Gripping<f64>) -> Riding<f64> {
        let [pores, film, t, score] = bushing_of(y);
        self.riding([pores, t, score], &self.film(film, t), slow, grip)
    }

    /// Load on the bushing with that of its tips' friction, N, while it turns.
    pub(crate) fn rubbing_load(&self, on: &Riding<f64>) -> f64 {
        on.load * bearing::chain_loop(on.lever, self.sprocket_pitch_radius)
    }

    /// Mean pressure on the bushing's shadow times sliding speed, Pa·m/s.
    pub(crate) fn pressure_speed(&self, y: &[f64], slow: &[f64], grip: &Gripping<f64>) -> f64 {
        if self.contact == Contact::Locked {
            return 0.0;
        }
        let b = &self.machine.bushing;
        let load = self.rubbing_load(&self.ridden(y, slow, grip));
        bearing::pressure_speed(load, b.bore, b.length, grip.slip.abs() * 0.5 * b.bore)
    }

    /// Records when the washer charred and the bushing grabbed.
    pub(super) fn note_reached(&mut self, step: &Step<'_>) {
        let dose = (step.slow_before[slow::DOSE], step.slow[slow::DOSE]);
        let score = (step.before[state::SCORE] / GRABS, step.after[state::SCORE] / GRABS);
        for (reached, (before, after)) in self.reached.iter_mut().zip([dose, score]) {
            if reached.is_none() && before < 1.0 && after >= 1.0 {
                let passed = step.length * (1.0 - before) / (after - before);
                let ran = step.slow_before[slow::RUNNING_TIME] + step.slow_rates[slow::RUNNING_TIME] * passed;
                *reached = Some((step.start + passed, ran));
            }
        }
    }

    /// When a part first reached its limit, if steps rather than wear tell it: time and running time, s.
    pub(crate) fn reached(&self, part: Part) -> Option<(f64, f64)> {
        REACHED.iter().position(|one| *one == part).and_then(|k| self.reached[k])
    }

    /// Records the stages of scoring that a step passed.
    pub(super) fn note_score(&mut self, step: &Step<'_>) {
        let (before, after) = (step.before[state::SCORE], step.after[state::SCORE]);
        for (k, (stage, what)) in STAGES.into_iter().enumerate() {
            if before < stage && after >= stage {
                let passed = step.length * (stage - before) / (after - before);
                let ran = step.slow_before[slow::RUNNING_TIME] + step.slow_rates[slow::RUNNING_TIME] * passed;
                self.scored[k] = self.scored[k].or(Some(ran));
                self.note(step.start + passed, what);
            }
        }
    }
}

/// Parts that reach their limit by heat or score, which may grow manifold within a block.
pub(crate) const REACHED: [Part; 2] = [Part::Charring, Part::Seized];

/// Oil in pores and clearance, temperature and score of the bushing.
pub(crate) fn bushing_of(y: &[f64]) -> [f64; 4] {
    [y[state::PORES], y[state::FILM], y[state::BUSHING], y[state::SCORE]]
}
