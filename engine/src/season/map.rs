//! The map from assumed constants, temperature and fill to the rates of a clutch, fitted to simulated hours.

use super::probe::{Gauge, Probe, probe};
use super::surface::{Surface, checked, held_back};
use super::wish::Wish;
use crate::document::season::{Direct, MapError, Mapped, Rate};
use crate::parts::settings::{bushing, clutch, lining, oiling, washer};
use crate::parts::{Machine, Parameter};
use crate::simulate::Failure;
use crate::spread::{Uncertain, assumed, deviate, machine_at};
use crate::statistics::normal_quantile;
use rayon::prelude::*;

/// Number of simulated clutches.
pub const CLUTCHES: u64 = 400;
/// Margin of temperature beyond the months' means, K.
const MARGIN: f64 = 1.0;
/// Largest share of clutches that may fail.
const FAILS: f64 = 0.1;
/// Number of gauges.
const GAUGES: usize = Gauge::ALL.len();

/// Constants to which a gauge is proportional, so that they are divided out exactly.
static PROPORTIONAL: [(Gauge, &Parameter, i8); 4] = [
    (Gauge::Lining, &lining::wear, 1),
    (Gauge::Oxidation, &oiling::oxidation_life, -1),
    (Gauge::Charring, &washer::heat_life, -1),
    (Gauge::Relaxation, &clutch::relaxation, 1),
];

/// Constants that a cart follows by the laws themselves; what they change of temperatures, by the film's friction, is neglected.
static FOLLOWED: [&Parameter; 10] = [
    &washer::wear_oiled,
    &washer::wear_dry,
    &bushing::wear_film,
    &bushing::wear_boundary,
    &bushing::wear_dry,
    &bushing::score_energy,
    &oiling::leak,
    &oiling::imbibe_time,
    &oiling::run_off_time,
    &oiling::evaporation,
];

/// What a gauge is proportional to, for a machine.
fn scale(gauge: Gauge, machine: &Machine) -> f64 {
    let row = PROPORTIONAL.iter().find(|row| row.0 == gauge);
    row.map_or(1.0, |(_, p, power)| (p.of)(machine).max(1e-300).powi(i32::from(*power)))
}

/// The map.
pub struct Map {
    /// the assumed constants
    pub uncertain: Vec<Uncertain>,
    /// those that are variables of the surfaces
    variables: Vec<usize>,
    surfaces: Vec<Surface>,
    /// odds of a load's share on the tips
    tips: Surface,
    middle: f64,
    half: f64,
    errors: Vec<MapError>,
    runs: u64,
    failed: u64,
    /// clutches held back from the fit: their machines, the deviates of their constants, and what was measured
    pub held_back: Vec<(Machine, Vec<f64>, Probe)>,
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
        let exact = PROPORTIONAL.iter().map(|row| row.1).chain(FOLLOWED);
        let exact: Vec<&str> = exact.map(|p| p.path).collect();
        let variables = (0..uncertain.len()).filter(|k| !exact.contains(&uncertain[*k].path.as_str())).collect();
        let temperatures = wish.temperatures.iter().map(|month| month.1);
        let (low, high) = temperatures.fold((f64::MAX, f64::MIN), |(low, high), t| (low.min(t), high.max(t)));
        let mut map = Self {
            uncertain,
            variables,
            surfaces: vec![],
            tips: Surface::fitted(&[]),
            middle: 0.5 * (low + high),
            half: 0.5 * (high - low) + MARGIN,
            errors: vec![],
            runs: wish.clutches,
            failed: 0,
            held_back: vec![],
        };
        map.fit(wish, done)?;
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
        let wet: Vec<(&Machine, &Vec<f64>, &Probe)> = design
            .iter()
            .zip(&probed)
            .filter_map(|((machine, normals, _), one)| {
                Some((machine, normals, one.as_ref().ok().filter(|one| !one.scored)?))
            })
            .collect();
        let places: Vec<Vec<f64>> =
            wet.iter().map(|(machine, normals, _)| self.place(normals, machine.surroundings.ambient, 0.0)).collect();
        for (k, gauge) in Gauge::ALL.into_iter().enumerate() {
            let value = |machine: &Machine, one: &Probe| libm::log(one.gauges[k] / scale(gauge, machine));
            let points: Vec<(&[f64], f64)> =
                wet.iter().zip(&places).map(|((machine, _, one), at)| (at.as_slice(), value(machine, one))).collect();
            let (surface, error) = checked(gauge.rate().unwrap_or(Rate::Warming), &points, true);
            self.surfaces.push(surface);
            self.errors.extend(gauge.rate().map(|_| error));
        }
        let fitted = wet.iter().enumerate().filter(|(k, _)| !held_back(*k));
        let tips: Vec<(Vec<f64>, f64)> = fitted
            .flat_map(|(_, (machine, normals, one))| {
                let odds = |(carries, share): &(f64, f64)| {
                    (self.place(normals, machine.surroundings.ambient, *carries), libm::log(share / (1.0 - share)))
                };
                one.tips.iter().map(odds).collect::<Vec<_>>()
            })
            .collect();
        self.tips = Surface::fitted(&tips.iter().map(|(x, y)| (x.as_slice(), *y)).collect::<Vec<_>>());
        let back = wet.iter().enumerate().filter(|(k, _)| held_back(*k));
        self.held_back =
            back.map(|(_, (machine, normals, one))| ((*machine).clone(), (*normals).clone(), (*one).clone())).collect();
        Ok(())
    }

    /// Place of a clutch in the map, by the normal deviates of its constants; `carries` says how well the film carries.
    fn place(&self, normals: &[f64], temperature: f64, carries: f64) -> Vec<f64> {
        let own = self.variables.iter().map(|k| normals[*k]);
        own.chain([self.warmth(temperature), carries]).collect()
    }

    /// A temperature, −1 to 1 over the season's.
    pub fn warmth(&self, temperature: f64) -> f64 {
        ((temperature - self.middle) / self.half).clamp(-1.0, 1.0)
    }

    /// The logarithm of each gauge of a clutch as a function of temperature; and the logarithm of the odds of the tips' share,
    /// as one of temperature and of how well the film carries.
    pub fn of_clutch(&self, normals: &[f64], machine: &Machine) -> ([[f64; 6]; GAUGES], [f64; 6]) {
        let own: Vec<f64> = self.variables.iter().map(|k| normals[*k]).collect();
        let gauges = std::array::from_fn(|k| {
            let mut left = self.surfaces[k].of_last_two(&own);
            left[0] += libm::log(scale(Gauge::ALL[k], machine));
            left
        });
        (gauges, self.tips.of_last_two(&own))
    }

    /// Its account, with the errors of clutches followed and carts simulated beside it.
    pub fn account(&self, followed: [MapError; 2], direct: Vec<Direct>) -> Mapped {
        let errors = self.errors.iter().cloned().chain(followed).collect();
        Mapped { runs: self.runs, failed: self.failed, errors, direct }
    }
}
