//! The map from assumed constants, temperature and fill to the rates of a clutch, fitted to simulated hours.

use super::constants::Constants;
use super::gauge::{Gauge, PLACES, divided_out, rate, scale};
use super::probe::{Probe, probe};
use super::surface::{Surface, checked, held_back};
use super::wish::Wish;
use crate::document::season::{Direct, Followed, MapError, Mapped, Rate};
use crate::laws::margin::SPRING_SCATTER;
use crate::parallel::each;
use crate::parts::settings::{bushing, oiling, springs, washer};
use crate::parts::{Machine, Parameter, SPRINGS};
use crate::simulate::Failure;
use crate::spread::{deviate, machine_at};
use crate::statistics::normal_quantile;

/// Margin of temperature beyond the months' means, K.
const MARGIN: f64 = 1.0;
/// Largest share of clutches that may fail.
const FAILS: f64 = 0.1;
/// Places that are raised by the size of the error that 19 of 20 clutches held back do not exceed, so that a fit that is too low hardly
/// ever tells of too few parts.
const RAISED: [usize; 2] = [Gauge::Lining as usize, Gauge::Washer as usize];
/// Variables of the design besides the constants.
const OTHERS: [&str; 4] = ["temperature", "fill", "relaxation", "worn lining"];

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

/// The map.
pub struct Map {
    /// the uncertain constants
    pub constants: Constants,
    /// those that are variables of the surfaces; springs come in by their weakest and their mean
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

/// Forces of the weakest spring and of all springs on the mean, as variables: the shoe of the weakest touches first and wears most.
fn pulls(machine: &Machine) -> [f64; 2] {
    let shares = machine.spring_shares();
    let mean = shares.iter().sum::<f64>() / shares.len().max(1) as f64;
    [machine.weakest_spring() / mean.max(1e-3), mean].map(|force| (force - 1.0) / SPRING_SCATTER)
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
        let constants = Constants::of(wish);
        let exact: Vec<&str> =
            divided_out().chain(FOLLOWED).chain(SPRINGS).chain([&springs::lot]).map(|p| p.path).collect();
        let places = 0..constants.uncertain.len();
        let variables = places.filter(|k| !exact.contains(&constants.uncertain[*k].path.as_str())).collect();
        let temperatures = wish.temperatures.iter().map(|month| month.1);
        let (low, high) = temperatures.fold((f64::MAX, f64::MIN), |(low, high), t| (low.min(t), high.max(t)));
        let mut map = Self {
            constants,
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

    /// The clutches of the design, each with the deviates of its constants, and its places in fill, relaxation and wear of the
    /// lining.
    fn design(&self, wish: &Wish, n: u64) -> Vec<(Machine, Vec<f64>, [f64; 3])> {
        let (n, uncertain) = (n as usize, &self.constants.uncertain);
        let all: Vec<Vec<f64>> = uncertain.iter().map(|u| places(wish.seed, &u.draw, n)).collect();
        let others = OTHERS.map(|name| places(wish.seed, name, n));
        let one = |k: usize| {
            let of = |draw: &str| uncertain.iter().position(|u| u.draw == draw).map(|at| all[at][k]);
            let mut machine = machine_at(&wish.machine, uncertain, of);
            let [temperature, fill, relaxation, worn] = others.each_ref().map(|places| places[k]);
            machine.surroundings.ambient = self.middle + self.half * (2.0 * temperature - 1.0);
            let normals = all.iter().map(|places| normal_quantile(places[k])).collect();
            (machine, normals, [fill, relaxation, worn])
        };
        (0..n).map(one).collect()
    }

    fn fit(&mut self, wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<(), Failure> {
        let design = self.design(wish, wish.clutches);
        let probed = each(design.len(), |k| {
            let (machine, _, places) = &design[k];
            probe(machine, &wish.usage, *places).inspect(|_| done())
        });
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
            wet.iter().map(|(machine, normals, one)| self.place(normals, machine, one.ease)).collect();
        for k in 0..PLACES {
            let value = |machine: &Machine, one: &Probe| libm::log(one.gauges[k] / scale(k, machine));
            let points: Vec<(&[f64], f64)> =
                wet.iter().zip(&places).map(|((machine, _, one), at)| (at.as_slice(), value(machine, one))).collect();
            let (surface, mut error) = checked(rate(k).unwrap_or(Rate::Warming), &points, true);
            error.raised = if RAISED.contains(&k) { error.most } else { 0.0 };
            self.surfaces.push(surface);
            self.errors.extend(rate(k).map(|_| error));
        }
        let fitted = wet.iter().enumerate().filter(|(k, _)| !held_back(*k));
        let tips: Vec<(Vec<f64>, f64)> = fitted
            .flat_map(|(_, (machine, normals, one))| {
                let odds = |(carries, share): &(f64, f64)| {
                    (self.place(normals, machine, *carries), libm::log(share / (1.0 - share)))
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

    /// Place of a clutch in the map, by the normal deviates of its constants. The last variable is the ease of the engagement or, of
    /// the tips, how well the film carries.
    fn place(&self, normals: &[f64], machine: &Machine, last: f64) -> Vec<f64> {
        let mut place = self.own(normals, machine);
        place.extend([self.warmth(machine.surroundings.ambient), last]);
        place
    }

    /// Place of a clutch but for its last two variables.
    fn own(&self, normals: &[f64], machine: &Machine) -> Vec<f64> {
        self.variables.iter().map(|k| normals[*k]).chain(pulls(machine)).collect()
    }

    /// A temperature, −1 to 1 over the season's.
    pub fn warmth(&self, temperature: f64) -> f64 {
        ((temperature - self.middle) / self.half).clamp(-1.0, 1.0)
    }

    /// The logarithm of each gauge of a clutch as a function of temperature and ease; and the logarithm of the odds of the tips'
    /// share, as one of temperature and of how well the film carries.
    pub fn of_clutch(&self, normals: &[f64], machine: &Machine) -> ([[f64; 6]; PLACES], [f64; 6]) {
        let own = self.own(normals, machine);
        let gauges = std::array::from_fn(|k| {
            let mut left = self.surfaces[k].of_last_two(&own);
            left[0] += libm::log(scale(k, machine)) + rate(k).map_or(0.0, |rate| libm::log(self.raised(rate)));
            left
        });
        (gauges, self.tips.of_last_two(&own))
    }

    /// The factor by which a rate is raised to the safe side.
    pub fn raised(&self, rate: Rate) -> f64 {
        self.errors.iter().find(|known| known.rate == rate).map_or(1.0, |known| 1.0 + known.raised)
    }

    /// Takes the errors of what clutches held back lose and wear over a ride, and raises that as the rates.
    pub fn hold(&mut self, errors: [MapError; 2]) {
        self.errors.extend(errors);
    }

    /// Its account, with carts simulated beside it.
    pub fn account(&self, direct: Vec<Direct>, followed: Vec<Followed>) -> Mapped {
        Mapped { runs: self.runs, failed: self.failed, errors: self.errors.clone(), direct, followed }
    }
}
