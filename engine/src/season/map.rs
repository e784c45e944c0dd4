//! The map from assumed constants, temperature and fill to the rates of a clutch, fitted to simulated hours.

use super::probe::{Probe, RATES, at, kept, probe};
use super::surface::{Surface, checked, error_of, held_back};
use super::wish::Wish;
use crate::document::season::{Direct, MapError, Mapped, Rate};
use crate::names::distinct;
use crate::parts::settings::{bushing, clutch, lining, oiling, washer};
use crate::parts::{Machine, Parameter};
use crate::simulate::Failure;
use crate::spread::{Uncertain, assumed, deviate, machine_at};
use crate::statistics::normal_quantile;
use rayon::prelude::*;

/// Number of simulated clutches for the rates; of them, one in so many for the share kept of a dose.
pub const CLUTCHES: u64 = 400;
pub const DOSED: u64 = 10;
/// Margin of temperature beyond the months' means, K.
const MARGIN: f64 = 1.0;
/// Largest share of clutches that may fail.
const FAILS: f64 = 0.1;

/// Constants to which a rate is proportional, so that they are divided out exactly.
static PROPORTIONAL: [(Rate, &Parameter, i8); 8] = [
    (Rate::Lining, &lining::wear, 1),
    (Rate::BoreOnFilm, &bushing::wear_film, 1),
    (Rate::Washer, &washer::wear_oiled, 1),
    (Rate::Leaks, &oiling::leak, 1),
    (Rate::Evaporates, &oiling::evaporation, 1),
    (Rate::Oxidation, &oiling::oxidation_life, -1),
    (Rate::Charring, &washer::heat_life, -1),
    (Rate::Relaxation, &clutch::relaxation, 1),
];

/// Rates that are sums of others.
static SUMS: [(Rate, &[Rate]); 2] =
    [(Rate::Bore, &[Rate::BoreOnFilm, Rate::BoreOnTips]), (Rate::Oil, &[Rate::Leaks, Rate::Evaporates, Rate::Thrown])];

/// What a rate is proportional to, for a machine.
fn scale(rate: Rate, machine: &Machine) -> f64 {
    let row = PROPORTIONAL.iter().find(|row| row.0 == rate);
    row.map_or(1.0, |(_, p, power)| (p.of)(machine).max(1e-300).powi(i32::from(*power)))
}

/// Constants on which the share kept of a dose depends.
static OF_DOSES: [&Parameter; 5] =
    [&oiling::imbibe_time, &oiling::run_off_time, &oiling::fling_area, &oiling::fling_least, &oiling::leak];

/// The map.
pub struct Map {
    /// the assumed constants
    pub uncertain: Vec<Uncertain>,
    /// those that are variables of the surfaces
    variables: Vec<usize>,
    /// variables of the share kept of a dose
    dose_variables: Vec<usize>,
    surfaces: Vec<Surface>,
    /// by dose, drops and before opening or not: the share kept
    doses: Vec<((f64, bool), Surface)>,
    middle: f64,
    half: f64,
    errors: Vec<MapError>,
    runs: u64,
    failed: u64,
}

/// The assumed constants of a machine, each by itself.
pub fn uncertain(machine: &Machine) -> Vec<Uncertain> {
    assumed(machine).map(|(p, spread)| Uncertain::alone(p.path, *spread)).collect()
}

/// A latin hypercube: places of `n` clutches in a variable, each in another of `n` equal parts.
fn places(seed: u64, name: &str, n: usize) -> Vec<f64> {
    let mut order: Vec<(f64, usize)> = (0..n).map(|k| (deviate(seed, k as u64, &format!("map/{name}")), k)).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut places = vec![0.0; n];
    for (rank, (_, k)) in order.into_iter().enumerate() {
        places[k] = (rank as f64 + 0.5) / n as f64;
    }
    places
}

impl Map {
    /// Simulates the clutches and fits the map; `done` is called for each.
    pub fn of(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<Self, Failure> {
        let uncertain = uncertain(&wish.machine);
        // Leakage and evaporation change the fill and the film too, and so stay variables.
        let only = |u: &Uncertain| {
            PROPORTIONAL.iter().any(|row| row.1.path == u.path && !matches!(row.0, Rate::Leaks | Rate::Evaporates))
        };
        let variables: Vec<usize> = (0..uncertain.len()).filter(|k| !only(&uncertain[*k])).collect();
        let dose = |u: &Uncertain| OF_DOSES.iter().any(|p| p.path == u.path);
        let dose_variables = (0..uncertain.len()).filter(|k| dose(&uncertain[*k])).collect();
        let temperatures = wish.temperatures.iter().map(|month| month.1);
        let (low, high) = temperatures.fold((f64::MAX, f64::MIN), |(low, high), t| (low.min(t), high.max(t)));
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low) + MARGIN);
        let mut map = Self {
            uncertain,
            variables,
            dose_variables,
            surfaces: vec![],
            doses: vec![],
            middle,
            half,
            errors: vec![],
            runs: wish.clutches,
            failed: 0,
        };
        map.fit(wish, done)?;
        let asked = wish.policies.iter().filter_map(|policy| policy.oiling);
        for (drops, before) in distinct(asked.map(|oiling| (oiling.drops, oiling.before_opening))) {
            let dosed = map.dosed(wish, drops, before, done)?;
            map.doses.push(((drops, before), dosed));
        }
        Ok(map)
    }

    /// The clutches of the design, each with the deviates of its constants, and its places in temperature and fill.
    fn design(&self, wish: &Wish, n: u64) -> Vec<(Machine, Vec<f64>, [f64; 2])> {
        let n = n as usize;
        let all: Vec<Vec<f64>> = self.uncertain.iter().map(|u| places(wish.seed, &u.draw, n)).collect();
        let other = ["temperature", "fill"].map(|name| places(wish.seed, name, n));
        let one = |k: usize| {
            let of = |draw: &str| self.uncertain.iter().position(|u| u.draw == draw).map(|at| all[at][k]);
            let mut machine = machine_at(&wish.machine, &self.uncertain, of);
            machine.surroundings.ambient = self.middle + self.half * (2.0 * other[0][k] - 1.0);
            let normals = all.iter().map(|places| normal_quantile(places[k])).collect();
            (machine, normals, [other[0][k], other[1][k]])
        };
        (0..n).map(one).collect()
    }

    fn fit(&mut self, wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<(), Failure> {
        let design = self.design(wish, wish.clutches);
        let probed: Vec<Result<Probe, Failure>> = design
            .par_iter()
            .map(|(machine, _, places)| probe(machine, &wish.usage, places[1]).inspect(|_| done()))
            .collect();
        self.failed = probed.iter().filter(|one| one.is_err()).count() as u64;
        if self.failed as f64 > FAILS * wish.clutches as f64
            && let Some(Err(first)) = probed.iter().find(|one| one.is_err())
        {
            return Err(first.clone());
        }
        // Of an oiled bushing alone.
        let wet: Vec<(&Machine, Vec<f64>, &Probe)> = design
            .iter()
            .zip(&probed)
            .filter_map(|((machine, normals, _), one)| {
                let one = one.as_ref().ok().filter(|one| !one.scores_when_full)?;
                Some((machine, self.place(normals, machine.surroundings.ambient, one.fill), one))
            })
            .collect();
        for (k, rate) in RATES.into_iter().enumerate() {
            let scores = rate == Rate::Scores;
            let value = |machine: &Machine, one: &Probe| {
                if scores { one.rates[k] } else { libm::log(one.rates[k] / scale(rate, machine)) }
            };
            let points: Vec<(&[f64], f64)> =
                wet.iter().map(|(machine, place, one)| (place.as_slice(), value(machine, one))).collect();
            let (surface, error) = checked(rate, &points, !scores);
            self.surfaces.push(surface);
            self.errors.push(error);
        }
        for (whole, parts) in SUMS {
            let all = |(machine, place, one): &(&Machine, Vec<f64>, &Probe)| {
                let by_map = parts.iter().map(|rate| {
                    let known = libm::exp(self.surfaces[at(*rate)].at(place)) * scale(*rate, machine);
                    (known, one.rates[at(*rate)])
                });
                let (map, exact) = by_map.fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
                (map / exact - 1.0).abs()
            };
            let errors = wet.iter().enumerate().filter(|(k, _)| held_back(*k)).map(|(_, one)| all(one)).collect();
            self.errors.push(error_of(whole, errors));
        }
        Ok(())
    }

    fn dosed(&self, wish: &Wish, drops: f64, before: bool, done: &(dyn Fn() + Sync)) -> Result<Surface, Failure> {
        let design = self.design(wish, wish.clutches / DOSED);
        let one = |(machine, normals, places): &(Machine, Vec<f64>, [f64; 2])| {
            let fill = 0.5 + 0.35 * places[1];
            let share = kept(machine, &wish.usage, fill, drops, before).inspect(|_| done())?;
            Ok((self.dose_place(normals, fill), share))
        };
        let points: Vec<(Vec<f64>, f64)> = design.par_iter().map(one).collect::<Result<_, Failure>>()?;
        Ok(Surface::fitted(&points.iter().map(|(x, y)| (x.as_slice(), *y)).collect::<Vec<_>>()))
    }

    /// Place of a clutch in the map, by the normal deviates of its constants.
    fn place(&self, normals: &[f64], temperature: f64, fill: f64) -> Vec<f64> {
        let own = self.variables.iter().map(|k| normals[*k]);
        own.chain([self.warmth(temperature), filled(fill)]).collect()
    }

    fn dose_place(&self, normals: &[f64], fill: f64) -> Vec<f64> {
        self.dose_variables.iter().map(|k| normals[*k]).chain([0.0, filled(fill)]).collect()
    }

    /// A temperature, −1 to 1 over the season's.
    pub fn warmth(&self, temperature: f64) -> f64 {
        ((temperature - self.middle) / self.half).clamp(-1.0, 1.0)
    }

    /// The logarithm of each rate of a clutch as a function of temperature and fill, but for what it is proportional to.
    pub fn of_clutch(&self, normals: &[f64], machine: &Machine) -> [[f64; 6]; RATES.len()] {
        let own: Vec<f64> = self.variables.iter().map(|k| normals[*k]).collect();
        std::array::from_fn(|k| {
            let mut left = self.surfaces[k].of_last_two(&own);
            if RATES[k] != Rate::Scores {
                left[0] += libm::log(scale(RATES[k], machine));
            }
            left
        })
    }

    /// Share that is kept of a dose.
    pub fn share_kept(&self, normals: &[f64], drops: f64, before_opening: bool, fill: f64) -> f64 {
        let known = self.doses.iter().find(|dose| dose.0 == (drops, before_opening));
        known.map_or(0.0, |(_, surface)| surface.at(&self.dose_place(normals, fill)).clamp(0.0, 1.0))
    }

    /// Its account, with carts followed directly.
    pub fn account(&self, direct: Vec<Direct>) -> Mapped {
        Mapped { runs: self.runs, failed: self.failed, errors: self.errors.clone(), direct }
    }
}

/// A fill, −1 to 1 over those at which rates are measured.
pub fn filled(fill: f64) -> f64 {
    ((fill - 0.75) / 0.25).clamp(-1.0, 1.0)
}
