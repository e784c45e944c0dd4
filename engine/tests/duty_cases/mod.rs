//! Duties and machines on which the integrator's accuracy is judged: those on which its tolerances were chosen, and
//! others kept apart.
#![allow(dead_code)]

use super::bench_ride::{cycle, cycle_held, ride};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, Entry, Happening, IdleKind, LiningKind, Part};
use slipsoak_engine::parts::{Machine, Oil, parameter};
use slipsoak_engine::parts_file;
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Options, Simulation, Tolerance};
use slipsoak_engine::units::{KM_H, RPM};
use slipsoak_engine::usage::Usage;

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

fn having(change: impl FnOnce(&mut Machine)) -> Machine {
    let mut machine = Machine::default();
    change(&mut machine);
    machine
}

fn file(text: &str) -> Machine {
    parts_file::read("a shipped machine", text).expect("it is sound")
}

fn perform(sim: &mut Simulation, segments: &[Segment]) {
    for segment in segments {
        sim.perform(segment).expect("it rides");
    }
}

fn go(sim: &mut Simulation, task: Task, end: End) {
    perform(sim, &[ride(task, end)]);
}

fn adjust(sim: &mut Simulation, path: &'static str, value: f64) {
    perform(sim, &[Segment::Service(Service::Adjust(parameter(path).expect("a setting"), value))]);
}

fn launch(sim: &mut Simulation, opening: f64, km_h: f64) {
    go(sim, Task::Throttle(opening), End::Reached { speed: km_h * KM_H, within: 60.0 });
}

fn hold(sim: &mut Simulation, km_h: f64, time: f64) {
    go(sim, Task::Hold(km_h * KM_H), End::After(time));
}

fn brake(sim: &mut Simulation, slowing: f64) {
    go(sim, Task::Brake(slowing), End::Still { within: 60.0 });
}

/// Stop-and-go by the minute.
fn rental(sim: &mut Simulation) {
    for _ in 0..40 {
        cycle(sim, 30.0, 25.0, 60.0);
    }
}

fn moderate(sim: &mut Simulation) {
    for _ in 0..20 {
        cycle(sim, 6.0, 30.0, 60.0);
    }
}

/// Full throttle, braking and idling by 20 s, while the lining burns but before the bushing grabs.
fn abuse(sim: &mut Simulation) {
    for _ in 0..75 {
        cycle(sim, 6.0, 20.0, 20.0);
    }
}

fn hold_slipping(sim: &mut Simulation) {
    go(sim, Task::Hold(8.0 * KM_H), End::After(300.0));
    go(sim, Task::Idle, End::After(60.0));
}

fn rides_and_soaks(sim: &mut Simulation) {
    for _ in 0..3 {
        for _ in 0..10 {
            cycle(sim, 30.0, 25.0, 60.0);
        }
        go(sim, Task::Off, End::After(4.0 * 3600.0));
    }
}

fn cold_rides(sim: &mut Simulation) {
    for _ in 0..3 {
        go(sim, Task::FastIdle(2600.0 * RPM), End::After(60.0));
        for _ in 0..10 {
            cycle(sim, 6.0, 30.0, 40.0);
        }
        go(sim, Task::Off, End::After(3600.0));
    }
}

/// The duties and machines on which the tolerances were chosen.
pub fn chosen() -> Vec<Case> {
    let case = |name, machine, duty: fn(&mut Simulation)| Case { name, machine, duty };
    vec![
        case("bench", Machine::default(), rental),
        case("abuse", Machine::default(), abuse),
        case("held slipping", Machine::default(), hold_slipping),
        case("rides and soaks", Machine::default(), rides_and_soaks),
        case("mass x 1.3", having(|m| m.vehicle.mass *= 1.3), moderate),
        case("mass x 0.6", having(|m| m.vehicle.mass *= 0.6), moderate),
        case("hill 4 %", having(|m| m.surroundings.grade = 0.04), moderate),
        case("-10 °C", having(|m| m.surroundings.ambient = 263.15), cold_rides),
        case("abuse, 40 °C", having(|m| m.surroundings.ambient = 313.15), abuse),
        case("friction x 0.8", having(|m| m.lining.friction *= 0.8), moderate),
        case(
            "friction x 1.2, lag / 3",
            having(|m| {
                (m.lining.friction, m.motor.throttle_lag) = (m.lining.friction * 1.2, m.motor.throttle_lag / 3.0);
            }),
            moderate,
        ),
        case("motor inertia x 0.5", having(|m| m.motor.inertia *= 0.5), moderate),
        case("motor inertia x 2, abuse", having(|m| m.motor.inertia *= 2.0), abuse),
        case("washer preload x 2", having(|m| m.washer.preload *= 2.0), moderate),
        case("woven, hard", having(|m| m.line_with(LiningKind::Woven)), hard),
        case("a weak spring, hard", having(|m| m.springs.second = 0.6), hard),
        case("light cart, hard", light(), hard),
        case("heavy cart, hard", heavy(), hard),
    ]
}

fn trees(sim: &mut Simulation) {
    for _ in 0..20 {
        go(sim, Task::Idle, End::After(30.0));
        launch(sim, 1.0, 25.0);
        hold(sim, 25.0, 20.0);
        brake(sim, 1.5);
    }
}

fn hires(sim: &mut Simulation) {
    adjust(sim, "surroundings.ambient", 301.15);
    for _ in 0..2 {
        for _ in 0..6 {
            go(sim, Task::Idle, End::After(20.0));
            launch(sim, 0.6, 12.0);
            hold(sim, 22.0, 40.0);
            adjust(sim, "surroundings.grade", 0.04);
            hold(sim, 22.0, 60.0);
            adjust(sim, "surroundings.grade", 0.0);
            hold(sim, 24.0, 90.0);
            brake(sim, 1.2);
            go(sim, Task::Idle, End::After(70.0));
        }
        go(sim, Task::Off, End::After(900.0));
    }
    perform(sim, &[Segment::Service(Service::Oil { drops: 4.0, oil: Oil::named("SAE 30").expect("an oil") })]);
    go(sim, Task::Off, End::After(14.0 * 3600.0));
}

fn outings(sim: &mut Simulation) {
    perform(sim, &[Segment::Service(Service::Found(0.7))]);
    for _ in 0..2 {
        for _ in 0..8 {
            go(sim, Task::Idle, End::After(15.0));
            launch(sim, 1.0, 40.0);
            hold(sim, 40.0, 80.0);
            brake(sim, 2.0);
        }
        go(sim, Task::Off, End::After(300.0));
        perform(sim, &[Segment::Service(Service::Oil { drops: 3.0, oil: Oil::named("SAE 30").expect("an oil") })]);
        go(sim, Task::Off, End::After(7.0 * 86400.0));
    }
}

/// Starts and stops of the urban part of a published driving cycle (UN Regulation 83), in rough figures.
fn town(sim: &mut Simulation) {
    let points = [
        (0.0, 0.0),
        (11.0, 0.0),
        (15.0, 15.0),
        (23.0, 15.0),
        (28.0, 0.0),
        (49.0, 0.0),
        (61.0, 32.0),
        (85.0, 32.0),
        (96.0, 0.0),
        (117.0, 0.0),
        (143.0, 40.0),
        (155.0, 40.0),
        (163.0, 30.0),
        (176.0, 30.0),
        (188.0, 0.0),
        (195.0, 0.0),
    ];
    let points: Vec<(f64, f64)> = points.iter().map(|(t, v)| (*t, v * KM_H)).collect();
    for _ in 0..5 {
        let trace = slipsoak_engine::duty::Trace { points: points.clone() };
        go(sim, Task::Follow(trace.into()), End::After(195.0));
    }
}

fn dragging(sim: &mut Simulation) {
    go(sim, Task::Idle, End::After(400.0));
    go(sim, Task::Coast, End::After(60.0));
    brake(sim, 1.5);
}

fn hard(sim: &mut Simulation) {
    let usage = Usage::named("hard", sim.machine()).expect("a use");
    usage.ride(sim, 900.0).expect("it rides");
}

/// Up a hill, then down it on the overrun with the brake.
fn descents(sim: &mut Simulation) {
    for _ in 0..6 {
        adjust(sim, "surroundings.grade", 0.06);
        go(sim, Task::Idle, End::After(10.0));
        launch(sim, 1.0, 20.0);
        hold(sim, 20.0, 40.0);
        brake(sim, 1.5);
        adjust(sim, "surroundings.grade", -0.08);
        go(sim, Task::Coast, End::After(40.0));
        brake(sim, 1.0);
        adjust(sim, "surroundings.grade", 0.0);
    }
}

fn hot_weeks(sim: &mut Simulation) {
    for _ in 0..4 {
        for _ in 0..38 {
            cycle_held(sim, 6.0, 22.0, 24.0);
        }
        go(sim, Task::Off, End::After(1200.0));
    }
    go(sim, Task::Off, End::After(6.0 * 86400.0));
}

/// Until shortly before its bushing seizes, which ends a segment.
fn drying(sim: &mut Simulation) {
    perform(sim, &[Segment::Service(Service::Found(0.25))]);
    let usage = Usage::named("rental", sim.machine()).expect("a use");
    usage.ride(sim, 700.0).expect("it rides");
}

fn greased(sim: &mut Simulation) {
    perform(sim, &[Segment::Service(Service::New(Part::Washer)), Segment::Service(Service::Grease(1e-6))]);
    rental(sim);
}

fn glazing(sim: &mut Simulation) {
    for _ in 0..3 {
        hold(sim, 12.0, 200.0);
        go(sim, Task::Idle, End::After(20.0));
        launch(sim, 1.0, 30.0);
        brake(sim, 1.5);
    }
}

/// Warm from rest to rest for two days.
fn launches_and_rests(sim: &mut Simulation) {
    for _ in 0..200 {
        for _ in 0..2 {
            go(sim, Task::Idle, End::After(20.0));
            launch(sim, 1.0, 21.6);
            hold(sim, 21.6, 40.0);
            brake(sim, 2.0);
        }
        go(sim, Task::Off, End::After(600.0));
    }
}

fn half_throttle(sim: &mut Simulation) {
    for k in 0..20 {
        go(sim, Task::Idle, End::After(12.0));
        launch(sim, 0.35 + 0.03 * f64::from(k), 18.0);
        go(sim, Task::Coast, End::Slowed { speed: 8.0 * KM_H, within: 30.0 });
        launch(sim, 0.8, 28.0);
        brake(sim, 2.5);
    }
}

/// Other duties and machines.
pub fn kept_apart() -> Vec<Case> {
    let case = |name, machine, duty: fn(&mut Simulation)| Case { name, machine, duty };
    let orchard = file(include_str!("../../../scripts/parts/orchard-cart.json"));
    let trail = file(include_str!("../../../scripts/parts/trail-cart.json"));
    let weekend = file(include_str!("../../../scripts/parts/weekend-cart.json"));
    let engaging = |rpm: f64, kind: IdleKind| having(|m| (m.clutch.engagement, m.idle_kind) = (rpm * RPM, kind));
    vec![
        case("orchard", orchard.clone(), trees),
        case(
            "orchard, 1500 rpm",
            {
                let mut m = orchard.clone();
                m.clutch.engagement = 1500.0 * RPM;
                m
            },
            trees,
        ),
        case("campground", trail.clone(), hires),
        case("weekend", weekend.clone(), outings),
        case("town", trail.clone(), town),
        case("governed, dragging", engaging(1550.0, IdleKind::Governed), dragging),
        case("throttle stop, dragging", engaging(1550.0, IdleKind::ThrottleStop), dragging),
        case("governed", engaging(1900.0, IdleKind::Governed), rental),
        case("descents", Machine::default(), descents),
        case("hot weeks", having(|m| m.surroundings.ambient = 313.15), hot_weeks),
        case("drying", having(|m| (m.clutch.engagement, m.oiling.leak) = (1900.0 * RPM, 2.0 / 3600.0)), drying),
        case("greased", Machine::default(), greased),
        case("glazing", Machine::default(), glazing),
        case("half throttle", Machine::default(), half_throttle),
        case("launches and rests", Machine::default(), launches_and_rests),
        case("moulded, abuse", having(|m| m.line_with(LiningKind::Moulded)), abuse),
        case("sintered, hard", having(|m| m.line_with(LiningKind::Sintered)), hard),
        case("bare metal", having(|m| m.line_with(LiningKind::BareMetal)), moderate),
        case("orchard, hard", orchard, hard),
        case("trail cart, hard", trail, hard),
        case("weekend cart, hard", weekend, hard),
        case("broken spring", having(|m| m.springs.first = 0.0), moderate),
        case("scattered springs", having(|m| m.springs.scatter = 0.04), hard),
        case("thin oil", having(|m| m.oil = Oil::named("SAE 20").expect("an oil")), hard),
        case(
            "friction x 1.1, mass x 0.8",
            having(|m| (m.lining.friction, m.vehicle.mass) = (m.lining.friction * 1.1, m.vehicle.mass * 0.8)),
            hard,
        ),
        case(
            "3 % uphill, governed",
            having(|m| (m.surroundings.grade, m.idle_kind) = (0.03, IdleKind::Governed)),
            hard,
        ),
    ]
}

fn light() -> Machine {
    having(|m| {
        m.line_with(LiningKind::Moulded);
        m.motor.idle = 1750.0 * RPM;
        (m.vehicle.mass, m.vehicle.rolling, m.vehicle.ratio, m.vehicle.wheel_radius) = (150.0, 0.02, 4.0, 0.2);
        m.clutch.engagement = 1950.0 * RPM;
    })
}

fn heavy() -> Machine {
    having(|m| {
        m.motor.idle = 1700.0 * RPM;
        (m.vehicle.mass, m.vehicle.rolling, m.vehicle.ratio, m.vehicle.wheel_radius) = (280.0, 0.05, 7.5, 0.19);
        (m.clutch.engagement, m.clutch.shoe_mass, m.drum.wall) = (2100.0 * RPM, 0.125, 3.6e-3);
    })
}
