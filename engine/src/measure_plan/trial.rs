//! One machine put through the use: what can be read of it on the way, and what the decision depends on.

use super::wish::Wish;
use crate::calibrate::{Condition, Under, Worn};
use crate::curve::along;
use crate::duty::{End, Segment, Service, Task};
use crate::laws::margin::SEASON;
use crate::life::Pair;
use crate::names::{Channel, Decision, Quantity};
use crate::parts::Machine;
use crate::simulate::{Failure, Options, Simulation, settled};
use crate::spread::machine_at;
use crate::spring_choice::Spring;
use crate::units::{HOUR, RPM, ZERO_C};

/// Torque that drags the idling motor for its drop, N·m.
pub const DRAG: f64 = 0.5;
/// Speed from which the drum comes to rest, rad/s, and temperature of its bushing, K.
pub const SPIN: (f64, f64) = (500.0 * RPM, 20.0 + ZERO_C);
/// Nodes that a log follows.
pub(super) const LOGGED: [Channel; 4] = [Channel::Band, Channel::Shoes, Channel::Bushing, Channel::Sprocket];
/// Riding between two readings, s.
pub(super) const WAITS: [f64; 7] =
    [1.0 * HOUR, 2.0 * HOUR, 5.0 * HOUR, 10.0 * HOUR, 20.0 * HOUR, 40.0 * HOUR, 80.0 * HOUR];
/// Least and greatest running time that count, s: a life of nothing has no logarithm.
const LEAST: f64 = 60.0;
const LONGEST: f64 = 5000.0 * HOUR;
/// Steps in which the oil fill falls, and the slowest fall that counts, 1/s.
const STEP: f64 = 0.01;
const SLOWEST: f64 = 0.01 / LONGEST;

/// Readings by quantity, SI.
pub(super) type Shown = [f64; Quantity::COUNT];

/// A machine in the use.
pub(super) struct Trial {
    /// readings when new
    pub new: Shown,
    /// readings after each of [`WAITS`]
    pub after: Vec<Shown>,
    /// idle, rad/s
    pub idle: f64,
    /// temperatures of [`LOGGED`] at the end of an outing, K
    pub hot: [f64; LOGGED.len()],
    /// temperature of the air, K
    pub air: f64,
    /// the running time that the decision depends on, s
    pub time: f64,
    /// parts that the carts of a shop wear out in a season
    pub parts: f64,
    /// whether it lies beyond what was simulated
    pub beyond: bool,
    /// running times of the springs to choose from, s; 0 for one that drags at idle
    pub lives: Vec<f64>,
}

/// What an outing does to a machine, once it has settled, per running time.
struct Rates {
    /// change per running time, 1/s
    change: Worn,
    /// oil fill after the first outing
    settled: f64,
    /// temperatures of [`LOGGED`] at the end of the first ride, K
    hot: [f64; LOGGED.len()],
}

/// One outing: the use for the riding, then rest.
fn outing(wish: &Wish, sim: &mut Simulation) -> Result<[f64; LOGGED.len()], Failure> {
    wish.usage.ride(sim, wish.riding)?;
    let hot = LOGGED.map(|channel| sim.reading(channel));
    sim.perform(&Segment::Ride(Task::Off, End::After(wish.rest)))?;
    Ok(hot)
}

/// Two outings from an oil fill: the second, to which the film has settled, gives the rates.
fn rates(wish: &Wish, machine: &Machine, fill: f64) -> Result<Rates, Failure> {
    let mut sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
    sim.perform(&Segment::Service(Service::Found(fill)))?;
    let hot = outing(wish, &mut sim)?;
    let (before, settled) = (sim.standing(), sim.reading(Channel::OilFill));
    outing(wish, &mut sim)?;
    let after = sim.standing();
    let ran = (after.running - before.running).max(1.0);
    let per = |of: fn(&Worn) -> f64| (of(&after.worn) - of(&before.worn)) / ran;
    let change = Worn {
        depth: std::array::from_fn(|k| (after.worn.depth[k] - before.worn.depth[k]) / ran),
        pores: per(|worn| worn.pores + worn.film),
        dose: per(|worn| worn.dose),
        ..Worn::default()
    };
    Ok(Rates { change, settled, hot })
}

/// Oil fill over the running time from full, s: after the first outing it falls at rates interpolated between those at some fills.
fn draining(wish: &Wish, rates: &[(f64, Rates)], full: f64) -> Vec<(f64, f64)> {
    let mut loss: Vec<(f64, f64)> = rates.iter().map(|(fill, r)| (*fill, (-r.change.pores / full).max(0.0))).collect();
    loss.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut curve = vec![(0.0, 1.0), (wish.riding, rates[0].1.settled.clamp(0.0, 1.0))];
    while let Some(&(time, fill)) = curve.last().filter(|(_, fill)| *fill > STEP) {
        // Half a step below, so that the rate is that of the middle.
        let rate = along(&loss, fill - 0.5 * STEP).max(SLOWEST);
        curve.push((time + STEP / rate, fill - STEP));
    }
    curve
}

fn shown(machine: &Machine, worn: &Worn) -> Shown {
    let under = Under::default().with(Condition::Drag, DRAG);
    let under = under.with(Condition::Spun, SPIN.0).with(Condition::Warm, SPIN.1);
    Quantity::ALL.map(|quantity| (quantity.row().reads)(machine, worn, &under))
}

impl Trial {
    /// The machine of the wish with its uncertain settings at these deviates, put through the use.
    pub fn of(wish: &Wish, deviate: &dyn Fn(&str) -> Option<f64>) -> Result<Self, Failure> {
        let machine = machine_at(&wish.machine, &wish.uncertain, deviate);
        let sim = Simulation::new(machine.clone(), Options::UNRECORDED)?;
        let (new, full, air) = (sim.standing().worn, sim.full_mass(), sim.reading(Channel::Band));
        let fills = [1.0, 0.5 * (1.0 + machine.limits.oil_service), machine.limits.oil_service];
        // Where wear is of interest the bushing is kept oiled.
        let fills = if wish.decision == Decision::Oiling { &fills[..] } else { &fills[..1] };
        let at = |fill: &f64| Ok((*fill, rates(wish, &machine, *fill)?));
        let rates = fills.iter().map(at).collect::<Result<Vec<_>, Failure>>()?;
        let oil = draining(wish, &rates, full);
        let oiled = &rates[0].1;
        let time = match wish.decision {
            Decision::Oiling => {
                let below = oil.windows(2).find(|w| w[1].1 <= machine.limits.oil_service);
                below.map_or(LONGEST, |w| along(&[(-w[0].1, w[0].0), (-w[1].1, w[1].0)], -machine.limits.oil_service))
            }
            Decision::Life | Decision::Spring | Decision::Season => life(&machine, &oiled.change),
        };
        let fitted = |spring: &Spring| {
            let machine = machine_at(&with_spring(&wish.machine, spring), &wish.uncertain, deviate);
            alive(wish, &machine)
        };
        let lives = match wish.decision {
            Decision::Spring => wish.springs.iter().map(fitted).collect::<Result<_, _>>()?,
            Decision::Oiling | Decision::Life | Decision::Season => vec![],
        };
        let after = |wait: &f64| {
            let mut worn = new;
            for (depth, rate) in worn.depth.iter_mut().zip(&oiled.change.depth) {
                *depth += rate * wait;
            }
            worn.pores = full * along(&oil, *wait);
            shown(&machine, &worn)
        };
        Ok(Self {
            new: shown(&machine, &new),
            after: WAITS.iter().map(after).collect(),
            idle: machine.motor.idle,
            hot: oiled.hot,
            air,
            time: time.clamp(LEAST, LONGEST),
            parts: wish.carts * worn_out(&machine, &oiled.change, wish.season),
            beyond: time >= LONGEST,
            lives,
        })
    }
}

/// Running time until the first of lining, washer, bushing and the washer's heat life is at its limit, s, at constant rates.
fn life(machine: &Machine, change: &Worn) -> f64 {
    let worn =
        Pair::ALL.into_iter().filter_map(|pair| Some(pair.room(machine)? / change.of(pair).max(f64::MIN_POSITIVE)));
    worn.chain([1.0 / change.dose.max(f64::MIN_POSITIVE)]).fold(LONGEST, f64::min)
}

/// Linings, bushings and washers that one machine wears out in so much running, s, at constant rates; a charred washer is one too.
/// Lives begun and not ended count in part: over many carts that is the mean.
fn worn_out(machine: &Machine, change: &Worn, running: f64) -> f64 {
    let used = |pair: Pair| Some(change.of(pair).max(0.0) / pair.room(machine).filter(|room| *room > 0.0)?);
    let washer = used(Pair::Washer).unwrap_or(0.0).max(change.dose);
    let others = [Pair::Lining, Pair::Bore].into_iter().filter_map(used).sum::<f64>();
    (others + washer) * running
}

/// The machine with a set of these springs.
fn with_spring(machine: &Machine, spring: &Spring) -> Machine {
    let mut machine = machine.clone();
    machine.fit_set();
    machine.clutch.engagement = spring.engagement;
    machine.clutch.spring_rate = spring.rate.unwrap_or(machine.clutch.spring_rate);
    machine
}

/// Running time until the first part is worn out with the springs of a machine, s; 0 if they drag at its idle, new or relaxed.
fn alive(wish: &Wish, machine: &Machine) -> Result<f64, Failure> {
    if machine.first_touch() <= machine.motor.idle || machine.check().is_err() {
        return Ok(0.0);
    }
    let found = rates(wish, machine, 1.0)?;
    let shoes = LOGGED.iter().position(|channel| *channel == Channel::Shoes).map_or(0.0, |k| found.hot[k]);
    let drags = settled(machine, shoes, SEASON) <= machine.motor.idle;
    Ok(if drags { 0.0 } else { life(machine, &found.change) })
}
