//! Settings at the ends of their ranges: a run ends with a finite result or a reason.

use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, Happening};
use slipsoak_engine::parts::{Machine, PARAMETERS, parameter};
use slipsoak_engine::record::Run;
use slipsoak_engine::record::Warned;
use slipsoak_engine::simulate::{Failure, Options, Simulation};

/// Idle, launch, hold, brake, throttle and two rests, with oil between them.
fn ridden(machine: Machine, rest: f64) -> Result<Run, Failure> {
    let oil = Service::Oil { drops: 4.0, oil: machine.oil.clone() };
    let mut sim = Simulation::new(machine, Options::default())?;
    for segment in [
        Segment::Ride(Task::Idle, End::After(10.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 4.0, within: 20.0 }),
        Segment::Ride(Task::Hold(4.0), End::After(30.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
        Segment::Ride(Task::Throttle(0.5), End::After(15.0)),
        Segment::Ride(Task::Brake(2.0), End::Still { within: 60.0 }),
        Segment::Ride(Task::Off, End::After(rest)),
        Segment::Service(oil),
        Segment::Ride(Task::Off, End::After(6.0 * rest)),
        Segment::Ride(Task::Idle, End::After(20.0)),
    ] {
        sim.perform(&segment)?;
    }
    sim.finish("at an end", "short")
}

fn having(settings: &[(&str, f64)]) -> Machine {
    let mut machine = Machine::default();
    for (path, value) in settings {
        (parameter(path).expect("a setting").put)(&mut machine, *value);
    }
    machine
}

/// Whether a run's numbers are plausible for a machine.
fn sane(run: &Run) -> bool {
    let finite = |row: &[f64]| row.iter().all(|value| value.is_finite());
    let all = [&run.overall.least, &run.overall.mean, &run.overall.most];
    let oil = [Channel::OilFill, Channel::Film, Channel::OilOnLining, Channel::WasherOil];
    all.into_iter().all(|row| finite(row))
        && run.windows.mean.iter().all(|row| finite(row))
        && oil.iter().all(|channel| channel.of(&run.overall.least) > -1e-3)
        && run.parts.iter().all(|part| part.used.is_finite())
}

#[test]
fn a_channel_without_a_finite_value_fails_the_run_or_never_occurs() {
    match ridden(having(&[("washer.preload", 1000.0), ("surroundings.grade", -0.5)]), 600.0) {
        Ok(run) => assert!(sane(&run)),
        Err(failure) => assert!(failure.to_string().contains("washer.preload"), "{failure}"),
    }
}

#[test]
fn a_run_without_progress_ends_and_names_the_settings_far_from_their_defaults() {
    let machine = having(&[
        ("heat.bushing", 0.1),
        ("heat.sprocket_bushing", 0.0),
        ("heat.bushing_shaft_oiled", 0.0),
        ("oiling.evaporation_energy", 0.0),
    ]);
    match ridden(machine, 600.0) {
        Ok(run) => assert!(sane(&run)),
        Err(failure) => assert!(failure.to_string().contains("heat.bushing"), "{failure}"),
    }
}

#[test]
fn the_oil_film_of_a_very_thick_bushing_is_never_negative() {
    let run = ridden(having(&[("bushing.outside", 0.3)]), 600.0).expect("runs");
    let film = Channel::Film.of(&run.overall.least);
    assert!(film > -1e-7, "{film} kg");
}

#[test]
fn a_lining_worn_through_within_a_plain_duty_is_a_warning_that_says_so() {
    let machine = having(&[("lining.wear", 1e-12), ("lining.thickness", 6e-4)]);
    let usage = slipsoak_engine::usage::Usage::named("hard", &machine).expect("a use");
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    usage.ride(&mut sim, 1800.0).expect("rides");
    let run = sim.finish("worn", "hard").expect("finishes");
    let worn = run.warned(Warned::WornThrough).expect("warned");
    assert!(worn.value > 0.0 && worn.value < 1800.0 && worn.limit == 6e-4, "{worn:?}");
    let noted = run.events.iter().find(|event| event.what == Happening::LiningThrough).expect("noted");
    let wear = Channel::LiningWear as usize;
    let before = run.windows.end.iter().position(|end| *end >= noted.time).expect("a window");
    assert!(run.windows.most[before][wear] == 6e-4 && (before == 0 || run.windows.most[before - 1][wear] < 6e-4));
    assert_eq!(run.overall.most[wear], 6e-4);
    let sound = ridden(having(&[]), 10.0).expect("runs");
    assert_eq!(sound.warned(Warned::WornThrough), None);
}

#[test]
fn a_machine_that_rolls_back_with_a_burning_clutch_has_no_negative_oil_mass() {
    let mut sim = Simulation::new(having(&[("surroundings.grade", 0.5)]), Options::default()).expect("a machine");
    let launch = Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 4.0, within: 120.0 });
    sim.perform(&Segment::Ride(Task::Idle, End::After(10.0))).expect("idles");
    sim.perform(&launch).expect("rolls back");
    let run = sim.finish("steep", "launch").expect("closes its books");
    assert!(Channel::VehicleSpeed.of(&run.overall.least) < -50.0 / 3.6 && run.halt.is_some());
    for oil in [Channel::OilFill, Channel::Film, Channel::OilOnLining, Channel::WasherOil] {
        let least = oil.of(&run.overall.least);
        assert!(least >= 0.0, "{oil} {least:e}");
    }
    assert!(run.warned(Warned::RunsAway).is_some() && run.warned(Warned::Beyond).is_some());
}

#[test]
fn a_worn_through_washer_and_bushing_are_reported_with_the_time_and_wear_no_further() {
    let machine = having(&[("washer.preload", 1000.0), ("washer.wear_oiled", 1e-11), ("washer.wear_dry", 1e-10)]);
    let run = ridden(machine, 60.0).expect("runs");
    let worn = run.warned(Warned::WasherThrough).expect("warned");
    assert!(worn.value > 0.0 && worn.value < run.running_time && worn.limit == 0.030 * 0.0254, "{worn:?}");
    assert!(run.events.iter().any(|event| event.what == Happening::WasherThrough));
    let constants = ["bushing.wear_film", "bushing.wear_boundary", "bushing.wear_dry"].map(|path| (path, 1e-12));
    let run =
        ridden(having(&[&constants[..], &[("bushing.outside", 19.3e-3), ("bushing.weight", 2000.0)]].concat()), 60.0)
            .expect("runs");
    let worn = run.warned(Warned::BushingThrough).expect("warned");
    assert!(
        (worn.limit - 0.125e-3).abs() < 1e-12 && Channel::BushingWear.of(&run.overall.most) == worn.limit,
        "{worn:?}"
    );
    assert_eq!(run.events.iter().filter(|event| event.what == Happening::BushingThrough).count(), 1);
}

/// Every setting at both its ends, one at a time; returns the outcomes that are neither sane nor a failure with a
/// reason.
fn at_both_ends(every: usize) -> Vec<String> {
    let (mut odd, mut failed, mut all) = (vec![], vec![], 0);
    for p in PARAMETERS.iter().step_by(every) {
        for value in [p.least, p.most] {
            all += 1;
            match ridden(having(&[(p.path, value)]), 60.0) {
                Ok(run) if sane(&run) => {}
                Ok(_) => odd.push(format!("{} at {value}", p.path)),
                Err(failure) => failed.push(format!("{} at {value}: {failure}", p.path)),
            }
        }
    }
    assert!(10 * failed.len() <= all, "{failed:#?}");
    odd
}

#[test]
fn some_settings_at_their_ends_give_a_sane_result_or_a_reason() {
    assert_eq!(at_both_ends(16), Vec::<String>::new());
}

#[test]
#[ignore = "a minute"]
fn all_settings_at_their_ends_give_a_sane_result_or_a_reason() {
    assert_eq!(at_both_ends(1), Vec::<String>::new());
}
