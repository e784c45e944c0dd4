//! What a run of a case is judged by, and its errors.

use slipsoak_engine::names::{Channel, Entry, Happening};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Options, Simulation, Tolerance};

/// A machine and what it does.
pub struct Case {
    pub name: &'static str,
    pub machine: Machine,
    pub duty: fn(&mut Simulation),
}

/// What a run is judged by.
pub struct Result {
    /// highest temperature of the rubbed face of the lining, K
    pub peak: f64,
    /// highest and last temperatures of all other parts, K
    pub warm: Vec<f64>,
    /// worn volumes of lining, bore, washer and face, m³
    pub worn: [f64; 4],
    /// fill of the bushing at the end, 1
    pub fill: f64,
    /// heat of the slipping lining, J
    pub slip: f64,
    /// times at which the clutch locks, s
    pub locks: Vec<f64>,
    /// largest relative residual of the ledgers of mechanics and chain
    pub open: f64,
    pub run: Run,
}

/// Largest differences of a run from one that is taken as exact.
#[derive(Clone, Copy, Debug, Default)]
pub struct Errors {
    /// K
    pub peak: f64,
    /// K
    pub warm: f64,
    /// lining, bore, washer and face, relative
    pub worn: [f64; 4],
    /// 1
    pub fill: f64,
    /// relative
    pub slip: f64,
    /// s; infinite if the clutch locks another number of times
    pub lock: f64,
    /// residual of the ledgers, not a difference
    pub open: f64,
}

/// Processor time of this process so far, ms; 0 where the system does not say.
pub fn processor_time() -> f64 {
    let told = std::fs::read_to_string("/proc/self/schedstat").unwrap_or_default();
    told.split(' ').next().and_then(|t| t.parse::<f64>().ok()).unwrap_or(0.0) * 1e-6
}

impl Errors {
    pub fn of(found: &Result, exact: &Result) -> Self {
        let off = |a: f64, b: f64| if b == 0.0 { a.abs() } else { (a / b - 1.0).abs() };
        let most = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        Self {
            peak: (found.peak - exact.peak).abs(),
            warm: most(&found.warm, &exact.warm),
            worn: std::array::from_fn(|k| off(found.worn[k], exact.worn[k])),
            fill: (found.fill - exact.fill).abs(),
            slip: off(found.slip, exact.slip),
            lock: if found.locks.len() == exact.locks.len() { most(&found.locks, &exact.locks) } else { f64::INFINITY },
            open: found.open,
        }
    }

    /// The larger of each.
    pub fn worst(self, other: Self) -> Self {
        Self {
            peak: self.peak.max(other.peak),
            warm: self.warm.max(other.warm),
            worn: std::array::from_fn(|k| self.worn[k].max(other.worn[k])),
            fill: self.fill.max(other.fill),
            slip: self.slip.max(other.slip),
            lock: self.lock.max(other.lock),
            open: self.open.max(other.open),
        }
    }

    /// Largest share of what the class of single runs allows: 0.5 K at the peak of the lining, 0.1 K elsewhere, 0.1 % of
    /// wear, 0.1 % of a full bushing.
    pub fn of_single_runs(&self) -> f64 {
        [self.peak / 0.5, self.warm / 0.1, self.fill / 1e-3].into_iter().fold(self.of_wear() / 1e-3, f64::max)
    }

    /// Largest relative error of wear.
    pub fn of_wear(&self) -> f64 {
        self.worn.into_iter().fold(0.0, f64::max)
    }
}

impl Case {
    pub fn at(&self, tolerance: Tolerance) -> Result {
        let options = Options { windows: 2, tolerance, ..Options::default() };
        let sim = Simulation::new(self.machine.clone(), options).expect("a machine");
        self.by(sim)
    }

    /// The case, by a simulation of its machine.
    pub fn by(&self, mut sim: Simulation) -> Result {
        (self.duty)(&mut sim);
        let last: Vec<f64> = Channel::ALL.iter().map(|channel| sim.reading(*channel)).collect();
        let run = sim.finish(self.name, "accuracy").unwrap_or_else(|why| panic!("{}: {why}", self.name));
        let parts = Channel::ALL.into_iter().filter(|c| c.is_temperature() && *c != Channel::LiningSurface);
        Result {
            peak: Channel::LiningSurface.of(&run.overall.most),
            warm: parts.flat_map(|c| [c.of(&run.overall.most), c.of(&last)]).collect(),
            worn: [Entry::Lining, Entry::BushingBore, Entry::Washer, Entry::BushingFace]
                .map(|pair| run.ledgers.wear.inward[&pair]),
            fill: Channel::OilFill.of(&last),
            slip: run.ledgers.heat.inward[&Entry::SlipHeat],
            locks: run.events.iter().filter(|e| e.what == Happening::Locks).map(|e| e.time).collect(),
            open: run.ledgers.mechanics.relative.max(run.ledgers.chain.relative),
            run,
        }
    }
}
