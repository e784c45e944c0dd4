//! One sampled clutch in its use, for some hours: the temperatures, speeds and loads that its wear and its oil follow from.

use crate::document::season::Rate;
use crate::duty::{End, Segment, Service, Task};
use crate::laws::bearing::lubrication;
use crate::laws::wear::{relaxed, washer_constant};
use crate::model::Assembly;
use crate::names::{Channel, Part};
use crate::parts::{Machine, Parameter, settings};
use crate::simulate::carried::{AGE, SLIDING};
use crate::simulate::{Failure, Options, Simulation};
use crate::units::{DAY, HOUR};
use crate::usage::Usage;
use std::f64::consts::FRAC_PI_4;

/// Riding times from the cold: until it is warm, and then while wear is measured; for a single rate, s.
const WARM_UP: f64 = 3600.0;
const MEASURED: f64 = 3600.0;
const SHORT: f64 = 300.0;
/// Fills at which the share of the load on the tips is measured, after that of the ride.
const FILLS: [f64; 2] = [0.75, 0.5];
/// Lowest fill of a ride.
const LEAST_FILL: f64 = 0.55;
/// Times at which the bushing's rise in temperature is read, s.
pub const NODES: [f64; 5] = [120.0, 300.0, 900.0, 3600.0, 7200.0];
/// Rates below this are none.
const NONE: f64 = 1e-30;

/// What the map is fitted to: logarithms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gauge {
    /// wear of the lining, m/s
    Lining,
    /// wear of the washer over its wear constant, N/(m·s)
    Washer,
    /// load of the bushing times sliding speed over its shadow, Pa·m/s
    Pressed,
    Oxidation,
    Charring,
    Ageing,
    /// of springs, per decade
    Relaxation,
    /// means of the speeds that move oil, and the washer's rise in temperature, K
    Stirred(usize),
    WasherRise,
    /// time in which the bushing cools at rest, s
    Cooling,
    /// rise of the bushing's temperature at a node, K
    Rise(usize),
}

impl Gauge {
    pub const ALL: [Self; 20] = [
        Self::Lining,
        Self::Washer,
        Self::Pressed,
        Self::Oxidation,
        Self::Charring,
        Self::Ageing,
        Self::Relaxation,
        Self::Stirred(0),
        Self::Stirred(1),
        Self::Stirred(2),
        Self::Stirred(3),
        Self::Stirred(4),
        Self::Stirred(5),
        Self::WasherRise,
        Self::Cooling,
        Self::Rise(0),
        Self::Rise(1),
        Self::Rise(2),
        Self::Rise(3),
        Self::Rise(4),
    ];

    /// Its place in `ALL`.
    pub fn at(self) -> usize {
        Self::ALL.iter().position(|one| *one == self).unwrap_or(0)
    }

    /// The rate whose error an answer states.
    pub fn rate(self) -> Option<Rate> {
        match self {
            Self::Lining => Some(Rate::Lining),
            Self::Washer => Some(Rate::Washer),
            Self::Oxidation => Some(Rate::Oxidation),
            Self::Charring => Some(Rate::Charring),
            Self::Ageing => Some(Rate::Ageing),
            Self::Relaxation => Some(Rate::Relaxation),
            Self::Rise(4) => Some(Rate::Warming),
            _ => None,
        }
    }
}

/// How well the film carries, as a variable of the map: half the logarithm of fill times viscosity, in 10 mPa·s.
pub fn carrying(fill: f64, viscosity: f64) -> f64 {
    0.5 * libm::log(fill.max(1e-3) * viscosity / 0.01)
}

/// What was measured of one clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    /// in the order of `Gauge::ALL`
    pub gauges: [f64; Gauge::ALL.len()],
    /// share of the load on the tips, by how well the film carries
    pub tips: Vec<(f64, f64)>,
    /// oil in pores, film and washer at the start of the ride, kg
    pub start: [f64; 3],
    /// length of the ride, s; the oil lost by pores and film in it, kg; growth of the bore, m
    pub ride: f64,
    pub lost: f64,
    pub bore: f64,
    /// whether the bushing scored, so that it is no longer an oiled one
    pub scored: bool,
}

fn set(sim: &mut Simulation, fill: f64) -> Result<(), Failure> {
    sim.perform(&Segment::Service(Service::Found(fill)))
}

fn oil(sim: &Simulation) -> [f64; 3] {
    [sim.reading(Channel::OilFill) * sim.full_mass(), sim.reading(Channel::Film), sim.reading(Channel::WasherOil)]
}

/// The loss per decade with which a spring relaxes from one value to another in a time, by bisection of the law.
fn per_decade(from: f64, to: f64, time: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if relaxed(from, middle, time) < to { low = middle } else { high = middle }
    }
    high
}

/// Means over one block of what moves the oil, taking speeds as even between its segments' ends; the shaft's turning as counted.
fn stirred(sim: &mut Simulation, usage: &Usage) -> Result<[f64; 6], Failure> {
    let (start, slid) = (sim.clock(), sim.slow()[SLIDING]);
    let mut sums = [0.0; 6];
    for segment in &usage.block {
        let speeds = |sim: &Simulation| [Channel::MotorSpeed, Channel::DrumSpeed].map(|channel| sim.reading(channel));
        let (before, since, warm) = (speeds(sim), sim.clock(), sim.reading(Channel::Bushing));
        sim.perform(segment)?;
        sums[5] += (sim.reading(Channel::Bushing) - warm).abs();
        let (after, time) = (speeds(sim), sim.clock() - since);
        let square = |k: usize| (before[k] * before[k] + before[k] * after[k] + after[k] * after[k]) / 3.0;
        let (a, b) = (before[1], after[1]);
        let resting = if (b - a).abs() > 1e-3 { (b.atan() - a.atan()) / (b - a) } else { 1.0 / (1.0 + a * a) };
        let both = 0.5 * (before[0] + before[1] + after[0] + after[1]);
        let reference = crate::model::REFERENCE_SPEED;
        for (sum, mean) in sums.iter_mut().zip([both, square(1), resting, 0.0, square(0) / (reference * reference)]) {
            *sum += mean * time;
        }
    }
    let time = (sim.clock() - start).max(1e-3);
    sums[3] = sim.slow()[SLIDING] - slid;
    Ok(sums.map(|sum| sum / time))
}

/// Rides and returns the bushing's temperature at the nodes within the ride, between blocks in proportion.
fn warmed(sim: &mut Simulation, usage: &Usage, time: f64) -> Result<Vec<f64>, Failure> {
    let start = sim.clock();
    let mut course = vec![(0.0, sim.reading(Channel::Bushing))];
    while sim.clock() - start < time {
        usage.ride(sim, 1.0)?;
        sim.going()?;
        course.push((sim.clock() - start, sim.reading(Channel::Bushing)));
    }
    let at = |node: f64| {
        let pair = course.windows(2).find(|pair| pair[1].0 >= node)?;
        let ((t0, a), (t1, b)) = (pair[0], pair[1]);
        Some(a + (b - a) * (node - t0) / (t1 - t0).max(1e-9))
    };
    Ok(NODES.into_iter().map_while(at).collect())
}

/// Measures a clutch. `place`, 0 to 1: the fill at which it starts, from the lowest to full.
///
/// Wear is that of the warm clutch and counts from the first minute of a day: that errs high by some per cent, the safe side.
pub fn probe(machine: &Machine, usage: &Usage, place: f64) -> Result<Probe, Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    set(&mut sim, LEAST_FILL + place * (1.0 - LEAST_FILL))?;
    let assembly = Assembly::new(machine.clone())?;
    let (start, cold, since) = (oil(&sim), machine.surroundings.ambient, sim.clock());
    let mut rises = warmed(&mut sim, usage, WARM_UP)?;
    let before = Read::of(&sim);
    usage.ride(&mut sim, MEASURED)?;
    sim.going()?;
    let after = Read::of(&sim);
    rises.truncate(NODES.len() - 1);
    rises.resize(NODES.len(), sim.reading(Channel::Bushing));
    let (ride, end, bore) = (sim.clock() - since, oil(&sim), sim.reading(Channel::BushingWear));
    let scored = sim.reading(Channel::Score) > 0.02;
    let time = after.time - before.time;
    let rate = |of: fn(&Read) -> f64| ((of(&after) - of(&before)) / time).max(NONE);
    let soaked = 0.5 * (before.soaked + after.soaked) / assembly.washer_full;
    let w = &machine.washer;
    let washer = washer_constant(w.wear_oiled, w.wear_dry, soaked, 0.5 * (before.age + after.age), w.age_life);
    let washer_rise = sim.reading(Channel::Washer) - cold;
    let means = stirred(&mut sim, usage)?;
    let (pressed, tips) = on_tips(&mut sim, usage, machine, &assembly)?;
    let mut gauges = [NONE; Gauge::ALL.len()];
    let mut put = |gauge: Gauge, value: f64| gauges[gauge.at()] = value.max(NONE);
    put(Gauge::Lining, rate(|read| read.lining));
    put(Gauge::Washer, rate(|read| read.washer) / washer);
    put(Gauge::Pressed, pressed);
    put(Gauge::Oxidation, rate(|read| read.oxidation));
    put(Gauge::Charring, rate(|read| read.charring));
    put(Gauge::Ageing, rate(|read| read.age));
    put(Gauge::Relaxation, per_decade(before.relaxation, after.relaxation, time));
    put(Gauge::WasherRise, washer_rise.max(0.1));
    for (k, mean) in means.into_iter().enumerate() {
        put(Gauge::Stirred(k), mean.max(1e-6));
    }
    for (k, rise) in rises.into_iter().enumerate() {
        put(Gauge::Rise(k), (rise - cold).max(0.1));
    }
    let hot = sim.reading(Channel::Bushing) - cold;
    sim.perform(&Segment::Ride(Task::Off, End::After(HOUR)))?;
    let left = (sim.reading(Channel::Bushing) - cold).max(1e-3);
    put(Gauge::Cooling, HOUR / libm::log((hot / left).max(1.05)));
    let lost = start[0] + start[1] - end[0] - end[1];
    Ok(Probe { gauges, tips, start, ride, lost, bore, scored })
}

/// Load times speed over the bushing's shadow, Pa·m/s, and the share of it on the tips, by how well the film carries: from the
/// wear with all but one of its constants taken away.
fn on_tips(
    sim: &mut Simulation,
    usage: &Usage,
    machine: &Machine,
    assembly: &Assembly,
) -> Result<(f64, Vec<(f64, f64)>), Failure> {
    let b = &machine.bushing;
    let adjust = |sim: &mut Simulation, setting: &'static Parameter, value: f64| {
        sim.perform(&Segment::Service(Service::Adjust(setting, value)))
    };
    let mut tips = vec![];
    let mut pressed = 0.0;
    for fill in [None].into_iter().chain(FILLS.map(Some)) {
        if let Some(fill) = fill {
            set(sim, fill)?;
            usage.ride(sim, 1.0)?;
        }
        // With one constant for all regimes the wear is that of all load, whoever carries it.
        let before = (sim.clock(), oil(sim), sim.reading(Channel::Bushing));
        if fill.is_none() {
            for setting in [&settings::bushing::wear_film, &settings::bushing::wear_dry] {
                adjust(sim, setting, b.wear_boundary)?;
            }
            pressed = rate_over(sim, usage)? * FRAC_PI_4 / b.wear_boundary;
            let film = &settings::bushing::wear_film;
            adjust(sim, film, film.least)?;
        }
        let start = if fill.is_none() { (sim.clock(), oil(sim), sim.reading(Channel::Bushing)) } else { before };
        let share = rate_over(sim, usage)? * FRAC_PI_4 / b.wear_boundary / pressed;
        let end = (oil(sim), sim.reading(Channel::Bushing));
        let (t, film) = (0.5 * (start.2 + end.1), 0.5 * (start.1[1] + end.0[1]));
        let carries = carrying(assembly.fill(film, t), assembly.viscosity(t));
        tips.push((carries, share.clamp(1e-6, 1.0 - 1e-6)));
    }
    Ok((pressed, tips))
}

/// How well a bushing is lubricated, 0 to 1, before its oil ages.
pub fn lubricated(a: &Assembly, pores: f64, film: f64, t: f64) -> f64 {
    lubrication(pores / a.density(t) / a.pore_volume(t), a.fill(film, t))
}

/// What is read of a simulation.
struct Read {
    time: f64,
    lining: f64,
    washer: f64,
    soaked: f64,
    oxidation: f64,
    charring: f64,
    age: f64,
    relaxation: f64,
}

impl Read {
    fn of(sim: &Simulation) -> Self {
        Self {
            time: sim.clock(),
            lining: sim.reading(Channel::LiningWear),
            washer: sim.reading(Channel::WasherWear),
            soaked: sim.reading(Channel::WasherOil),
            oxidation: sim.reading(Channel::Oxidation),
            charring: sim.reading(Channel::WasherDose),
            age: sim.slow()[AGE],
            relaxation: sim.reading(Channel::Relaxation),
        }
    }
}

/// Wear of the bore over a short ride, m/s.
fn rate_over(sim: &mut Simulation, usage: &Usage) -> Result<f64, Failure> {
    let (before, start) = (sim.reading(Channel::BushingWear), sim.clock());
    usage.ride(sim, SHORT)?;
    Ok(((sim.reading(Channel::BushingWear) - before) / (sim.clock() - start).max(1.0)).max(NONE))
}

/// A clutch simulated day by day from new: wear of lining, bore and washer, m, and the fill at the end. A day is its riding, its
/// temperature, and the drops put on before and after the ride.
pub fn directly(machine: &Machine, usage: &Usage, days: &[(f64, f64, [f64; 2])]) -> Result<[f64; 4], Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    let put_on = |sim: &mut Simulation, drops: f64| {
        let service = Service::Oil { drops, oil: machine.oil.clone() };
        if drops > 0.0 { sim.perform(&Segment::Service(service)) } else { Ok(()) }
    };
    for (hours, temperature, [before, after]) in days {
        let start = sim.clock();
        sim.perform(&Segment::Service(Service::Adjust(&settings::surroundings::ambient, *temperature)))?;
        put_on(&mut sim, *before)?;
        if *hours > 0.0 {
            usage.ride(&mut sim, *hours)?;
        }
        sim.going()?;
        put_on(&mut sim, *after)?;
        let rest = (DAY - (sim.clock() - start)).max(0.0);
        sim.perform(&Segment::Ride(Task::Off, End::After(rest)))?;
    }
    let [lining, bore, washer] =
        [Channel::LiningWear, Channel::BushingWear, Channel::WasherWear].map(|channel| sim.reading(channel));
    Ok([lining, bore, washer, oil(&sim)[..2].iter().sum::<f64>() / sim.full_mass()])
}

/// The assumed constant to which a part's wear is proportional, so that renewed parts differ by it.
pub fn by_constant(part: Part) -> Option<&'static Parameter> {
    match part {
        Part::Lining => Some(&settings::lining::wear),
        Part::Washer => Some(&settings::washer::wear_oiled),
        Part::Bushing => Some(&settings::bushing::wear_boundary),
        _ => None,
    }
}
