//! Oil flows: pores, film, washer, grease, lining, and losses.

use super::assembly::Assembly;
use super::group::{BUSHING_RATE, Group, Sink};
use super::names::{counter, state};
use crate::laws::oil;
use crate::real::Real;

/// Speed of the motor at which constants of losses are stated, rad/s.
pub(crate) const REFERENCE_SPEED: f64 = 261.8;
/// Film mass at which pores and washer are half wetted, relative to a full clearance.
const WETTING: f64 = 0.1;

impl Assembly {
    /// Oil that a kelvin drives out of the pores or lets them draw in from the film, mean of both, kg/K.
    pub(crate) fn breathes(&self, pores: f64, film: f64, t: f64) -> f64 {
        let rho = self.density(t);
        let Breath { swell, bleeds, wets } = Breath::of(self, pores / rho, self.pore_volume(t), film, t);
        rho * swell * 0.5 * (bleeds + wets)
    }
    /// Rate at which a lossless washer fills from the film, in e-folds of its missing oil, 1/s.
    pub(crate) fn feeding(&self, film: f64, t: f64) -> f64 {
        let wets = film / (film + self.density(t) * (WETTING * self.clearance_volume));
        let oil = &self.machine.oil;
        let slow_by = self.viscosity(t) / oil::tension(oil.tension_20, oil.tension_slope, t) / self.eta_over_gamma_80;
        wets / (slow_by * self.machine.washer.feed_time)
    }
}

/// What of the speeds moves the oil: at an instant, or the means of a time in which the oil hardly changes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stirring<R> {
    /// speeds of motor and drum together, rad/s
    pub both: R,
    /// square of the drum's speed, rad²/s²
    pub squared: R,
    /// how far it runs off, 1 at rest
    pub resting: R,
    /// share of the time in which the shaft turns in the bushing
    pub turning: f64,
    /// square of the motor's speed over that of reference
    pub spun: R,
    /// how far the rate of the bushing's temperature swings to either side of its mean, half of the time to each, K/s
    pub ripple: f64,
}

impl<R: Real> Stirring<R> {
    /// At these speeds of motor and drum.
    pub fn at(motor: R, drum: R) -> Self {
        Self {
            both: (motor + drum).abs(),
            squared: drum.squared(),
            // Half as fast at 1 rad/s, negligibly at speed (3e-5 at idle), with a smooth transition.
            resting: R::from(1.0) / (drum.squared() + 1.0),
            turning: if (motor - drum).abs().value() > 1.0 { 1.0 } else { 0.0 },
            spun: (motor / REFERENCE_SPEED).squared(),
            ripple: 0.0,
        }
    }
}

/// What a kelvin moves between pores and film.
struct Breath<R> {
    /// volume by which oil and gas swell more than the pores, m³/K
    swell: R,
    /// share of it that leaves the pores on warming
    bleeds: R,
    /// share of it that they draw in on cooling
    wets: R,
}

impl<R: Real> Breath<R> {
    /// At a volume of oil in the pores, the volume that they hold, and a mass of film.
    fn of(a: &Assembly, volume: R, held: R, film: R, t: R) -> Self {
        let m = &a.machine;
        let zero = R::from(0.0);
        // A step error below zero must not be a divisor.
        let there = film.max(zero);
        Self {
            swell: volume * (oil::expansion(m.oil.density_15, t) - m.bushing.expansion) + (held - volume).max(zero) / t,
            bleeds: ((volume / held - 0.3) / 0.7).clamp(0.0, 1.0),
            wets: there / (there + a.density(t) * (WETTING * a.clearance_volume)),
        }
    }
}

/// The oil of bushing and washer.
pub(crate) struct Oil<'a>(pub &'a Assembly);
impl Group<9> for Oil<'_> {
    const NAME: &'static str = "oil of bushing and washer";
    const VARIABLES: [usize; 9] = [
        state::PORES,
        state::FILM,
        state::WASHER_OIL,
        state::GREASE,
        state::BUSHING,
        BUSHING_RATE,
        state::MOTOR,
        state::DRUM,
        state::WASHER,
    ];

    fn flows<R: Real>(&self, x: [R; 9], out: &mut impl Sink<R>) {
        let [pores, film, soaked, grease, t, warming, motor, drum, washer] = x;
        self.stirred([pores, film, soaked, grease, t, warming, washer], Stirring::at(motor, drum), out);
    }
}

impl Oil<'_> {
    /// Flows between pores, film, washer and grease, and the losses.
    pub fn stirred<R: Real>(&self, x: [R; 7], by: Stirring<R>, out: &mut impl Sink<R>) {
        let [pores, film, soaked, grease, t, warming, washer] = x;
        let a = self.0;
        let m = &a.machine;
        let o = &m.oiling;
        let zero = R::from(0.0);
        let rho = a.density(t);
        let eta = a.viscosity(t);
        let thin = R::from(a.viscosity_80) / eta;
        let slow_by = (eta / oil::tension(m.oil.tension_20, m.oil.tension_slope, t)) / a.eta_over_gamma_80;

        let held = a.pore_volume(t);
        let volume = pores / rho;
        let saturation = volume / held;
        let standing_all = film / rho;
        let clearance = a.clearance_volume;
        let standing = (standing_all - clearance).max(zero);
        let in_clearance = standing_all.min(R::from(clearance));

        // heating drives oil out of the pores, cooling draws it in
        let Breath { swell, bleeds, wets } = Breath::of(a, volume, held, film, t);
        let there = film.max(zero);
        let breathed = |warming: R| swell * warming * if warming.value() >= 0.0 { bleeds } else { wets };
        let moved = match by.ripple {
            0.0 => breathed(warming),
            ripple => (breathed(warming + ripple) + breathed(warming - ripple)) * 0.5,
        };
        let moved = moved.beside(warming + bleeds + wets) + (volume - held).max(zero) / 5.0;

        // exchange between pores and clearance
        let kept = ((saturation - 0.2) / 0.5).smooth() * (0.5 * clearance);
        let surplus = standing_all - kept;
        let tau = slow_by * o.imbibe_time;
        let drawn = surplus.max(zero) * ((-saturation + 1.0) / 0.15).clamp(0.0, 1.0) / tau;
        let given = if by.turning > 0.0 { (-surplus).max(zero) / tau * by.turning } else { zero };
        let to_film = rho * (moved + given - drawn).beside(surplus + saturation);
        out.add(state::PORES, -to_film);
        out.add(state::FILM, to_film);

        // The film thins as h³ − h_min³ and not as h³ cut off at h_min, which would be a step in the rate. From 80 to
        // 10 µm that takes 0.04 % longer, to 2 µm 5 %, for the assumed 1 µm (both integrals in closed form).
        let height = standing / o.fling_area;
        let least = o.fling_least;
        let thrown = (height * height * height - least * least * least).max(zero)
            * (rho * by.squared * (o.fling_area * 2.0 / 3.0) / eta)
            * rho;
        let landing = o.lining_share;
        out.add(state::FILM, -thrown);
        out.add(counter::FLUNG, thrown * (1.0 - landing));
        out.add(state::LINING_OIL, thrown * (landing * (1.0 - a.lasting_outside)));
        out.add(state::LINING_RESIDUE, thrown * (landing * a.lasting_outside));

        let leaking = rho * in_clearance * by.both * thin * (o.leak * 0.5 / REFERENCE_SPEED);
        out.add(state::FILM, -leaking);
        out.add(counter::LEAKED, leaking);

        let running_off = rho * standing * thin * by.resting / o.run_off_time;
        out.add(state::FILM, -running_off);
        out.add(counter::RUN_OFF, running_off);

        let evaporating = a.evaporation(t) * a.end_area;
        let from_film = there / (there + rho * (0.02 * clearance));
        let stored = pores.max(zero);
        let from_pores = (-from_film + 1.0) * (stored / (stored + a.full_mass * 1e-3));
        out.add(state::FILM, -(evaporating * from_film));
        out.add(state::PORES, -(evaporating * from_pores));
        out.add(counter::EVAPORATED, evaporating * (from_film + from_pores));

        let w = &m.washer;
        let fed = wets * (-soaked + a.washer_full).max(zero) / (slow_by * w.feed_time);
        let rim = (soaked / a.washer_full).min(R::from(1.0)) * a.evaporation(washer) * w.rim_area;
        let spun = soaked * by.spun * w.fling;
        out.add(state::FILM, -fed);
        out.add(state::WASHER_OIL, fed - rim - spun);
        out.add(counter::EVAPORATED, rim);
        out.add(counter::FLUNG, spun);

        if a.grease_charge > 0.0 {
            let room = ((-saturation + 1.0) / 0.01).clamp(0.0, 1.0);
            let warm = ((t - 343.15) * (std::f64::consts::LN_2 / 15.0)).exp();
            let released =
                warm * room * (grease / (grease + 0.01 * a.grease_charge)) * (a.grease_charge / o.grease_time);
            out.add(state::GREASE, -released);
            out.add(state::PORES, released);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::Machine;

    #[test]
    fn a_ripple_of_the_warming_moves_the_mean_of_what_warming_and_cooling_by_turns_move() {
        struct Flows([f64; 128]);
        impl Sink<f64> for Flows {
            fn add(&mut self, row: usize, value: f64) {
                self.0[row] += value;
            }
        }
        let a = Assembly::new(Machine::default()).expect("a machine");
        for (pores, film) in [(0.9, 0.3), (0.6, 0.1), (0.9, 0.0), (0.2, 0.2)] {
            let [pores, film] = [pores, film].map(|share| share * a.full_mass);
            let flows = |warming: f64, ripple: f64| {
                let by = Stirring { both: 200.0, squared: 4e4, resting: 0.1, turning: 0.4, spun: 0.5, ripple };
                let mut flows = Flows([0.0; 128]);
                Oil(&a).stirred([pores, film, 0.0, 0.0, 350.0, warming, 330.0], by, &mut flows);
                flows.0
            };
            let (rippled, turns) = (flows(0.1, 0.3), [flows(0.4, 0.0), flows(-0.2, 0.0)]);
            for (row, rippled) in rippled.into_iter().enumerate() {
                let mean = 0.5 * (turns[0][row] + turns[1][row]);
                assert!((rippled - mean).abs() <= 1e-12 * a.full_mass, "row {row}: {rippled}, not {mean}");
            }
        }
    }
}
