//! One sampled clutch in its use, for some hours: the temperatures, speeds and loads that its wear and its oil follow from.

use super::course::{Course, MEASURED};
use super::gauge::{Gauge, Gauges, PLACES, SPEEDS, ease};
use crate::duty::{End, Segment, Service, Task};
use crate::laws::bearing::lubrication;
use crate::laws::wear::{relaxation_per_decade, washer_constant};
use crate::model::Assembly;
use crate::names::Channel;
use crate::parts::{Machine, Parameter, settings};
use crate::simulate::carried::{AGE, LINING, RELAXATION, TURNING};
use crate::simulate::{Failure, Options, Simulation};
use crate::units::HOUR;
use crate::usage::Usage;
use std::f64::consts::FRAC_PI_4;

/// Riding times from the cold until it is warm, and for a single rate, s.
const WARM_UP: f64 = 3600.0;
const SHORT: f64 = 300.0;
/// Fills at which the share of the load on the tips is measured, after that of the ride.
const FILLS: [f64; 2] = [0.75, 0.5];
/// Lowest fill of a ride.
const LEAST_FILL: f64 = 0.55;
/// Largest relaxation of the springs at the start of a ride; springs lose so much in hundreds of hours near 150 °C.
const RELAXED: f64 = 0.12;
/// Rates below this are none.
const NONE: f64 = 1e-30;

/// How well the film carries, as a variable of the map: half the logarithm of fill times viscosity, in 10 mPa·s.
pub fn carrying(fill: f64, viscosity: f64) -> f64 {
    0.5 * libm::log(fill.max(1e-3) * viscosity / 0.01)
}

/// What was measured of one clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    /// by place
    pub gauges: Gauges,
    /// ease of the engagement while wear was measured
    pub ease: f64,
    /// relaxation of the springs and wear of the lining, m, at the start
    pub worn: [f64; 2],
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

/// Means over one block of what moves the oil, taking speeds as even between its segments' ends; the shaft's turning as counted.
fn stirred(sim: &mut Simulation, usage: &Usage) -> Result<[f64; SPEEDS], Failure> {
    let (start, turned) = (sim.clock(), sim.slow()[TURNING]);
    let mut sums = [0.0; SPEEDS];
    for segment in &usage.block {
        let speeds = |sim: &Simulation| [Channel::MotorSpeed, Channel::DrumSpeed].map(|channel| sim.reading(channel));
        let (before, since) = (speeds(sim), sim.clock());
        sim.perform(segment)?;
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
    sums[3] = sim.slow()[TURNING] - turned;
    Ok(sums.map(|sum| sum / time))
}

/// Relaxation and wear of the lining, m, for places between new and old; the engagement stays above the springs' limit.
fn aged(machine: &Machine, [relaxed, worn]: [f64; 2]) -> [f64; 2] {
    let worn = worn * (machine.lining.thickness - machine.limits.lining).max(0.0);
    let least = machine.motor.idle + machine.limits.spring_margin;
    let mut relaxation = relaxed * RELAXED;
    while relaxation > 1e-3 && machine.cold_engagement(relaxation, worn) <= least {
        relaxation *= 0.7;
    }
    [relaxation, worn]
}

/// Measures a clutch. `places`, 0 to 1: the fill at which it starts, from the lowest to full, the relaxation of its springs and the
/// wear of its lining.
///
/// Wear is that of the warm clutch and counts from the first minute of a day: that errs high by some per cent, the safe side.
pub fn probe(machine: &Machine, usage: &Usage, places: [f64; 3]) -> Result<Probe, Failure> {
    let mut sim = Simulation::new(machine.clone(), Options { windows: 2, ..Options::UNRECORDED })?;
    let [fill, relaxed, worn] = places;
    set(&mut sim, LEAST_FILL + fill * (1.0 - LEAST_FILL))?;
    let aged = aged(machine, [relaxed, worn]);
    let [relaxation, worn] = aged;
    sim.start_worn(&[(RELAXATION, relaxation), (LINING, worn)]);
    let assembly = Assembly::new(machine.clone())?;
    let (start, cold, since) = (oil(&sim), machine.surroundings.ambient, sim.clock());
    let mut course = Course::new(&sim);
    course.ride(&mut sim, usage, WARM_UP)?;
    let before = Read::of(&sim);
    course.ride(&mut sim, usage, MEASURED)?;
    let after = Read::of(&sim);
    let springs = sim.reading(Channel::Shoes);
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
    // By the law at the springs' temperature: of springs that have relaxed far what a ride adds is lost in rounding.
    let c = &machine.clutch;
    let mut gauges = [NONE; PLACES];
    let mut put = |place: usize, value: f64| gauges[place] = value.max(NONE);
    put(Gauge::Lining as usize, rate(|read| read.lining));
    put(Gauge::Washer as usize, rate(|read| read.washer) / washer);
    put(Gauge::Pressed as usize, pressed);
    put(Gauge::Oxidation as usize, rate(|read| read.oxidation));
    put(Gauge::Charring as usize, rate(|read| read.charring));
    put(Gauge::Ageing as usize, rate(|read| read.age));
    put(Gauge::Relaxation as usize, relaxation_per_decade(c.relaxation, c.relaxation_doubling, springs));
    put(Gauge::WasherRise as usize, washer_rise.max(0.1));
    for (k, mean) in means.into_iter().enumerate() {
        put(Gauge::Stirred as usize + k, mean.max(1e-6));
    }
    put(Gauge::Swing as usize, course.swing());
    for (k, ripple) in course.ripples().into_iter().enumerate() {
        put(Gauge::Ripple as usize + k, ripple.max(1e-6));
    }
    for (k, rise) in course.nodes().into_iter().enumerate() {
        put(Gauge::Rise as usize + k, (rise - cold).max(0.1));
    }
    let hot = sim.reading(Channel::Bushing) - cold;
    sim.perform(&Segment::Ride(Task::Off, End::After(HOUR)))?;
    let left = (sim.reading(Channel::Bushing) - cold).max(1e-3);
    put(Gauge::Cooling as usize, HOUR / libm::log((hot / left).max(1.05)));
    let lost = start[0] + start[1] - end[0] - end[1];
    let middle = |of: fn(&Read) -> f64| 0.5 * (of(&before) + of(&after));
    let ease = ease(machine, middle(|read| read.relaxation), middle(|read| read.lining));
    Ok(Probe { gauges, ease, worn: aged, tips, start, ride, lost, bore, scored })
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
