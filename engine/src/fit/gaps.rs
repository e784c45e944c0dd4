//! The stack new and as it wears in a use.

use super::answer::{Course, Gaps, Layer, Point};
use super::assemblies::{WASHER, Wear};
use super::{stack, words};
use crate::duty::{Segment, Service};
use crate::origin::Origin;
use crate::parts::Machine;
use crate::record::Setting;
use crate::simulate::{Failure, Options, Simulation};
use crate::usage::{Usage, of};

/// Riding until temperatures hardly rise, and riding over which the wear is then measured, s.
const WARM_UP: f64 = 1800.0;
const MEASURED: f64 = 1200.0;
/// Points of a curve.
const POINTS: u32 = 60;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine
    pub machine: Machine,
    /// how far the cover's face lies back from the plane that the bushing stands on, and its tolerance, m; below zero where it
    /// comes toward the drum
    pub cover: (f64, f64),
    /// the use that it wears in
    pub usage: Usage,
    /// seed of the draws
    pub seed: u64,
    /// assemblies to draw
    pub assemblies: u64,
    /// who asks
    pub origin: Origin,
}

impl Wish {
    /// A cover that is flush with the plane that the bushing stands on, and 10 000 assemblies.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        Self { machine, cover: (0.0, 0.0), usage, seed: 1, assemblies: 10_000, origin: Origin::default() }
    }

    fn layers(&self) -> Vec<Layer> {
        let m = &self.machine;
        let layer = |name: &str, size, tolerance| Layer { name: name.to_owned(), size, tolerance };
        let mut layers = vec![
            layer("bushing, proud of the sprocket", m.cover.proud, m.cover.proud_tolerance),
            layer(WASHER, m.washer.thickness, m.cover.washer_tolerance),
        ];
        if self.cover != (0.0, 0.0) {
            layers.push(layer("cover, set back", self.cover.0, self.cover.1));
        }
        layers
    }
}

/// Works out the stack and how long its gap lasts.
pub fn gaps(wish: &Wish) -> Result<Gaps, Failure> {
    let (layers, limit) = (wish.layers(), wish.machine.limits.cover_gap);
    let stack = stack(&layers, limit, wish.seed, wish.assemblies);
    let mut dry = wish.machine.clone();
    dry.washer.wear_oiled = dry.washer.wear_dry;
    let courses = vec![
        course(wish, &layers, "kept oiled", &wish.machine, None)?,
        course(wish, &layers, "run dry", &dry, Some(0.0))?,
    ];
    let mut gaps = Gaps {
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        layers,
        stack,
        limit,
        washer_limit: wish.machine.limits.washer,
        courses,
        seed: wish.seed,
        assemblies: wish.assemblies,
        statement: vec![],
        assumed: words::assumed(&wish.machine),
        settings: Setting::all(&wish.machine),
        origin: wish.origin.clone(),
    };
    gaps.statement = words::sentences(&gaps);
    gaps.statement.extend(wish.usage.slipping_said(&wish.machine));
    Ok(gaps)
}

/// How fast one machine's washer wears in the use once it is warm, and how the gap goes on from there.
fn course(wish: &Wish, layers: &[Layer], name: &str, machine: &Machine, found: Option<f64>) -> Result<Course, Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::default())?;
    if let Some(share) = found {
        sim.perform(&Segment::Service(Service::Found(share)))?;
    }
    let worn = |sim: &Simulation| (sim.reading("washer wear").unwrap_or(0.0), sim.clock());
    wish.usage.ride(&mut sim, WARM_UP)?;
    let from = worn(&sim);
    wish.usage.ride(&mut sim, MEASURED)?;
    let until = worn(&sim);
    let (rate, soaked) = ((until.0 - from.0) / (until.1 - from.1).max(1.0), sim.soaked());
    let run = sim.finish(&machine.name, &wish.usage.name)?;
    let washer = of(&run.overall.most, "washer");
    let wear = Wear::new(machine, rate, soaked, washer);
    let least = machine.limits.washer;
    let when = |depth: &dyn Fn(f64, f64) -> f64| wear.when(layers, wish.seed, wish.assemblies, depth);
    let washer_due = when(&|_, washer| washer - least);
    let bronze_on_steel = when(&|_, washer| washer);
    let tight = when(&|gap, _| gap - machine.limits.cover_gap);
    let touches = when(&|gap, _| gap);
    let points = points(&wear, layers, bronze_on_steel.time, touches.time);
    Ok(Course {
        name: name.to_owned(),
        washer,
        chars: washer >= machine.limits.washer_char,
        points,
        washer_due,
        bronze_on_steel,
        tight,
        touches,
    })
}

/// Washer and gap over time until nothing is left, with every size at its least, nominal and most.
fn points(wear: &Wear, layers: &[Layer], gone: Option<f64>, touches: Option<f64>) -> Vec<Point> {
    let gone = gone.unwrap_or(0.0);
    let end = 1.1 * touches.unwrap_or(gone).max(gone);
    let up_to =
        |from: f64, until: f64| (0..POINTS).map(move |k| from + (until - from) * f64::from(k) / f64::from(POINTS));
    let times = up_to(0.0, gone).chain(up_to(gone, end)).chain([end]);
    let sized = |side: f64, which: Option<&str>| -> f64 {
        let kept = layers.iter().filter(|l| which.is_none_or(|name| l.name == name));
        kept.map(|l| l.size + side * l.tolerance).sum()
    };
    times
        .map(|time| {
            let left = |side: f64, which: Option<&str>| {
                let washer = sized(side, Some(WASHER));
                (sized(side, which) - wear.lost(time, washer)).max(0.0)
            };
            Point {
                time,
                washer: [-1.0, 0.0, 1.0].map(|side| left(side, Some(WASHER))),
                gap: [-1.0, 0.0, 1.0].map(|side| left(side, None)),
            }
        })
        .collect()
}
