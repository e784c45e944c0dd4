//! One sampled clutch in its use, for some hours: the rates at which it wears and loses oil.

use crate::document::season::Rate;
use crate::duty::{End, Segment, Service, Task};
use crate::laws::bearing::{LOST_BY_AGE, SQUEALS};
use crate::laws::wear::relaxed;
use crate::names::{Channel, Part};
use crate::parts::{Machine, Parameter, settings};
use crate::simulate::carried::AGE;
use crate::simulate::{Failure, Options, Simulation};
use crate::units::{DAY, HOUR};
use crate::usage::Usage;

/// Riding times from the cold: until it is warm, and then while wear is measured; for a single rate; at each fill of the search
/// for scoring, s.
const WARM_UP: f64 = 1800.0;
const MEASURED: f64 = 3600.0;
const SHORT: f64 = 480.0;
const SEARCHED: [f64; 2] = [300.0, 480.0];
/// Fills at which scoring is searched, from above.
const FILLS: [f64; 8] = [0.75, 0.65, 0.58, 0.53, 0.48, 0.43, 0.38, 0.30];
/// Lowest fill at which rates are measured.
const LEAST_FILL: f64 = 0.55;

/// Rates below these are none: of wear and ageing, and of losses of oil as a share of a full bushing, per second.
const NONE: f64 = 1e-18;
const NO_LOSS: f64 = 1e-10;
/// Age of the oil at which its scoring is measured.
const AGED: f64 = 0.6;

/// What the map is fitted to.
pub const RATES: [Rate; 14] = [
    Rate::Lining,
    Rate::BoreOnFilm,
    Rate::BoreOnTips,
    Rate::Washer,
    Rate::Leaks,
    Rate::Evaporates,
    Rate::Thrown,
    Rate::Oxidation,
    Rate::Charring,
    Rate::Ageing,
    Rate::Relaxation,
    Rate::Driven,
    Rate::Scores,
    Rate::AgedScores,
];

/// Index of a rate in `RATES`.
pub fn at(rate: Rate) -> usize {
    RATES.iter().position(|one| *one == rate).unwrap_or(0)
}

/// By how much the lubrication of a wet bushing falls short, by its oil's age and the lubrication below which it scores, 0 to 1.
/// ```text
/// max(0, 1 − (1 − a_lost o)/a_0)
/// ```
/// Scoring goes with its square. The law of the score, for a bushing that is full.
pub fn lacks(oxidation: f64, from: f64) -> f64 {
    (1.0 - (1.0 - LOST_BY_AGE * oxidation) / from).max(0.0)
}

/// Measured rates of one clutch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Probe {
    /// in the order of `RATES`; of wear, ageing and oil per second; relaxation per decade; shares of a full bushing
    pub rates: [f64; RATES.len()],
    /// fill at which they were measured
    pub fill: f64,
    /// whether it scores even when full, so that the other rates are not those of an oiled bushing
    pub scores_when_full: bool,
}

/// Oil in pores and film as a share of a full bushing's.
fn held(sim: &Simulation) -> f64 {
    sim.reading(Channel::OilFill) + sim.reading(Channel::Film) / sim.full_mass()
}

fn set(sim: &mut Simulation, fill: f64) -> Result<(), Failure> {
    sim.perform(&Segment::Service(Service::Found(fill)))
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

/// Oil that a full bushing holds once it is hot, as a share; and whether it scores even then.
fn held_hot(machine: &Machine, usage: &Usage) -> Result<(f64, bool), Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    usage.ride(&mut sim, WARM_UP)?;
    sim.going()?;
    Ok((held(&sim).clamp(LEAST_FILL, 1.0), sim.reading(Channel::Score) > 0.0))
}

/// Rates of a clutch. `place`, 0 to 1: the fill at which they are measured, from the lowest to the most that it holds when hot.
///
/// Wear is that of the warm clutch and counts from the first minute of a day: that errs high by some per cent. Loss of oil is that
/// of the first hour and a half from the cold, when warming has driven most oil into the clearance, from which it leaks: errs high
/// for long days. Both are the safe side.
pub fn probe(machine: &Machine, usage: &Usage, place: f64) -> Result<Probe, Failure> {
    let (most, scores_when_full) = held_hot(machine, usage)?;
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    set(&mut sim, (LEAST_FILL + place * (most - LEAST_FILL)).min(1.0))?;
    let cold = Read::of(&sim);
    usage.ride(&mut sim, WARM_UP)?;
    let before = Read::of(&sim);
    usage.ride(&mut sim, MEASURED)?;
    sim.going()?;
    let after = Read::of(&sim);
    let rate = |of: fn(&Read) -> f64| ((of(&after) - of(&before)) / (after.time - before.time)).max(NONE);
    let [leaks, evaporates] = [0, 1].map(|k| (after.lost[k] - cold.lost[k]) / (after.time - cold.time));
    let loss = (cold.held - after.held) / (after.time - cold.time);
    let bore = rate(|read| read.bore);
    // Without wear on the film, what is left of the bore's wear is that on the tips.
    let on_film = &settings::bushing::wear_film;
    sim.perform(&Segment::Service(Service::Adjust(on_film, on_film.least)))?;
    let on_tips = rate_over(&mut sim, usage, Channel::BushingWear)?.min(bore).max(NONE);
    let mut rates = [NONE; RATES.len()];
    let relaxes = per_decade(before.relaxation, after.relaxation, after.time - before.time);
    for (known, value) in [
        (Rate::Lining, rate(|read| read.lining)),
        (Rate::BoreOnFilm, (bore - on_tips).max(1e-3 * bore)),
        (Rate::BoreOnTips, on_tips),
        (Rate::Washer, rate(|read| read.washer)),
        (Rate::Leaks, leaks.max(NO_LOSS)),
        (Rate::Evaporates, evaporates.max(NO_LOSS)),
        (Rate::Thrown, (loss - leaks - evaporates).max(NO_LOSS)),
        (Rate::Oxidation, rate(|read| read.oxidation)),
        (Rate::Charring, rate(|read| read.charring)),
        (Rate::Ageing, rate(|read| read.age)),
        (Rate::Relaxation, relaxes.max(NONE)),
        (Rate::Driven, (1.0 - most).max(1e-4)),
    ] {
        rates[at(known)] = value;
    }
    let mut probe = Probe { rates, fill: 0.5 * (cold.held + after.held), scores_when_full };
    if !scores_when_full {
        sim.age_oil(AGED);
        let lacks = lacks(AGED, machine.bushing.score_from).max(1e-3);
        probe.rates[at(Rate::AgedScores)] = rate_over(&mut sim, usage, Channel::Score)?.max(1e-12) / (lacks * lacks);
        sim.age_oil(0.0);
        probe.rates[at(Rate::Scores)] = scores(&mut sim, usage)?;
    }
    Ok(probe)
}

/// What is read of a simulation.
struct Read {
    time: f64,
    lining: f64,
    bore: f64,
    washer: f64,
    held: f64,
    lost: [f64; 2],
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
            bore: sim.reading(Channel::BushingWear),
            washer: sim.reading(Channel::WasherWear),
            held: held(sim),
            lost: sim.leaked_and_evaporated().map(|mass| mass / sim.full_mass()),
            oxidation: sim.reading(Channel::Oxidation),
            charring: sim.reading(Channel::WasherDose),
            age: sim.slow()[AGE],
            relaxation: sim.reading(Channel::Relaxation),
        }
    }
}

/// Rate of a channel over a short ride, per second.
fn rate_over(sim: &mut Simulation, usage: &Usage, channel: Channel) -> Result<f64, Failure> {
    let (before, start) = (sim.reading(channel), sim.clock());
    usage.ride(sim, SHORT)?;
    Ok((sim.reading(channel) - before) / (sim.clock() - start).max(1.0))
}

/// Fill below which a clutch scores so that it squeals within an hour.
fn scores(sim: &mut Simulation, usage: &Usage) -> Result<f64, Failure> {
    let mut last = FILLS[0];
    for fill in FILLS {
        set(sim, fill)?;
        usage.ride(sim, SEARCHED[0])?;
        let (before, start) = (sim.reading(Channel::Score), sim.clock());
        usage.ride(sim, SEARCHED[1])?;
        let time = (sim.clock() - start).max(1.0);
        if (sim.reading(Channel::Score) - before) / time * HOUR > SQUEALS || sim.halted().is_some() {
            // Between this fill and the one before: the greater is the safe one.
            return Ok(last);
        }
        last = fill;
    }
    Ok(last)
}

/// Share of a dose that is kept: the oil held with and without it, after a rest and a minute's ride. Before opening the rest
/// lasts a quarter of an hour, after closing a night.
pub fn kept(machine: &Machine, usage: &Usage, fill: f64, drops: f64, before_opening: bool) -> Result<f64, Failure> {
    let after = |drops: f64| {
        let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
        set(&mut sim, fill)?;
        if !before_opening {
            usage.ride(&mut sim, WARM_UP)?;
        }
        if drops > 0.0 {
            sim.perform(&Segment::Service(Service::Oil { drops, oil: machine.oil.clone() }))?;
        }
        let rest = if before_opening { 0.25 * HOUR } else { 0.5 * DAY };
        sim.perform(&Segment::Ride(Task::Off, End::After(rest)))?;
        usage.ride(&mut sim, SEARCHED[0])?;
        Ok::<f64, Failure>(held(&sim))
    };
    let dose =
        drops * machine.drop_mass(&machine.oil) / Simulation::new(machine.clone(), Options::UNRECORDED)?.full_mass();
    Ok(((after(drops)? - after(0.0)?) / dose).clamp(0.0, 1.0))
}

/// A clutch simulated day by day from new: wear of lining, bore and washer, m, and the fill at the end. A day is its riding, its
/// temperature, and the drops put on before and after the ride.
pub fn directly(machine: &Machine, usage: &Usage, days: &[(f64, f64, [f64; 2])]) -> Result<[f64; 4], Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    let oil = |sim: &mut Simulation, drops: f64| {
        let service = Service::Oil { drops, oil: machine.oil.clone() };
        if drops > 0.0 { sim.perform(&Segment::Service(service)) } else { Ok(()) }
    };
    for (hours, temperature, [before, after]) in days {
        let start = sim.clock();
        sim.perform(&Segment::Service(Service::Adjust(&settings::surroundings::ambient, *temperature)))?;
        oil(&mut sim, *before)?;
        if *hours > 0.0 {
            usage.ride(&mut sim, *hours)?;
        }
        sim.going()?;
        oil(&mut sim, *after)?;
        let rest = (DAY - (sim.clock() - start)).max(0.0);
        sim.perform(&Segment::Ride(Task::Off, End::After(rest)))?;
    }
    let [lining, bore, washer] =
        [Channel::LiningWear, Channel::BushingWear, Channel::WasherWear].map(|channel| sim.reading(channel));
    Ok([lining, bore, washer, held(&sim)])
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
