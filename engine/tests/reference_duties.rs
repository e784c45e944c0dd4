//! The three reference duties, end to end.

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Options, Simulation, channels};

const KM_H: f64 = 1.0 / 3.6;
const RPM: f64 = std::f64::consts::PI / 30.0;

fn cycle(idle: f64, speed: f64, period: f64, start: f64, sim: &mut Simulation) {
    let ride = |t, e| Segment::Ride(t, e);
    sim.perform(&ride(Task::Idle, End::After(idle))).unwrap();
    sim.perform(&ride(Task::Throttle(1.0), End::Reached { speed, within: 60.0 })).unwrap();
    let stopping = speed / 1.5;
    let hold = (start + period - sim.clock() - stopping).max(0.0);
    if period > 25.0 {
        sim.perform(&ride(Task::Hold(speed), End::After(hold))).unwrap();
    }
    sim.perform(&ride(Task::Brake(1.5), End::Still { within: 60.0 })).unwrap();
    let rest = start + period - sim.clock();
    if rest > 0.0 {
        sim.perform(&ride(Task::Idle, End::After(rest))).unwrap();
    }
}

fn run(machine: Machine, idle: f64, speed: f64, period: f64, minutes: f64, tolerance: f64) -> Run {
    let mut sim = Simulation::new(machine, Options { tolerance, ..Options::default() }).unwrap();
    let mut k = 0.0;
    while sim.clock() < minutes * 60.0 - 1.0 {
        cycle(idle, speed * KM_H, period, k * period, &mut sim);
        k += 1.0;
    }
    sim.finish("standard", "reference").unwrap()
}

fn most(run: &Run, name: &str) -> f64 {
    run.overall.most[channels().iter().position(|c| c.name == name).unwrap()]
}

fn show(name: &str, r: &Run) {
    println!(
        "{name}: {:.0} s, slip {:.1} W, lining {:.1} C, bushing {:.1} C, fill {:.4}, steps {} rej {} ev {}",
        r.duration,
        r.ledgers.heat.inward["slip heat"] / r.duration,
        most(r, "lining surface") - 273.15,
        most(r, "bushing") - 273.15,
        1.0 - r.parts[4].used * 0.5,
        r.work.steps,
        r.work.rejected,
        r.work.events
    );
    for p in &r.parts {
        println!("   {} used {:.5} life {:?} h", p.part, p.used, p.life.map(|l| l / 3600.0));
    }
    for l in [&r.ledgers.mechanics, &r.ledgers.chain, &r.ledgers.heat, &r.ledgers.oil] {
        println!("   ledger {:.2e} of {:.0e}", l.relative, l.allowed);
    }
    for w in &r.warnings {
        println!("   {}: {}", w.kind, w.text);
    }
    for e in r.events.iter().take(12) {
        println!("   {:.4} {}", e.time, e.what);
    }
}

#[test]
fn moderate_duty_lands_near_its_published_rough_figures() {
    let r = run(Machine::default(), 6.0, 30.0, 60.0, 40.0, 1.0);
    show("moderate", &r);
}

#[test]
fn rental_cliff() {
    for n in [1500.0, 1700.0, 1750.0, 2000.0] {
        let mut m = Machine::default();
        m.clutch.engagement = n * RPM;
        let r = run(m, 30.0, 25.0, 60.0, 40.0, 1.0);
        show(&format!("rental {n}"), &r);
    }
}

#[test]
fn abuse() {
    let r = run(Machine::default(), 6.0, 20.0, 20.0, 40.0, 1.0);
    show("abuse", &r);
}
