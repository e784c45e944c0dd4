//! Hazards that a run warns of: oil on hot faces, a burning clutch, glaze, and the clutch on slopes.

use crate::bench_ride::ride;
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, Happening, IdleKind, LiningKind, TaskName};
use slipsoak_engine::parts::{Form, Machine, parameter, settings};
use slipsoak_engine::record::{Run, Warned};
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::studies::{Case, fleet};
use slipsoak_engine::units::{KM_H, RPM, ZERO_C};

fn having(settings: &[(&str, f64)]) -> Machine {
    let mut machine = Machine::default();
    for (path, value) in settings {
        (parameter(path).expect("a setting").put)(&mut machine, *value);
    }
    machine
}

fn ridden(machine: Machine, segments: &[Segment]) -> Run {
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    for segment in segments {
        sim.perform(segment).expect("it runs");
    }
    sim.finish("machine", "duty").expect("the ledgers close")
}

/// Full throttle for a time against a slope that is too steep to start on.
fn stalled(seconds: f64) -> [Segment; 3] {
    let slope = Service::Adjust(&settings::surroundings::grade, 0.45);
    [ride(Task::Idle, End::After(10.0)), Segment::Service(slope), ride(Task::Throttle(1.0), End::After(seconds))]
}

// Exact: a = F'η/(J_drum + ηM') r_w/i of 190 kg on 10 % with rolling 0.03, without friction in the bearing: 0.66485 m/s², ½at².
#[test]
fn a_machine_on_a_slope_of_10_percent_rolls_back_8_cm_in_half_a_second() {
    let free = [
        ("surroundings.grade", 0.1),
        ("clutch.engagement", 300.0),
        ("bushing.clearance", 500e-6),
        ("bushing.friction_oiled", 0.001),
        ("bushing.friction_dry", 0.001),
        ("washer.friction", 0.001),
    ];
    let run = ridden(having(&free), &[ride(Task::Idle, End::After(5.0)), ride(Task::Coast, End::After(0.5))]);
    let back = run.warned(Warned::RolledBack).expect("it rolls back");
    assert!((back.value / (0.66485 * 0.5) - 1.0).abs() < 0.01, "{} m/s", back.value);
    assert!((back.limit / 0.0831 - 1.0).abs() < 0.01, "{} m", back.limit);
    // The same on the level.
    let level = [&free[1..], &[("surroundings.grade", 0.0)]].concat();
    let run = ridden(having(&level), &[ride(Task::Idle, End::After(5.0)), ride(Task::Coast, End::After(0.5))]);
    assert_eq!(run.warned(Warned::RolledBack), None);
}

// Statics: a wheel that tends to roll back is held between η(G − R) and (G + R)/η at the drum, G the slope's and R the rolling force.
#[test]
fn a_slipping_clutch_that_holds_the_machine_on_a_slope_is_reported_with_its_heat() {
    let start = |grade: f64, opening: f64| {
        let mut sim = Simulation::new(having(&[("surroundings.grade", grade)]), Options::default()).expect("a machine");
        for segment in [ride(Task::Idle, End::After(5.0)), ride(Task::Throttle(opening), End::After(8.0))] {
            sim.perform(&segment).expect("it runs");
        }
        let torque = sim.reading(Channel::ClutchTorque);
        (sim.finish("machine", "start").expect("the ledgers close"), torque)
    };
    let (run, torque) = start(0.1, 0.55);
    let held = run.warned(Warned::HeldOnSlope).unwrap_or_else(|| panic!("{:?}", run.warnings));
    let slope = 0.1_f64.atan();
    let at_drum = |force: f64| 190.0 * 9.80665 * force * 0.165 / 6.0;
    let least = 0.95 * at_drum(slope.sin() - 0.03 * slope.cos());
    let most = at_drum(slope.sin() + 0.03 * slope.cos()) / 0.95;
    assert!((least - 0.5..most + 0.5).contains(&torque), "{torque} N·m, {least} to {most}");
    assert!(held.value > 1.0 && held.value <= 8.0 && held.limit > 0.5 * torque * 200.0, "{held:?}");
    // A slope on which it stands by its rolling resistance alone.
    assert_eq!(start(0.02, 0.02).0.warned(Warned::HeldOnSlope), None);
}

#[test]
fn on_a_descent_the_speed_is_given_below_which_the_clutch_lets_go() {
    let down = |grade: f64| {
        let segments = [
            ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 60.0 }),
            Segment::Service(Service::Adjust(&settings::surroundings::grade, grade)),
            ride(Task::Brake(0.5), End::Slowed { speed: 5.0 * KM_H, within: 60.0 }),
        ];
        ridden(Machine::default(), &segments)
    };
    let run = down(-0.08);
    let let_go = run.warned(Warned::NoBraking).expect("it lets go");
    // Shoes leave the drum where they came on it: at the engagement speed of the machine.
    let engages = Channel::Engagement.of(&run.overall.least);
    assert!((let_go.limit / engages - 1.0).abs() < 0.01, "{} and {engages} rad/s", let_go.limit);
    assert!(let_go.value <= let_go.limit * 0.165 / 6.0 * 1.01 && let_go.value > 15.0 * KM_H, "{let_go:?}");
    // On the level, and on a slope too flat to move it, nothing is lost.
    assert_eq!((down(0.0).warned(Warned::NoBraking), down(-0.02).warned(Warned::NoBraking)), (None, None));
}

// By hand: 8 % pull with 0.78 m/s², rolling takes 0.29, so that 10 s add up to 18 km/h, less what turns with the wheels.
#[test]
fn a_held_speed_that_a_descent_exceeds_is_warned_of_and_one_that_is_slow_to_fall_is_not() {
    let held = |grade: f64, from: f64, seconds: f64| {
        let segments = [
            ride(Task::Throttle(1.0), End::Reached { speed: from * KM_H, within: 60.0 }),
            Segment::Service(Service::Adjust(&settings::surroundings::grade, grade)),
            ride(Task::Hold(10.0 * KM_H), End::After(seconds)),
        ];
        ridden(Machine::default(), &segments).warned(Warned::Overrun).copied()
    };
    let over = held(-0.08, 10.0, 10.0).expect("it runs away");
    assert!(over.limit == 10.0 * KM_H && over.value > 20.0 * KM_H && over.value < 30.0 * KM_H, "{over:?}");
    assert_eq!([held(0.0, 10.0, 10.0), held(0.0, 25.0, 1.0), held(-0.02, 10.0, 10.0)], [None; 3]);
}

#[test]
fn a_speed_from_which_a_short_hold_begins_was_reached_unless_the_ground_changed_before_it() {
    let newton_metres = [(1000.0, 3.0), (1800.0, 4.8), (2600.0, 5.2), (3200.0, 5.1), (3600.0, 4.95), (4000.0, 4.5)];
    let mini = [
        ("motor.idle", 2000.0 * RPM),
        ("vehicle.mass", 90.0),
        ("vehicle.wheel_radius", 0.127),
        ("vehicle.rolling", 0.02),
        ("vehicle.drag_area", 0.5),
        ("clutch.engagement", 2300.0 * RPM),
        ("clutch.shoes", 2.0),
        ("clutch.shoe_mass", 0.09),
    ];
    let held = |grade: f64, asked: f64| {
        let mut machine = having(&mini);
        (machine.form, machine.lining_kind) = (Form::Leading, LiningKind::Moulded);
        machine.torque_curve = newton_metres.map(|(rpm, torque)| (rpm * RPM, torque)).to_vec();
        let launch = ride(Task::Throttle(1.0), End::Reached { speed: 15.5 * KM_H, within: 60.0 });
        let mut segments = vec![ride(Task::Idle, End::After(6.0)), launch];
        if grade > 0.0 {
            segments.push(Segment::Service(Service::Adjust(&settings::surroundings::grade, grade)));
        }
        segments.push(ride(Task::Hold(asked * KM_H), End::After(4.0)));
        ridden(machine, &segments).warned(Warned::OutOfReach).copied()
    };
    assert_eq!(held(0.0, 15.5), None);
    assert!(held(0.3, 15.5).is_some(), "its motor is too weak for this slope");
    assert!(held(0.0, 60.0).is_some(), "its governed speed is below it");
}

#[test]
fn a_grabbed_bushing_that_drives_or_stops_the_machine_is_no_descent_and_no_lack_of_gearing() {
    for grade in [0.0, 0.03] {
        let adjust = Service::Adjust(&settings::surroundings::grade, grade);
        let mut segments = vec![Segment::Service(Service::Found(0.0)), Segment::Service(adjust)];
        for _ in 0..3 {
            segments.push(ride(Task::Throttle(1.0), End::Reached { speed: 6.0 * KM_H, within: 60.0 }));
            segments.push(ride(Task::Hold(6.0 * KM_H), End::After(300.0)));
        }
        let run = ridden(Machine::default(), &segments);
        assert!(run.warned(Warned::Grabs).or(run.warned(Warned::Seizes)).is_some(), "{grade}: it grabs");
        assert_eq!((run.warned(Warned::Overrun), run.warned(Warned::OutOfReach)), (None, None), "{grade}");
    }
}

// Base oils flash at 200 to 240 °C and ignite alone above 300 °C (abstracts); more than 5 mg on the lining.
#[test]
fn oil_on_a_hot_face_is_warned_of_by_the_gravest_stage_that_it_reaches_and_a_clean_face_is_not() {
    let kinds = [Warned::Smokes, Warned::Vapour, Warned::Fire];
    let oiled = |seconds: f64| {
        let machine = Machine::default();
        let oil = Service::Oil { drops: 40.0, oil: machine.oil.clone() };
        let lap = [
            ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 60.0 }),
            ride(Task::Brake(1.5), End::Still { within: 60.0 }),
        ];
        let segments = [&[Segment::Service(oil)], &lap[..], &stalled(seconds)].concat();
        ridden(machine, &segments)
    };
    for (seconds, expected) in [(2.0, None), (3.5, Some(0)), (4.5, Some(1)), (6.5, Some(2))] {
        let run = oiled(seconds);
        let given: Vec<usize> = (0..3).filter(|k| run.warned(kinds[*k]).is_some()).collect();
        assert_eq!(given, expected.into_iter().collect::<Vec<_>>(), "{seconds} s: {:?}", run.warnings);
        if let Some(warning) = expected.and_then(|k: usize| run.warned(kinds[k])) {
            let peak = Channel::LiningSurface.of(&run.overall.most).max(Channel::DrumFace.of(&run.overall.most));
            assert!(warning.value >= warning.limit && warning.value <= peak, "{warning:?}, {peak} K");
        }
    }
    let clean = ridden(Machine::default(), &stalled(8.0));
    assert!(Channel::LiningSurface.of(&clean.overall.most) > 300.0 + ZERO_C);
    assert!(kinds.iter().all(|kind| clean.warned(*kind).is_none()), "{:?}", clean.warnings);
}

#[test]
fn ten_seconds_of_two_kilowatts_burn_the_clutch_and_glaze_it_until_it_is_worn_in() {
    let warned = |seconds: f64| ridden(Machine::default(), &stalled(seconds));
    assert_eq!(warned(9.0).warned(Warned::LetGo), None);
    let run = warned(11.0);
    let burning = run.warned(Warned::LetGo).expect("it burns");
    assert!(burning.value > 2000.0 && burning.value <= Channel::SlipPower.of(&run.overall.most), "{burning:?}");
    let glaze = run.warned(Warned::Glaze).expect("it glazes");
    assert!((glaze.value, glaze.limit) == (Channel::Glaze.of(&run.overall.most), 0.3));
}

#[test]
fn a_lining_without_resin_has_no_bond_to_lose() {
    let bond = |kind: LiningKind| {
        let mut machine = Machine::default();
        machine.line_with(kind);
        let run = ridden(machine, &stalled(14.0));
        (run.warned(Warned::Bond).map(|w| w.limit), Channel::LiningSurface.of(&run.overall.most) > 350.0 + ZERO_C)
    };
    let bonded = Some(350.0 + ZERO_C);
    assert_eq!(LiningKind::ALL.map(bond), [(bonded, true), (bonded, true), (None, true), (None, true)]);
}

#[test]
fn at_700_degrees_a_run_stops_and_keeps_what_was_run() {
    let mut segments = stalled(30.0).to_vec();
    segments.push(ride(Task::Idle, End::After(60.0)));
    let run = ridden(Machine::default(), &segments);
    let halt = run.halt.expect("it is stopped");
    // The glaze of the last step lies between: it changes the heat of the face.
    assert!((halt.temperature - 700.0 - ZERO_C).abs() < 0.1, "{} K", halt.temperature);
    assert_eq!((halt.part, halt.task, halt.segment), (Channel::LiningSurface, TaskName::Throttle, 2));
    assert!(halt.time > 10.0 && halt.time < 40.0 && run.duration == halt.time, "{} of {} s", halt.time, run.duration);
    // What was run is there; nothing after it.
    assert_eq!(run.segments.last().map(|segment| segment.end), Some(halt.time));
    assert_eq!(run.windows.end.last(), Some(&halt.time));
    assert!(Channel::LiningWear.of(&run.overall.most) > 0.0 && run.warned(Warned::TooHot).is_some());
    let last = run.events.last().map(|event| (event.what, event.time));
    assert_eq!(last, Some((Happening::TooHot, halt.time)));
}

#[test]
fn no_life_is_given_of_a_run_in_which_a_part_was_hotter_than_500_degrees() {
    let lives = |seconds: f64| {
        let run = ridden(Machine::default(), &stalled(seconds));
        let peak = Channel::LiningSurface.of(&run.overall.most);
        (run.warned(Warned::Beyond).map(|w| w.value == peak), run.parts.iter().filter(|p| p.life.is_some()).count())
    };
    let (cool, hot) = (lives(10.0), lives(14.0));
    assert!(cool.0.is_none() && cool.1 >= 3, "{cool:?}");
    assert_eq!(hot, (Some(true), 0));
}

#[test]
fn a_repeated_duty_that_grows_too_hot_ends_there_and_gives_no_life_to_a_fleet() {
    let mut case = Case::new(Machine::default(), "stalls", stalled(30.0).to_vec(), 3600.0);
    case.uncertain.clear();
    let run = case.life(Machine::default(), 0).expect("it runs");
    assert!(run.halt.is_some() && run.duration < 60.0, "{} s", run.duration);
    assert_eq!((run.first_worn(), run.horizon.as_ref().and_then(|h| h.ended_by)), (None, None));
    let (fleet, failed) = fleet(&case, 3, 1);
    assert!(failed.is_empty() && fleet.outcomes.is_empty());
    let (clutches, hottest) = fleet.beyond.expect("all are beyond the model");
    assert!(clutches == 3 && hottest > 500.0 + ZERO_C, "{clutches} at up to {hottest} K");
}

// A second implementation: −8 % from 25 km/h, throttle shut, stays locked at 30 km/h on a throttle stop, at 28 km/h beneath a governor.
#[test]
fn with_the_throttle_shut_on_a_descent_of_8_percent_the_motor_on_its_stop_holds_30_km_h() {
    for (idle_kind, balance) in [(IdleKind::ThrottleStop, 30.0), (IdleKind::Governed, 28.0)] {
        let segments = [
            ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 60.0 }),
            Segment::Service(Service::Adjust(&settings::surroundings::grade, -0.08)),
            ride(Task::Coast, End::After(25.0)),
        ];
        let run = ridden(Machine { idle_kind, ..Machine::default() }, &segments);
        let speed = run.windows.mean.last().map_or(0.0, |row| Channel::VehicleSpeed.of(row)) / KM_H;
        assert!((speed - balance).abs() < 1.0, "{speed} km/h, {balance} expected");
        assert_eq!(run.warned(Warned::NoBraking), None);
    }
}
