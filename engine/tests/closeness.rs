//! Wear of every pair at the default tolerance and at that of lives, compared with runs at a hundredth of it.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::Entry;
use slipsoak_engine::parts::{LiningKind, Machine};
use slipsoak_engine::simulate::{Options, Simulation, Tolerance};
use slipsoak_engine::units::RPM;
use slipsoak_engine::usage::Usage;

/// Allowed relative error of each pair's wear at the default tolerance and at that of lives. A light cart with heavy
/// shoes misses most, by when it locks; a bushing that scores amplifies errors of temperature.
const ALLOWED: [(Tolerance, f64); 2] = [(Tolerance::alike(1.0), 8e-4), (Tolerance::LIVES, 2e-3)];

fn having(change: impl Fn(&mut Machine)) -> Machine {
    let mut machine = Machine::default();
    change(&mut machine);
    machine
}

/// A period of full throttle to 20 km/h, braking at once, and idling: the lining never cools.
fn abuse() -> Vec<Segment> {
    let speed = 20.0 / 3.6;
    vec![
        Segment::Ride(Task::Idle, End::After(8.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed, within: 60.0 }),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
    ]
}

fn used(name: &str, machine: &Machine) -> Vec<Segment> {
    Usage::named(name, machine).expect("a use").block
}

/// Worn volumes of lining, bushing bore, washer and bushing face, m³.
fn worn(machine: &Machine, first: &[Segment], block: &[Segment], time: f64, tolerance: Tolerance) -> [f64; 4] {
    let mut sim =
        Simulation::new(machine.clone(), Options { windows: 0, tolerance, ..Options::default() }).expect("a machine");
    for segment in first {
        sim.perform(segment).expect("it is done");
    }
    while sim.clock() < time {
        for segment in block {
            sim.perform(segment).expect("it rides");
        }
    }
    let run = sim.finish("machine", "duty").expect("the ledgers close");
    [Entry::Lining, Entry::BushingBore, Entry::Washer, Entry::BushingFace].map(|pair| run.ledgers.wear.inward[&pair])
}

#[test]
fn every_wear_is_within_a_thousandth_in_hot_and_drying_duties() {
    let light = having(|m| {
        m.line_with(LiningKind::Moulded);
        m.motor.idle = 1750.0 * RPM;
        (m.vehicle.mass, m.vehicle.rolling, m.vehicle.ratio, m.vehicle.wheel_radius) = (150.0, 0.02, 4.0, 0.2);
        m.clutch.engagement = 1950.0 * RPM;
    });
    let heavy = having(|m| {
        m.motor.idle = 1700.0 * RPM;
        (m.vehicle.mass, m.vehicle.rolling, m.vehicle.ratio, m.vehicle.wheel_radius) = (280.0, 0.05, 7.5, 0.19);
        (m.clutch.engagement, m.clutch.shoe_mass, m.drum.wall) = (2100.0 * RPM, 0.125, 3.6e-3);
    });
    let slow_motor = having(|m| m.motor.inertia *= 2.0);
    let drying = having(|m| {
        m.clutch.engagement = 1900.0 * RPM;
        m.oiling.leak = 2.0 / 3600.0;
    });
    let summer = having(|m| m.surroundings.ambient = 313.15);
    let plain = Machine::default();
    let found = |fill| vec![Segment::Service(Service::Found(fill))];
    let (hard, rental) = (|m: &Machine| used("hard", m), |m: &Machine| used("rental", m));
    for (what, machine, first, block, time) in [
        ("abuse", &plain, vec![], abuse(), 1500.0),
        ("abuse at 40 °C", &summer, vec![], abuse(), 1200.0),
        ("abuse, heavy flywheel", &slow_motor, vec![], abuse(), 1500.0),
        ("hard use", &plain, vec![], hard(&plain), 1500.0),
        // Half an hour later its bushing has seized.
        ("hard use of a light cart", &light, vec![], hard(&light), 900.0),
        // A bushing of such a use grabs soon after.
        ("hard use of a heavy cart", &heavy, vec![], hard(&heavy), 900.0),
        ("hard use from a low fill", &drying, found(0.6), hard(&drying), 1200.0),
        ("rental, drying", &drying, found(0.25), rental(&drying), 2400.0),
        ("rental", &plain, vec![], rental(&plain), 1200.0),
    ] {
        let at = |tolerance| worn(machine, &first, &block, time, tolerance);
        let exact = at(Tolerance::alike(0.01));
        for (tolerance, allowed) in ALLOWED {
            let errors: Vec<f64> = at(tolerance).iter().zip(exact).map(|(w, exact)| w - exact).collect();
            for (k, (error, exact)) in errors.iter().zip(exact).enumerate() {
                assert!(error.abs() <= allowed * exact, "{what}: pair {k} off by {:.1e}, {tolerance:?}", error / exact);
            }
        }
    }
}
