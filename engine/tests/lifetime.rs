//! Skipping on the machine itself, compared with every block simulated in full.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, Entry, Part};
use slipsoak_engine::parts::{Machine, Oil, settings};
use slipsoak_engine::parts_file::read;
use slipsoak_engine::record::{Horizon, Inside, Run, Warned};
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::simulate::{Options, Simulation, Tolerance, Until};
use slipsoak_engine::units::{KM_H, RPM};

const HOUR: f64 = 3600.0;
/// Oil of a full bushing of the standard machine, kg.
const FULL: f64 = 1.1e-3;

pub fn round(idle: f64, speed: f64, hold: f64) -> Vec<Segment> {
    vec![
        Segment::Ride(Task::Idle, End::After(idle)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: speed * KM_H, within: 60.0 }),
        Segment::Ride(Task::Hold(speed * KM_H), End::After(hold)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
    ]
}

pub fn stepped(machine: &Machine, block: &[Segment], hours: f64, tolerance: f64, steps: Tolerance) -> (Run, Horizon) {
    found(machine, &[], block, hours, tolerance, steps)
}

/// A machine after segments that come before its life.
fn found(
    machine: &Machine,
    before: &[Segment],
    block: &[Segment],
    hours: f64,
    tolerance: f64,
    steps: Tolerance,
) -> (Run, Horizon) {
    let mut sim = Simulation::new(machine.clone(), Options { windows: 0, tolerance: steps, ..Options::default() })
        .expect("a machine");
    for segment in before {
        sim.perform(segment).expect("it is done");
    }
    let until = Until { time: hours * HOUR, skipping: Skipping { tolerance } };
    sim.live(block, until).expect("it lives");
    let run = sim.finish("machine", "duty").expect("the ledgers close");
    let horizon = run.horizon.clone().expect("a horizon");
    (run, horizon)
}

/// Relaxation, over the springs' force, that moves their engagement by 0.03 rpm.
const LITTLE: f64 = 3e-5;

/// Allowed relative error of the wear of a bore that wears by a micrometre or less: of 60 sampled lives half were off by 2e-3 and
/// nine in ten by 1.1e-2 at most, with steps as of runs and with closer ones alike.
pub const HARDLY_WORN: f64 = 1e-2;

/// Full and skipping runs of a duty: every slow quantity agrees within a thousandth (oil: of a full bushing; bushing
/// wear: `bushing`; relaxation, which slows with the logarithm of time, and the washer, which its oil leaves: three thousandths, or [`LITTLE`]),
/// and the error never exceeds three times its estimate.
pub fn compare(what: &str, machine: &Machine, block: &[Segment], hours: f64, bushing: f64) -> Horizon {
    compare_found(what, machine, &[], block, hours, bushing)
}

fn compare_found(
    what: &str,
    machine: &Machine,
    before: &[Segment],
    block: &[Segment],
    hours: f64,
    bushing: f64,
) -> Horizon {
    let lived = |tolerance, steps| found(machine, before, block, hours, tolerance, steps).1;
    // The full run has close steps: where blocks differ by larger steps, a full run with those is the less exact.
    let (whole, skipping) = (lived(0.0, Tolerance::CLOSE), lived(Skipping::default().tolerance, Tolerance::RUNS));
    assert_eq!(whole.blocks_skipped, 0);
    let inside = |of: fn(&Inside) -> u64, horizon: &Horizon| horizon.inside.iter().map(of).sum::<u64>();
    let all = whole.blocks_run.max(inside(|piece| piece.run, &whole));
    let skipped = skipping.blocks_skipped.max(inside(|piece| piece.skipped, &skipping));
    assert!(skipped > all / 4, "{what}: {skipped} of {all} skipped");
    for (exact, found) in whole.errors.iter().zip(&skipping.errors) {
        let error = (found.value - exact.value).abs();
        let allowed = match exact.quantity.as_str() {
            "oil mass" => 1e-3 * FULL,
            "bushing wear" => bushing * exact.value,
            "washer wear" => 3e-3 * exact.value,
            "relaxation" => (3e-3 * exact.value).max(LITTLE),
            _ => 1e-3 * exact.value,
        };
        // A life that ends with a worn part may end a block sooner or later.
        let block = if whole.ended_by.is_some() { exact.value / all as f64 } else { 0.0 };
        assert!(error <= allowed + block, "{what}: {} {} for {}", exact.quantity, found.value, exact.value);
        // Errors below a twentieth of the allowed ones are too small for a comparison.
        assert!(
            error <= 3.0 * found.error + 0.05 * allowed + block,
            "{what}: {} off by {error}, told {}",
            exact.quantity,
            found.error
        );
    }
    skipping
}

pub fn engaging(speed: f64) -> Machine {
    let mut machine = Machine::default();
    machine.clutch.engagement = speed * RPM;
    machine
}

#[test]
fn stop_and_go_is_skipped_accurately() {
    compare("stop and go", &engaging(1750.0), &round(30.0, 25.0, 20.0), 40.0, 1e-3);
}

#[test]
fn a_moderate_duty_is_skipped_accurately() {
    compare("moderate", &Machine::default(), &round(6.0, 30.0, 43.0), 40.0, 1e-3);
}

#[test]
fn a_bushing_that_runs_dry_is_skipped_accurately() {
    let mut leaky = engaging(1900.0);
    leaky.oiling.leak = 2.0 / HOUR;
    let horizon = compare("running dry", &leaky, &round(30.0, 25.0, 20.0), 60.0, 1e-3);
    // Steps that alternated from block to block let the film differ by more than skipping bears: 1078 blocks were run.
    assert!(horizon.blocks_run < 500, "{} blocks", horizon.blocks_run);
}

/// A block after a jump lasts as long as any other. Once it counted with those that were skipped, and the rest of the horizon
/// seemed to be a few hundred blocks long: 343 were run.
#[test]
fn a_life_far_from_its_horizon_is_covered_in_few_blocks() {
    let mut light = engaging(2000.0);
    light.vehicle.mass *= 0.6;
    let (run, horizon) =
        stepped(&light, &round(20.0, 20.0, 60.0), 3000.0, Skipping::default().tolerance, Tolerance::RUNS);
    assert!(run.duration > 1000.0 * HOUR && horizon.blocks_skipped > 40_000, "{} h", run.duration / HOUR);
    assert!(horizon.blocks_run < 300, "{} blocks", horizon.blocks_run);
}

#[test]
fn an_unfed_washer_dries_with_skipping_as_in_a_full_run() {
    let dry = [Segment::Service(Service::Found(0.0))];
    // A dry bushing would grab long before.
    let mut machine = engaging(1750.0);
    machine.bushing.score_energy = 1e10;
    compare_found("found dry", &machine, &dry, &round(30.0, 25.0, 20.0), 25.0, 1e-3);
    let low = [Segment::Service(Service::Found(0.15))];
    compare_found("found low", &machine, &low, &round(30.0, 25.0, 20.0), 25.0, 1e-3);
}

/// The record's oil quantity is a mass: that of a new machine, less its losses.
#[test]
fn the_oil_whose_error_is_estimated_is_all_that_bushing_and_washer_hold_in_kilograms() {
    let (run, horizon) = stepped(&Machine::default(), &round(30.0, 25.0, 20.0), 2.0, 0.0, Tolerance::RUNS);
    let oil = horizon.errors.iter().find(|e| e.quantity == "oil mass").expect("the oil");
    let held = &run.ledgers.oil.held;
    let sum: f64 = [Entry::InPores, Entry::InFilm, Entry::InWasher].iter().map(|entry| held[entry]).sum();
    assert!((oil.value / sum - 1.0).abs() < 1e-12, "{} kg of {held:?}", oil.value);
}

#[test]
fn days_with_oil_and_nights_are_skipped_accurately() {
    let mut day: Vec<Segment> = (0..6).flat_map(|_| round(30.0, 25.0, 20.0)).collect();
    day.push(Segment::Service(Service::Oil { drops: 0.25, oil: Oil::named("SAE 30").expect("an oil") }));
    day.push(Segment::Ride(Task::Off, End::After(14.0 * HOUR)));
    compare("days", &engaging(1750.0), &day, 3000.0, 1e-3);
}

#[test]
fn weekly_rides_are_skipped_accurately() {
    let mut week: Vec<Segment> = (0..4).flat_map(|_| round(20.0, 25.0, 30.0)).collect();
    week.push(Segment::Ride(Task::Off, End::After(6.0 * 24.0 * HOUR)));
    compare("weeks", &Machine::default(), &week, 26_000.0, HARDLY_WORN);
}

/// An adjustment in every block adds no oil: the oil continues to drift.
#[test]
fn hot_weeks_are_skipped_accurately() {
    let mut week = vec![Segment::Service(Service::Adjust(&settings::surroundings::ambient, 299.15))];
    for _ in 0..7 {
        week.extend((0..3).flat_map(|_| round(20.0, 24.0, 240.0)));
        week.push(Segment::Ride(Task::Off, End::After(23.0 * HOUR)));
    }
    let mut leaky = Machine::default();
    leaky.oiling.leak = 0.15 / HOUR;
    compare("hot weeks", &leaky, &week, 15_000.0, HARDLY_WORN);
}

/// Running lives with a day of rest and with a week agree, whether blocks are skipped or not, and from the first block on.
#[test]
fn a_rest_after_each_ride_leaves_the_running_lives_as_they_are() {
    let rides = vec![round(15.0, 40.0, 80.0); 15].concat();
    let oil = Segment::Service(Service::Oil { drops: 3.0, oil: Oil::default() });
    let lives = |days: f64, blocks: f64, tolerance: f64| {
        let rest = Segment::Ride(Task::Off, End::After(24.0 * HOUR * days));
        let block = [&rides[..], &[oil.clone(), rest]].concat();
        // The last block begins before the time is over.
        let hours = 24.0 * days * (blocks - 0.5);
        let run = stepped(&engaging(1950.0), &block, hours, tolerance, Tolerance::RUNS).0;
        [Part::Lining, Part::Bushing, Part::Washer].map(|part| {
            let found = run.parts.iter().find(|one| one.part == part).and_then(|one| one.running);
            found.expect("it wears")
        })
    };
    for blocks in [1.0, 4.0] {
        let day = lives(1.0, blocks, 0.0);
        for (days, tolerance) in [(2.0, 0.0), (7.0, 0.0), (1.0, 1.0), (7.0, 1.0)] {
            let found = lives(days, blocks, tolerance * Skipping::default().tolerance);
            for (found, day) in found.iter().zip(&day) {
                assert!((found / day - 1.0).abs() < 0.03, "{days} days, {blocks} blocks: {found} s for {day}");
            }
        }
    }
}

#[test]
fn the_integration_tolerance_is_small_enough_for_lives() {
    let mut uphill = Machine::default();
    uphill.surroundings.grade = 0.03;
    let slow = vec![
        Segment::Ride(Task::Idle, End::After(20.0)),
        Segment::Ride(Task::Throttle(0.5), End::Reached { speed: 8.0 * KM_H, within: 60.0 }),
        Segment::Ride(Task::Hold(8.0 * KM_H), End::After(30.0)),
        Segment::Ride(Task::Brake(2.0), End::Still { within: 60.0 }),
    ];
    let mut outing = round(20.0, 25.0, 240.0);
    outing.push(Segment::Service(Service::Oil { drops: 1.0, oil: Oil::named("SAE 30").expect("an oil") }));
    outing.push(Segment::Ride(Task::Off, End::After(2.0 * HOUR)));
    for (what, machine, block, hours) in [
        ("stop and go", engaging(1900.0), round(30.0, 25.0, 20.0), 4.0),
        ("slowly uphill", uphill, slow, 2.0),
        ("outings", engaging(2300.0), outing, 40.0),
        ("short hops", engaging(1750.0), round(4.0, 12.0, 1.0), 1.0),
    ] {
        let (_, closely) = stepped(&machine, &block, hours, 0.0, Tolerance::alike(0.05));
        let (_, coarsely) = stepped(&machine, &block, hours, 0.0, Tolerance::RUNS);
        for (exact, found) in closely.errors.iter().zip(&coarsely.errors) {
            let allowed = match exact.quantity.as_str() {
                "oil mass" => 3e-4 * FULL,
                "relaxation" => 1e-3 * exact.value,
                // Slowly uphill: most of the wear is in the hold at slip.
                _ => 1.5e-3 * exact.value,
            };
            let error = (found.value - exact.value).abs();
            assert!(error <= allowed, "{what}: {} {} for {}", exact.quantity, found.value, exact.value);
        }
    }
}

/// Skipping disturbs states to learn how they settle; a parked machine must stand still all the same. This clutch of the
/// weekend rider's, oiled before each ride, once rested with a motor at 0.5 rad/s until its ledger forbade longer steps.
/// The motor's speed at the end of a skipped piece was foretold by slopes without meaning, so that a clutch that never slips at idle
/// gripped there three times in ten hours.
#[test]
fn a_life_is_said_to_drag_at_idle_only_where_the_same_life_in_full_does() {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../scripts/parts/orchard-cart.json"));
    let cart = read("orchard-cart.json", &text.expect("the shipped cart")).expect("a machine");
    let block = vec![round(30.0, 25.006, 20.0); 30].concat();
    for (engagement, drags) in [(2000.0, false), (1600.0, true)] {
        for tolerance in [Skipping::default().tolerance, 0.0] {
            let options = Options::default();
            let mut machine = cart.clone();
            machine.clutch.engagement = engagement * RPM;
            let mut sim = Simulation::new(machine, options).expect("a machine");
            sim.live(&block, Until { time: 10.0 * HOUR, skipping: Skipping { tolerance } }).expect("it lives");
            let run = sim.finish("machine", "rental").expect("the ledgers close");
            let dragged = run.warnings.iter().find(|warning| warning.kind == Warned::Drag);
            assert_eq!(dragged.is_some(), drags, "{engagement} rpm, tolerance {tolerance}: {dragged:?}");
        }
    }
}

#[test]
fn a_parked_machine_stands_still_whatever_skipping_tries() {
    let text = include_str!("../../scripts/parts/weekend-cart.json");
    let machine = slipsoak_engine::parts_file::read("weekend-cart.json", text).expect("a machine");
    let uncertain: Vec<_> = slipsoak_engine::fleet::assumed(&machine)
        .map(|(p, spread)| slipsoak_engine::fleet::Uncertain::alone(p.path, *spread))
        .collect();
    let machine = slipsoak_engine::fleet::sample(&machine, &uncertain, 1, 3);
    let ride = |task, end| Segment::Ride(task, end);
    let mut block = vec![];
    for parked in [6.0 * 24.0, 23.0] {
        block.push(ride(Task::Off, End::After(parked * HOUR)));
        block.push(Segment::Service(Service::Oil { drops: 1.5, oil: machine.oil.clone() }));
        block.push(ride(Task::Off, End::After(30.0)));
        for _ in 0..2 {
            block.push(ride(Task::Idle, End::After(60.0)));
            block.push(ride(Task::Throttle(1.0), End::Reached { speed: 40.0 / 3.6, within: 120.0 }));
            block.push(ride(Task::Hold(40.0 / 3.6), End::After(840.0)));
            block.push(ride(Task::Brake(2.0), End::Still { within: 120.0 }));
        }
        block.push(ride(Task::Off, End::After(300.0)));
    }
    let options = Options { windows: 0, ..Options::default() };
    let mut sim = Simulation::new(machine, options).expect("a machine");
    let until = Until { time: 3.0 * 365.0 * 24.0 * HOUR, skipping: Skipping::default() };
    sim.live(&block, until).map_err(|(_, failure)| failure).expect("it lives for three years");
    assert_eq!(sim.reading(Channel::MotorSpeed), 0.0);
}
