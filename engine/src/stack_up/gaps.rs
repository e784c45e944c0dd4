//! The stack when new and over its wear in a use.

use super::assemblies::{Sampled, Wear, nominal, sampled};
use super::stack;
use crate::document::finding::{Assumed, Beyond, Sag};
use crate::document::record::{Run, Setting};
use crate::document::stack_up::{Clearance, Course, Fails, Gaps, Layer, When};
use crate::document::{Head, Is};
use crate::duty::{Segment, Service};
use crate::laws::margin::VARIATION;
use crate::names::{Channel, Oiled, Part};
use crate::parts::{Machine, Parameter, settings};
use crate::simulate::carried::AGE;
use crate::simulate::{Failure, Options, Simulation};
use crate::spread::{Known, assumed_factor};
use crate::spring_choice::{self, InPlace, in_place_of_own};
use crate::usage::{Usage, WARMING};

/// Number of points of a curve, evenly spaced in the logarithm of time.
const POINTS: u32 = 160;
/// Start of a curve, as a share of the time by which the first sampled washers are due; and its range if nothing wears,
/// s.
const BEGINS: f64 = 0.005;
const NEVER: (f64, f64) = (3600.0, 3.6e6);

/// Wear constants of the faces of the stack: of an oiled and a dry washer, and of bronze on steel.
static PAIRS: [&Parameter; 3] =
    [&settings::washer::wear_oiled, &settings::washer::wear_dry, &settings::bushing::wear_face];

/// A question on the gap under the cover.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine
    pub machine: Machine,
    /// distance of the cover's face behind the plane of the bushing's seat, and its tolerance, m; negative if it is
    /// closer to the drum
    pub cover: (f64, f64),
    /// its use
    pub usage: Usage,
    /// idle variation to either side, rad/s
    pub wander: f64,
    /// what a calibration left open of the constants that it learned, which the machine has already
    pub known: Vec<Known>,
    /// seed of the samples
    pub seed: u64,
    /// number of assemblies to sample
    pub assemblies: u64,
}

impl Wish {
    /// A cover flush with the plane of the bushing's seat, and 10 000 assemblies.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        Self { machine, cover: (0.0, 0.0), usage, wander: VARIATION, known: vec![], seed: 1, assemblies: 10_000 }
    }

    fn layers(&self) -> Vec<Layer> {
        let m = &self.machine;
        let layer = |name: &str, size, tolerance| Layer { name: name.to_owned(), size, tolerance };
        let mut layers = vec![
            layer("bushing, proud of the sprocket", m.cover.proud, m.cover.proud_tolerance),
            layer(Layer::WASHER, m.washer.thickness, m.cover.washer_tolerance),
        ];
        if self.cover != (0.0, 0.0) {
            layers.push(layer("cover, set back", self.cover.0, self.cover.1));
        }
        layers
    }

    /// Factor either way within which a wear constant lies, learned or assumed.
    fn factor(&self, p: &Parameter) -> f64 {
        Known::factor_of(&self.known, p).or(assumed_factor(p)).unwrap_or(1.0)
    }

    /// Assumptions of the answer.
    fn assumed(&self) -> Vec<Assumed> {
        let [oiled, dry, face] = PAIRS.map(|p| self.factor(p));
        let learned = PAIRS[..2].iter().any(|p| Known::factor_of(&self.known, p).is_some());
        vec![
            if learned { Assumed::LearnedWasher { oiled, dry } } else { Assumed::WasherWear { factor: oiled } },
            Assumed::Misalignment { angle: self.machine.washer.misalignment },
            Assumed::EvenSizes,
            Assumed::BronzeOnSteel { factor: face },
        ]
    }
}

/// Computes the stack and the life of its gap.
pub fn gaps(wish: &Wish) -> Result<Gaps, Failure> {
    let (layers, limit) = (wish.layers(), wish.machine.limits.cover_gap);
    let stack = stack(&layers, limit, wish.seed, wish.assemblies);
    let mut dry = wish.machine.clone();
    dry.washer.wear_oiled = dry.washer.wear_dry;
    // A dry bushing grabs its shaft within the hour; only its washer is of interest here.
    dry.bushing.score_energy = settings::bushing::score_energy.most;
    let [on_oiled, on_dry, on_face] = PAIRS.map(|p| wish.factor(p));
    let assemblies = |on_washer| (nominal(&layers), sampled(&layers, wish.seed, wish.assemblies, (on_washer, on_face)));
    let (oiled, settled) = course(wish, &assemblies(on_oiled), Oiled::Kept, &wish.machine, None)?;
    let (dry, _) = course(wish, &assemblies(on_dry), Oiled::Dry, &dry, Some(0.0))?;
    let sag = Sag::of(&wish.machine, settled, wish.wander);
    let asked = spring_choice::Wish {
        wander: wish.wander,
        ..spring_choice::Wish::new(wish.machine.clone(), wish.usage.clone())
    };
    let InPlace { against, renewed, sought } = in_place_of_own(&asked, sag.is_some())?;
    Ok(Gaps {
        kind: Is::default(),
        head: Head { seeds: vec![wish.seed], ..Head::default() },
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        layers,
        stack,
        limit,
        washer_limit: wish.machine.limits.washer,
        courses: vec![oiled, dry],
        assemblies: wish.assemblies,
        clearance: Clearance::of(&stack, limit),
        wander: wish.wander,
        wrong_oil: wish.machine.oil.is_wrong(),
        sag,
        against,
        renewed,
        sought,
        slipping: wish.usage.slipping(&wish.machine),
        learned: PAIRS.iter().filter_map(|p| wish.known.iter().find(|known| known.path == p.path)).cloned().collect(),
        assumed: wish.assumed(),
        settings: Setting::all(&wish.machine),
    })
}

/// Wear of one machine's warm washer in the use, and the gap extrapolated from it; also the engagement speed after a
/// season of relaxation at that temperature, rad/s.
fn course(
    wish: &Wish,
    (nominal, sampled): &(Sampled, Vec<Sampled>),
    name: Oiled,
    machine: &Machine,
    found: Option<f64>,
) -> Result<(Course, Option<f64>), Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::default())?;
    if let Some(share) = found {
        sim.perform(&Segment::Service(Service::Found(share)))?;
    }
    let worn = |sim: &Simulation| (sim.reading(Channel::WasherWear), sim.slow()[AGE], sim.clock());
    wish.usage.ride(&mut sim, WARMING[0])?;
    let from = worn(&sim);
    wish.usage.ride(&mut sim, WARMING[1])?;
    sim.going()?;
    let until = worn(&sim);
    let time = (until.2 - from.2).max(1.0);
    let (rate, ageing, soaked) = ((until.0 - from.0) / time, (until.1 - from.1) / time, sim.soaked());
    let run = sim.finish(&machine.name, &wish.usage.name)?;
    let (washer, settled) = (Channel::Washer.of(&run.overall.most), run.engagement.settled);
    let failed = [Part::Charring, Part::Seized].into_iter().filter_map(|part| failed(&run, part));
    let fails = failed.min_by(|a, b| a.after.total_cmp(&b.after));
    let wear = Wear::new(machine, rate, ageing, soaked);
    let least = machine.limits.washer;
    let when = |depth: &dyn Fn(f64, f64) -> f64| wear.when(nominal, sampled, depth);
    let washer_due = when(&|_, washer| washer - least);
    let bronze_on_steel = when(&|_, washer| washer);
    let tight = when(&|gap, _| gap - machine.limits.cover_gap);
    let touches = when(&|gap, _| gap);
    let last = |when: &When| when.late.or(when.time).unwrap_or(0.0);
    let end = Some(last(&touches).max(last(&bronze_on_steel))).filter(|t| *t > 0.0).map_or(NEVER.1, |t| 1.1 * t);
    let begin =
        washer_due.early.or(washer_due.time).filter(|t| *t > 0.0).map_or(NEVER.0, |t| BEGINS * t).min(1e-3 * end);
    let step = (end / begin).ln() / f64::from(POINTS - 1);
    let times = (0..POINTS).map(|k| begin * (step * f64::from(k)).exp());
    let points = times.map(|time| wear.left(time, nominal, sampled)).collect();
    let course =
        Course { name, washer, beyond: Beyond::of(&run), fails, points, washer_due, bronze_on_steel, tight, touches };
    Ok((course, settled))
}

/// The failure of a part that reaches its limit within a run.
fn failed(run: &Run, part: Part) -> Option<Fails> {
    let reached = run.parts.iter().find(|p| p.part == part && p.used >= 1.0)?;
    Some(Fails { part, after: reached.running? })
}
