//! Lives with skipping, case by case: blocks and steps that they take, and their errors against lives with close steps, in full where
//! they are short, else with a tenth of the allowed error of skipping.
//!
//! `cargo run -p slipsoak-engine --example lives -- WORD` takes the cases whose names contain the word; without one, all of them.
#![allow(clippy::print_stdout)]

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::{Horizon, Run};
use slipsoak_engine::simulate::{Options, Simulation, Skipping, Tolerance, Until};
use slipsoak_engine::units::{HOUR, KM_H, RPM};
use std::time::Instant;

/// A machine, what comes before, and the block that it repeats for some hours.
struct Life {
    name: &'static str,
    machine: Machine,
    before: Vec<Segment>,
    block: Vec<Segment>,
    hours: f64,
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

/// Weekends of two outings of half an hour, and oil after the last of them.
fn weekends(count: usize) -> Vec<Segment> {
    let rest = |hours: f64| vec![Segment::Ride(Task::Off, End::After(hours * HOUR))];
    let outing = || [round(60.0, 1.0, 20.0, 840.0), round(60.0, 1.0, 20.0, 840.0)].concat();
    let weekend = [rest(144.0), outing(), rest(23.0), outing()].concat();
    let oil = Segment::Service(Service::Oil { drops: 3.0, oil: Machine::default().oil });
    [vec![weekend; count].concat(), vec![oil]].concat()
}

/// Shortest life that is not compared with a full run, hours.
const LONG: f64 = 100.0;

fn lives() -> Vec<Life> {
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
        life("stop and go 1000 h", having(1750.0, |_| ()), rental(), 1000.0),
        life("default 1000 h", Machine::default(), rental(), 1000.0),
        life("moderate 1000 h", standard(), round(6.0, 1.0, 30.0, 43.0), 1000.0),
        life("light load 3000 h", having(2000.0, |m| m.vehicle.mass *= 0.6), round(20.0, 1.0, 20.0, 60.0), 3000.0),
        life("gentle 3000 h", having(1900.0, |_| ()), round(10.0, 0.5, 15.0, 120.0), 3000.0),
        life("oiled every 4th 3 a", Machine::default(), weekends(4), 26_280.0),
        life("three shoes 1000 h", having(1900.0, |m| m.clutch.shoes = 3.0), rental(), 1000.0),
    ]
}

impl Life {
    fn live(&self, tolerance: f64, steps: Tolerance) -> (Run, Horizon, f64) {
        let options = Options { windows: 0, tolerance: steps, ..Options::default() };
        let start = Instant::now();
        let mut sim = Simulation::new(self.machine.clone(), options).expect("a machine");
        for segment in &self.before {
            sim.perform(segment).expect("it is done");
        }
        let until = Until { time: self.hours * HOUR, skipping: Skipping { tolerance } };
        sim.live(&self.block, until).expect("it lives");
        let run = sim.finish(self.name, "life").expect("the ledgers close");
        let spent = start.elapsed().as_secs_f64();
        let horizon = run.horizon.clone().expect("a horizon");
        (run, horizon, spent)
    }
}

fn main() {
    let word = std::env::args().nth(1).unwrap_or_default();
    println!(
        "{:<20} {:>6} {:>6} {:>5} {:>5} {:>7} {:>8} {:>9}  errors, and the estimated ones",
        "", "h", "blocks", "back", "close", "steps", "ms", "h a s"
    );
    for life in lives().iter().filter(|life| life.name.contains(&word)) {
        let tolerance = Skipping::default().tolerance;
        let (exact, reference) = if std::env::var_os("NO_REFERENCE").is_some() {
            (None, 0)
        } else {
            let close = life.live(if life.hours < LONG { 0.0 } else { 0.1 * tolerance }, Tolerance::CLOSE);
            (Some(close.1), life.live(tolerance, Tolerance::CLOSE).1.blocks_run)
        };
        let (run, horizon, spent) = life.live(tolerance, Tolerance::LIVES);
        let hours = run.duration / HOUR;
        print!(
            "{:<20} {hours:>6.0} {:>6} {:>5} {:>5} {:>7} {:>8.1} {:>9.0} ",
            life.name,
            horizon.blocks_run,
            horizon.jumps_taken_back,
            reference,
            run.work.steps,
            1e3 * spent,
            hours / spent
        );
        let Some(exact) = exact else {
            println!();
            continue;
        };
        // Lives that end with a worn part differ in their ends; their wear does not.
        let worn = horizon.ended_by.is_some();
        for (exact, found) in exact.errors.iter().zip(&horizon.errors) {
            if worn || exact.value == 0.0 {
                continue;
            }
            print!(
                " {} {:.1e} ({:.1e})",
                exact.quantity,
                (found.value / exact.value - 1.0).abs(),
                found.error / exact.value
            );
        }
        for (exact, found) in exact.ends.iter().zip(&horizon.ends) {
            if let (Some(exact), Some(found)) = (exact, found) {
                print!(" end {:.1e}", (found / exact - 1.0).abs());
            }
        }
        println!();
    }
}
