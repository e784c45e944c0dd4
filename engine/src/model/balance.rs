//! Conservation check of each term of the model, to find the cause if a ledger does not close.

use super::assembly::Assembly;
use super::bearing::bushing_of;
use super::grip::read;
use super::group::{BUSHING_RATE, Group};
use super::heat::{Band, Block, Chain, Film, Inner};
use super::mechanics::{Governors, Mechanics};
use super::names::{Ask, Contact, Motion, MotorState, counter, state};
use super::oil::Oil;
use crate::integrate::Step;
use crate::laws::vehicle;

const ALL: usize = state::COUNT + counter::COUNT;
/// Imbalance relative to all that a term moves, above which it is not rounding: sums of about thirty products round to
/// 1e-14.
const ROUNDING: f64 = 1e-10;

/// A ledger of rates.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Book {
    Mechanics,
    Chain,
    Heat,
    Oil,
}

/// A moment of the run, with the modes at that time.
#[derive(Clone, Debug)]
pub(crate) struct Moment {
    pub contact: Contact,
    pub motion: Motion,
    pub motor: MotorState,
    pub braking: Option<f64>,
    pub ask: Ask,
    pub time: f64,
    pub y: Vec<f64>,
    pub slow: Vec<f64>,
}

/// Contribution of one term to every row of the rates.
#[derive(Clone, Debug)]
pub(crate) struct Term {
    pub name: &'static str,
    pub flows: [f64; ALL],
}

/// A term that does not balance.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Miss {
    pub term: &'static str,
    /// imbalance, W or kg/s
    pub missing: f64,
    /// imbalance relative to all that the term moves
    pub share: f64,
}

impl Assembly {
    /// The present moment and modes.
    pub(crate) fn moment(&self, time: f64, y: &[f64], slow: &[f64]) -> Moment {
        let &Self { contact, motion, motor, braking, ask, .. } = self;
        Moment { contact, motion, motor, braking, ask, time, y: y[..state::COUNT].to_vec(), slow: slow.to_vec() }
    }

    /// Restores the modes of a moment.
    pub(crate) fn revisit(&mut self, at: &Moment) {
        (self.contact, self.motion, self.motor) = (at.contact, at.motion, at.motor);
        (self.braking, self.ask) = (at.braking, at.ask);
    }

    /// Stores the middle of a step as the latest moment of its kind.
    pub(super) fn remember(&mut self, step: &Step<'_>) {
        // A step to a standstill may end a little beyond it, where friction has the sign of the way there.
        if matches!(self.motion, Motion::Moving(direction) if direction * step.middle[state::DRUM] < 0.0) {
            return;
        }
        let time = step.start + 0.5 * step.length;
        let same = |m: &&mut Moment| {
            m.contact == self.contact
                && m.motion == self.motion
                && m.motor == self.motor
                && m.braking.is_some() == self.braking.is_some()
        };
        if let Some(m) = self.moments.iter_mut().find(same) {
            (m.time, m.braking, m.ask) = (time, self.braking, self.ask);
            m.y.copy_from_slice(&step.middle[..state::COUNT]);
            m.slow.copy_from_slice(step.slow);
        } else {
            self.moments.push(self.moment(time, step.middle, step.slow));
        }
    }

    /// Every term of the rates separately.
    pub(crate) fn terms(&self, t: f64, y: &[f64], slow: &[f64]) -> Vec<Term> {
        let mut conduction = [0.0; ALL];
        self.add_conduction(y, &mut conduction);
        let mut rates = [0.0; ALL];
        self.bushing_rates(y, slow, &mut rates);
        let warming = rates[state::BUSHING];
        vec![
            Term { name: "conduction", flows: conduction },
            term(&Mechanics { assembly: self, slow }, y, warming),
            term(&Governors { assembly: self, time: t }, y, warming),
            term(&Film(self), y, warming),
            term(&Band(self), y, warming),
            term(&self.web(), y, warming),
            term(&self.sprocket(), y, warming),
            term(&Chain(self), y, warming),
            term(&Inner(self), y, warming),
            term(&Block(self), y, warming),
            term(&Oil(self), y, warming),
        ]
    }

    /// The terms of a book that do not balance.
    pub(crate) fn misses(&self, book: Book, y: &[f64], slow: &[f64], terms: &[Term]) -> Vec<Miss> {
        terms
            .iter()
            .flat_map(|t| match book {
                Book::Heat if t.name == Mechanics::NAME => self.rubbing_entries(&t.flows),
                Book::Heat => vec![(t.name, self.heat_entries(&t.flows))],
                Book::Oil if t.name == Mechanics::NAME => {
                    vec![("oil burnt and wiped off the lining", oil_entries(&t.flows))]
                }
                Book::Oil => vec![(t.name, oil_entries(&t.flows))],
                Book::Mechanics if t.name == Mechanics::NAME => self.mechanics_entries(y, slow, &t.flows),
                Book::Mechanics => vec![(t.name, self.work_entries(y, &t.flows))],
                Book::Chain if t.name == Mechanics::NAME => self.road_entries(y, &t.flows),
                Book::Chain => vec![(t.name, self.chain_entries(y, &t.flows))],
            })
            .filter_map(|(term, entries)| {
                let missing: f64 = entries.iter().sum();
                let moved: f64 = entries.iter().map(|e| e.abs()).sum();
                (missing.abs() > ROUNDING * moved).then(|| Miss { term, missing, share: missing.abs() / moved })
            })
            .collect()
    }

    fn heat_entries(&self, f: &[f64]) -> Vec<f64> {
        let stored = (state::LINING..state::HEAD).map(|k| -self.capacity[k] * f[k]);
        stored.chain([f[counter::SLIP], f[counter::BEARING], f[counter::MOTOR_HEAT], -f[counter::LOST]]).collect()
    }

    /// The heat of friction and of the motor, each with the parts that it heats.
    fn rubbing_entries(&self, f: &[f64]) -> Vec<(&'static str, Vec<f64>)> {
        use state::{BLOCK, BUSHING, CARRIER, HEAD, LINING, SHAFT, WALL, WASHER};
        let into = |nodes: &[usize]| nodes.iter().map(|&k| -self.capacity[k] * f[k]).collect::<Vec<_>>();
        let (slip, bearing, motor) = ([LINING, WALL], [BUSHING, SHAFT, WASHER, CARRIER], [BLOCK]);
        let warmed = [&slip[..], &bearing, &motor].concat();
        let others: Vec<usize> = (LINING..HEAD).filter(|k| !warmed.contains(k)).collect();
        vec![
            ("slip heat", [into(&slip), vec![f[counter::SLIP]]].concat()),
            ("bearing heat", [into(&bearing), vec![f[counter::BEARING]]].concat()),
            ("motor heat", [into(&motor), vec![f[counter::MOTOR_HEAT]]].concat()),
            (Mechanics::NAME, [into(&others), vec![-f[counter::LOST]]].concat()),
        ]
    }

    fn work_entries(&self, y: &[f64], f: &[f64]) -> Vec<f64> {
        let m = &self.machine;
        let turning = -m.motor.inertia * y[state::MOTOR] * f[state::MOTOR];
        let drum = -m.drum.inertia * y[state::DRUM] * f[state::DRUM];
        vec![f[counter::MOTOR_WORK], turning, drum, -f[counter::CHAIN_WORK], -f[counter::SLIP], -f[counter::BEARING]]
    }

    fn chain_entries(&self, y: &[f64], f: &[f64]) -> Vec<f64> {
        use counter::{AIR, BRAKE, CHAIN_LOSS, CHAIN_WORK, GRADE, ROLLING};
        let moving = -self.reduced_mass * y[state::DRUM] * f[state::DRUM];
        let out = [ROLLING, AIR, GRADE, BRAKE, CHAIN_LOSS].map(|k| -f[k]);
        [f[CHAIN_WORK], moving].into_iter().chain(out).collect()
    }

    /// Power at the motor, at the rubbing faces and at the drum, each with the torque transmitted to the next.
    fn mechanics_entries(&self, y: &[f64], slow: &[f64], f: &[f64]) -> Vec<(&'static str, Vec<f64>)> {
        let x = read(y);
        let grip = self.gripping(x, slow);
        let bearing = self.bearing(bushing_of(y), slow, &grip);
        let passed = if self.contact == Contact::Locked { self.locked_torque(y) } else { self.on_drum(y, slow) };
        let (motor, drum, m) = (y[state::MOTOR], y[state::DRUM], &self.machine);
        let torque: f64 = self.motor_torque(motor, y[state::THROTTLE]);
        let (turning, turned) = (m.motor.inertia * motor * f[state::MOTOR], m.drum.inertia * drum * f[state::DRUM]);
        vec![
            ("motor work", vec![f[counter::MOTOR_WORK], -torque * motor]),
            ("turning motor", vec![torque * motor, -passed * motor, -turning]),
            ("slip heat", vec![grip.clutch * (motor - drum), -f[counter::SLIP]]),
            ("bearing heat", vec![(bearing.bushing + bearing.washer) * (motor - drum), -f[counter::BEARING]]),
            ("drum and chain work", vec![passed * drum, -turned, -f[counter::CHAIN_WORK]]),
        ]
    }

    /// Each resistance against its own formula, and the vehicle against all of them.
    fn road_entries(&self, y: &[f64], f: &[f64]) -> Vec<(&'static str, Vec<f64>)> {
        let (m, s) = (&self.machine.vehicle, &self.machine.surroundings);
        let v = y[state::DRUM] * m.wheel_radius / m.ratio;
        let slope = s.grade.atan();
        let rolling = vehicle::rolling(m.mass, m.rolling, slope) * v.abs();
        let climbing = vehicle::grade(m.mass, slope) * v;
        let pushing = vehicle::air(self.air_density, m.drag_area, v) * v;
        let power = f[counter::CHAIN_WORK];
        let quickening = self.reduced_mass * y[state::DRUM] * f[state::DRUM];
        let eta = m.chain_efficiency;
        let rubbing = power * if power >= 0.0 { 1.0 - eta } else { 1.0 - 1.0 / eta };
        vec![
            ("rolling", vec![rolling, -f[counter::ROLLING]]),
            ("air", vec![pushing, -f[counter::AIR]]),
            ("grade", vec![climbing, -f[counter::GRADE]]),
            ("chain loss", vec![rubbing, -f[counter::CHAIN_LOSS]]),
            (
                "moving vehicle and brake",
                vec![power, -quickening, -rolling, -pushing, -climbing, -rubbing, -f[counter::BRAKE]],
            ),
        ]
    }
}

fn term<const K: usize, G: Group<K>>(group: &G, y: &[f64], warming: f64) -> Term {
    let mut flows = [0.0; ALL];
    let reads_warming = G::VARIABLES.contains(&BUSHING_RATE);
    if reads_warming {
        flows[state::BUSHING] = warming;
    }
    group.add_rates(y, &mut flows);
    if reads_warming {
        flows[state::BUSHING] -= warming;
    }
    Term { name: G::NAME, flows }
}

fn oil_entries(f: &[f64]) -> Vec<f64> {
    let out = [counter::FLUNG, counter::EVAPORATED, counter::RUN_OFF, counter::LEAKED];
    (state::PORES..=state::SOAKED).chain(out).map(|k| -f[k]).collect()
}
