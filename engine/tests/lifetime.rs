//! Skipping on the machine itself, against every block run in full.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::horizon::Skipping;
use slipsoak_engine::parts::{Machine, Oil};
use slipsoak_engine::record::{Horizon, Run};
use slipsoak_engine::simulate::{Options, Simulation, Until};

const KM_H: f64 = 1.0 / 3.6;
const RPM: f64 = std::f64::consts::PI / 30.0;
const HOUR: f64 = 3600.0;

fn round(idle: f64, speed: f64, hold: f64) -> Vec<Segment> {
    vec![
        Segment::Ride(Task::Idle, End::After(idle)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: speed * KM_H, within: 60.0 }),
        Segment::Ride(Task::Hold(speed * KM_H), End::After(hold)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
    ]
}

fn lived(machine: &Machine, block: &[Segment], hours: f64, tolerance: f64) -> (Run, Horizon) {
    let mut sim =
        Simulation::new(machine.clone(), Options { windows: 0, tolerance: Options::LIVES, ..Options::default() })
            .expect("a machine");
    let until = Until { time: hours * HOUR, skipping: Skipping { tolerance }, past_oil: true };
    sim.live(block, until).expect("it lives");
    let run = sim.finish("machine", "duty").expect("the ledgers close");
    let horizon = run.horizon.clone().expect("a horizon");
    (run, horizon)
}

/// Full and skipping runs of a duty: every slow quantity within a thousandth (oil: of a full bushing; bushing wear:
/// `bushing`), and never more than three times the error that was told.
fn compare(what: &str, machine: &Machine, block: &[Segment], hours: f64, bushing: f64) {
    /// Oil of a full bushing of the standard machine, kg.
    const FULL: f64 = 1.1e-3;
    let (_, whole) = lived(machine, block, hours, 0.0);
    let (_, skipping) = lived(machine, block, hours, Skipping::default().tolerance);
    assert_eq!(whole.blocks_skipped, 0);
    assert!(skipping.blocks_skipped > whole.blocks_run / 4, "{what}: {} skipped", skipping.blocks_skipped);
    for (exact, found) in whole.errors.iter().zip(&skipping.errors) {
        let error = (found.value - exact.value).abs();
        let allowed = match exact.quantity.as_str() {
            "oil fill" => 1e-3 * FULL,
            "bushing wear" => bushing * exact.value,
            _ => 1e-3 * exact.value,
        };
        assert!(error <= allowed, "{what}: {} {} for {}", exact.quantity, found.value, exact.value);
        // A twentieth of what is allowed is too little to be judged by.
        assert!(
            error <= 3.0 * found.error + 0.05 * allowed,
            "{what}: {} off by {error}, told {}",
            exact.quantity,
            found.error
        );
    }
}

fn engaging(speed: f64) -> Machine {
    let mut machine = Machine::default();
    machine.clutch.engagement = speed * RPM;
    machine
}

#[test]
fn stop_and_go_is_skipped_truly() {
    compare("stop and go", &engaging(1750.0), &round(30.0, 25.0, 20.0), 40.0, 1e-3);
}

#[test]
fn a_moderate_duty_is_skipped_truly() {
    compare("moderate", &Machine::default(), &round(6.0, 30.0, 43.0), 40.0, 1e-3);
}

#[test]
fn a_bushing_that_runs_dry_is_skipped_truly() {
    let mut leaky = engaging(1900.0);
    leaky.oiling.leak = 2.0 / HOUR;
    compare("running dry", &leaky, &round(30.0, 25.0, 20.0), 60.0, 1e-3);
}

#[test]
fn days_with_oil_and_nights_are_skipped_truly() {
    let mut day: Vec<Segment> = (0..6).flat_map(|_| round(30.0, 25.0, 20.0)).collect();
    day.push(Segment::Service(Service::Oil { drops: 0.25, oil: Oil::named("SAE 30").expect("an oil") }));
    day.push(Segment::Ride(Task::Off, End::After(14.0 * HOUR)));
    compare("days", &engaging(1750.0), &day, 3000.0, 1e-3);
}

#[test]
fn weekly_rides_are_skipped_truly() {
    let mut week: Vec<Segment> = (0..4).flat_map(|_| round(20.0, 25.0, 30.0)).collect();
    week.push(Segment::Ride(Task::Off, End::After(6.0 * 24.0 * HOUR)));
    compare("weeks", &Machine::default(), &week, 26_000.0, 1e-3);
}
