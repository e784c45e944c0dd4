//! Lives by skipping: machines and what they repeat, from a hardly worn bushing to one that runs dry, with and without oil, in
//! blocks alone, in days of a season, and in hires inside the days.
#![allow(dead_code)]

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::parts::{Machine, settings};
use slipsoak_engine::record::{Horizon, Run};
use slipsoak_engine::simulate::{Options, Simulation, Skipping, Tolerance, Until};
use slipsoak_engine::units::{HOUR, KM_H, RPM};

/// A machine, what comes before, and the block that it repeats for some hours.
pub struct Life {
    pub name: &'static str,
    machine: Machine,
    before: Vec<Segment>,
    block: Vec<Segment>,
    pub hours: f64,
}

/// Idle, full throttle to a speed, km/h, hold and brake; times in s.
fn round(idle: f64, opening: f64, speed: f64, hold: f64) -> Vec<Segment> {
    vec![
        Segment::Ride(Task::Idle, End::After(idle)),
        Segment::Ride(Task::Throttle(opening), End::Reached { speed: speed * KM_H, within: 60.0 }),
        Segment::Ride(Task::Hold(speed * KM_H), End::After(hold)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
    ]
}

fn having(engagement: f64, change: impl FnOnce(&mut Machine)) -> Machine {
    let mut machine = Machine::default();
    machine.clutch.engagement = engagement * RPM;
    change(&mut machine);
    machine
}

fn rest(hours: f64) -> Vec<Segment> {
    vec![Segment::Ride(Task::Off, End::After(hours * HOUR))]
}

fn oil(drops: f64) -> Vec<Segment> {
    if drops > 0.0 { vec![Segment::Service(Service::Oil { drops, oil: Machine::default().oil })] } else { vec![] }
}

fn air(kelvin: f64) -> Vec<Segment> {
    vec![Segment::Service(Service::Adjust(&settings::surroundings::ambient, kelvin))]
}

/// Weekends of two outings of half an hour, and oil after the last of them.
fn weekends(count: usize) -> Vec<Segment> {
    let outing = || [round(60.0, 1.0, 20.0, 840.0), round(60.0, 1.0, 20.0, 840.0)].concat();
    let weekend = [rest(144.0), outing(), rest(23.0), outing()].concat();
    [vec![weekend; count].concat(), oil(3.0)].concat()
}

/// Weeks of some days of hires of two laps, under the temperatures of three months, oiled at the end of each week.
fn season(weeks: usize, days: usize, hires: usize, drops: f64) -> Vec<Segment> {
    let hire = [vec![round(20.0, 1.0, 22.0, 180.0); 2].concat(), rest(0.25)].concat();
    let day = [vec![hire; hires].concat(), rest(14.0)].concat();
    let week = |k: usize| {
        let air = air([283.15, 293.15, 301.15][k * 3 / weeks]);
        [air, vec![day.clone(); days].concat(), oil(drops), rest(60.0)].concat()
    };
    (0..weeks).flat_map(week).collect()
}

/// Days of hires, each as the last, with oil at their ends.
fn days(hires: usize, drops: f64) -> Vec<Segment> {
    let hire = [vec![round(30.0, 1.0, 20.0, 90.0); 2].concat(), rest(0.2)].concat();
    [vec![hire; hires].concat(), oil(drops), rest(14.0)].concat()
}

/// Two launches and ten minutes' rest.
fn launches_and_rests() -> Vec<Segment> {
    [vec![round(20.0, 1.0, 21.6, 40.0); 2].concat(), rest(1.0 / 6.0)].concat()
}

/// Lives of repeated blocks: one piece each, but for the weekends.
pub fn of_blocks() -> Vec<Life> {
    let life = |name, machine, block, hours| Life { name, machine, before: vec![], block, hours };
    let found = |fill| vec![Segment::Service(Service::Found(fill))];
    let rental = || round(30.0, 1.0, 25.0, 20.0);
    let standard = || having(2100.0, |_| ());
    vec![
        life("stop and go 40 h", having(1750.0, |_| ()), rental(), 40.0),
        life("moderate 40 h", Machine::default(), round(6.0, 1.0, 30.0, 43.0), 40.0),
        life("running dry 60 h", having(1900.0, |m| m.oiling.leak = 2.0 / HOUR), rental(), 60.0),
        Life {
            before: found(0.0),
            ..life("found dry 25 h", having(1750.0, |m| m.bushing.score_energy = 1e10), rental(), 25.0)
        },
        Life { before: found(0.15), ..life("found low 25 h", having(1750.0, |_| ()), rental(), 25.0) },
        life(
            "cold and heavy 40 h",
            having(2000.0, |m| (m.surroundings.ambient, m.vehicle.mass) = (268.15, 1.3 * m.vehicle.mass)),
            round(20.0, 1.0, 20.0, 30.0),
            40.0,
        ),
        life("uphill slowly 40 h", having(1800.0, |m| m.surroundings.grade = 0.02), round(20.0, 0.6, 12.0, 30.0), 40.0),
        life("governed 40 h", having(1900.0, |m| m.idle_kind = IdleKind::Governed), rental(), 40.0),
        life("launches and rests 43 h", Machine::default(), launches_and_rests(), 43.0),
        life("stop and go 1000 h", having(1750.0, |_| ()), rental(), 1000.0),
        life("default 1000 h", Machine::default(), rental(), 1000.0),
        life("moderate 1000 h", standard(), round(6.0, 1.0, 30.0, 43.0), 1000.0),
        life("light load 3000 h", having(2000.0, |m| m.vehicle.mass *= 0.6), round(20.0, 1.0, 20.0, 60.0), 3000.0),
        life("gentle 3000 h", having(1900.0, |_| ()), round(10.0, 0.5, 15.0, 120.0), 3000.0),
        life("oiled every 4th 3 a", Machine::default(), weekends(4), 26_280.0),
        life("three shoes 1000 h", having(1900.0, |m| m.clutch.shoes = 3.0), rental(), 1000.0),
    ]
}

/// Lives of pieces: days of a season, hires inside the days.
pub fn of_pieces() -> Vec<Life> {
    let life = |name, machine, block, hours| Life { name, machine, before: vec![], block, hours };
    let standard = || having(1900.0, |_| ());
    let worn = |m: &mut Machine| m.bushing.wear_film *= 300.0;
    let leaky = |m: &mut Machine| m.oiling.leak = 0.2 / HOUR;
    // Each season is one block, which is longer.
    let once = 1000.0;
    vec![
        life("season", standard(), season(18, 4, 2, 0.0), once),
        life("season oiled weekly", standard(), season(15, 4, 2, 3.0), once),
        life("season of hires", standard(), season(18, 4, 12, 0.0), once),
        life("hires oiled weekly", standard(), season(15, 4, 12, 3.0), once),
        life("season worn", having(1900.0, worn), season(18, 4, 2, 0.0), once),
        life("hires worn", having(1900.0, worn), season(18, 4, 12, 0.0), once),
        life("hires worn oiled weekly", having(1900.0, worn), season(15, 4, 12, 3.0), once),
        life("three seasons of hires", standard(), season(18, 4, 12, 0.0), 6500.0),
        life("leaky hires", having(1900.0, leaky), season(12, 4, 12, 0.0), once),
        life("leaky hires oiled weekly", having(1900.0, leaky), season(12, 4, 12, 2.0), once),
        life("long days of hires", Machine::default(), season(28, 5, 12, 0.0), once),
        life("long days oiled weekly", Machine::default(), season(28, 5, 12, 3.0), once),
        life("equal days", having(1750.0, |_| ()), days(16, 0.0), 2400.0),
        life("equal days, oiled", having(1750.0, |_| ()), days(16, 0.3), 2400.0),
        life("equal short days", having(1750.0, |_| ()), days(3, 0.0), 2400.0),
        life("heavy hires", having(2000.0, |m| m.vehicle.mass *= 1.3), season(12, 5, 9, 2.0), once),
        life("weekends oiled twice a year", standard(), weekends(26), 26_280.0),
        life("weekends never oiled", standard(), [weekends(1)[..18].to_vec(), rest(1.0)].concat(), 26_280.0),
    ]
}

impl Life {
    /// By skipping with this tolerance (0: in full) and these steps.
    pub fn live(&self, tolerance: f64, steps: Tolerance) -> (Run, Horizon) {
        let options = Options { windows: 0, tolerance: steps, ..Options::default() };
        let mut sim = Simulation::new(self.machine.clone(), options).expect("a machine");
        for segment in &self.before {
            sim.perform(segment).expect("it is done");
        }
        let until = Until { time: self.hours * HOUR, skipping: Skipping { tolerance } };
        sim.live(&self.block, until).expect("it lives");
        let run = sim.finish(self.name, "life").expect("the ledgers close");
        let horizon = run.horizon.clone().expect("a horizon");
        (run, horizon)
    }
}
