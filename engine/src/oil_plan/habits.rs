//! Fate of a dose, by its time, its size, and the kind of oil.

use super::wish::Wish;
use crate::document::oil_plan::{Dose, Grip, Habit};
use crate::duty::{End, Segment, Service, Task};
use crate::names::Channel;
use crate::parts::Oil;
use crate::simulate::{Failure, Options, Simulation};
use crate::usage::governed_speed;

/// Waiting times before the next spin, s.
pub(super) const WAITS: [f64; 7] = [30.0, 120.0, 300.0, 600.0, 1800.0, 7200.0, 43200.0];
/// Riding time that warms a bushing, and standing time before it is oiled, s.
const WARM_UP: f64 = 1200.0;
const STANDS: f64 = 60.0;
/// Spin that throws off oil outside the pores: a held speed, as a share of the governed speed, and its duration, s.
const SPIN: (f64, f64) = (0.75, 60.0);
/// Sizes of doses, drops.
pub(super) const DROPS: [f64; 6] = [1.0, 2.0, 4.0, 8.0, 12.0, 20.0];
/// Oils besides the machine's own.
pub(super) const ADDITIVES: [&str; 3] = ["with PTFE", "with silicone", "with friction modifier"];
/// Duration of the ride after too large a dose or the wrong oil, s.
const RIDE: f64 = 1200.0;

fn off(time: f64) -> Segment {
    Segment::Ride(Task::Off, End::After(time))
}

fn spin(wish: &Wish) -> Segment {
    Segment::Ride(Task::Hold(SPIN.0 * governed_speed(&wish.machine)), End::After(SPIN.1))
}

fn oil(drops: f64, oil: &Oil) -> Segment {
    Segment::Service(Service::Oil { drops, oil: oil.clone() })
}

/// A simulation with the bushing at the fill of the question.
fn found(wish: &Wish, oil: &Oil) -> Result<Simulation, Failure> {
    let mut machine = wish.machine.clone();
    machine.oil = oil.clone();
    let mut sim = Simulation::new(machine, Options::UNRECORDED)?;
    sim.perform(&Segment::Service(Service::Found(wish.found)))?;
    Ok(sim)
}

/// Oil in pores and film, kg.
fn held(sim: &Simulation) -> f64 {
    sim.reading(Channel::OilFill) * sim.full_mass() + sim.reading(Channel::Film)
}

/// Mass of a dose, kg.
fn mass(wish: &Wish, drops: f64) -> f64 {
    drops * wish.machine.drop_mass(&wish.machine.oil)
}

/// A simulation just before oiling: cold at that fill, or warm from a ride.
fn before(wish: &Wish, warm: bool) -> Result<Simulation, Failure> {
    let mut sim = found(wish, &wish.machine.oil)?;
    if warm {
        wish.usage.ride(&mut sim, WARM_UP)?;
        sim.perform(&off(STANDS))?;
    }
    Ok(sim)
}

/// Room in the pores for oil while the bushing is warm from a ride, kg.
pub(super) fn warm_room(wish: &Wish) -> Result<f64, Failure> {
    Ok(before(wish, true)?.room())
}

fn after(wish: &Wish, warm: bool, drops: f64, wait: f64) -> Result<f64, Failure> {
    let mut sim = before(wish, warm)?;
    if drops > 0.0 {
        sim.perform(&oil(drops, &wish.machine.oil))?;
    }
    sim.perform(&off(wait))?;
    sim.perform(&spin(wish))?;
    Ok(held(&sim))
}

/// Share of a dose kept after a wait and a minute's spin: difference of the oil held with and without the dose.
pub(super) fn kept(wish: &Wish, warm: bool, drops: f64, wait: f64) -> Result<f64, Failure> {
    Ok((after(wish, warm, drops, wait)? - after(wish, warm, 0.0, wait)?) / mass(wish, drops))
}

/// One habit for all waiting times.
pub(super) fn habit(wish: &Wish, warm: bool, done: &dyn Fn()) -> Result<Habit, Failure> {
    let one = |wait: &f64| Ok((*wait, kept(wish, warm, wish.drops, *wait).inspect(|_| done())?));
    Ok(Habit { warm, kept: WAITS.iter().map(one).collect::<Result<_, Failure>>()? })
}

/// Smallest friction and largest oil mass on the lining over a ride at once, and friction at its end.
fn ridden(wish: &Wish, drops: f64, kind: &Oil) -> Result<(f64, f64, f64), Failure> {
    let mut sim = found(wish, kind)?;
    sim.perform(&oil(drops, kind))?;
    sim.perform(&off(WAITS[0]))?;
    let (mut least, mut most) = (1.0_f64, 0.0_f64);
    let start = sim.clock();
    while sim.clock() - start < RIDE {
        for segment in &wish.usage.block {
            sim.perform(segment)?;
            least = least.min(sim.grip());
            most = most.max(sim.reading(Channel::OilOnLining));
        }
        sim.going()?;
    }
    Ok((least, most, sim.grip()))
}

/// Doses of different sizes, ridden at once.
pub(super) fn doses(wish: &Wish, done: &dyn Fn()) -> Result<Vec<Dose>, Failure> {
    let one = |drops: &f64| {
        let (grip, on_lining, _) = ridden(wish, *drops, &wish.machine.oil)?;
        let kept = kept(wish, false, *drops, WAITS[0])?;
        done();
        Ok(Dose { drops: *drops, kept, on_lining, grip })
    };
    DROPS.iter().map(one).collect()
}

/// Oils of different kinds, ridden at once.
pub(super) fn oils(wish: &Wish, done: &dyn Fn()) -> Result<Vec<Grip>, Failure> {
    let additives = ADDITIVES.iter().filter_map(|name| Oil::named(name));
    let one = |kind: Oil| {
        let (least, _, after) = ridden(wish, wish.drops, &kind)?;
        done();
        Ok(Grip { oil: kind.name, least, after })
    };
    std::iter::once(wish.machine.oil.clone()).chain(additives).map(one).collect()
}
