//! Starts on slopes, and the launch of a sheet, beside simulations run through and figures by hand.

use crate::springs::{shipped_machine, spring, wish};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::laws::margin::margin_floor;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Machine, settings};
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::spring_choice::{self, Judged, Reason, Weight, judge};
use slipsoak_engine::units::RPM;
use slipsoak_engine::usage::Usage;

#[test]
fn on_a_slope_the_machine_is_said_to_roll_back() {
    let asked = spring_choice::Wish { grade: 0.1, ..wish(Machine::default(), 6.0) };
    let judged = judge(&asked, &spring(2000.0)).expect("it runs");
    let launch = judged.found.as_ref().expect("computed").launch;
    assert!((0.001..1.0).contains(&launch.back) && (0.01..2.0).contains(&launch.back_speed), "{launch:?}");
    let rolls = |judged: &Judged| judged.of_weight(Weight::Warning).any(|r| matches!(r, Reason::RollsBack { .. }));
    let level = judge(&wish(Machine::default(), 6.0), &spring(2000.0)).expect("it runs");
    assert!(rolls(&judged) && !rolls(&level));
}

#[test]
fn the_steepest_slope_is_where_a_start_no_longer_locks() {
    let machine = Machine::default();
    let found = judge(&wish(machine.clone(), 1.0), &spring(2000.0)).expect("it runs").found.expect("it is built");
    let steepest = found.steepest.expect("it locks on some");
    let locks = |grade: f64| {
        let mut machine = machine.clone();
        machine.surroundings.grade = grade;
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        for (task, time) in [(Task::Idle, 5.0), (Task::Throttle(1.0), 30.0)] {
            sim.perform(&Segment::Ride(task, End::After(time))).expect("it runs");
        }
        let (motor, drum) = (sim.reading(Channel::MotorSpeed), sim.reading(Channel::DrumSpeed));
        (motor - drum).abs() < 1e-6
    };
    assert!(locks(0.98 * steepest) && !locks(1.04 * steepest), "{steepest}");
    // By hand: at 2621 rpm 11.2 N·m pull 387 N; 190 kg, rolling 0.03, air 19 N at 27.2 km/h give sin θ = 0.168.
    let bound = spring_choice::steepest(&machine).expect("a bound");
    assert!((bound - 0.170).abs() < 0.002, "{bound}");
    assert!(steepest < bound && steepest > 0.6 * bound, "{steepest} {bound}");
}

#[test]
fn a_machine_that_is_used_on_a_slope_has_to_start_there() {
    let mut climbing = Machine::default();
    (climbing.surroundings.grade, climbing.vehicle.ratio) = (0.12, 4.0);
    let asked = wish(climbing, 1.0);
    let judged = judge(&asked, &spring(2000.0)).expect("it runs");
    let launch = judged.found.as_ref().expect("computed").launch;
    assert!(launch.back > 0.0, "a start on a slope rolls back: {launch:?}");
    assert!(judged.reasons.iter().any(|r| matches!(r, Reason::TooSteep { grade, .. } if *grade == 0.12)), "{judged:?}");
    let choice = spring_choice::choice(&asked, vec![judged], None);
    assert_eq!((choice.grade, choice.ground), (0.12, [0.12; 2]));
    // A use with slopes of its own counts as those.
    let mut usage = Usage::named("rental", &Machine::default()).expect("a use");
    let slope = |to| Segment::Service(Service::Adjust(&settings::surroundings::grade, to));
    let up: Vec<Segment> = std::iter::once(slope(0.06)).chain(usage.block.clone()).collect();
    usage.block = up.into_iter().chain([slope(-0.06)]).chain(usage.block).collect();
    let terraces = spring_choice::Wish::new(Machine::default(), usage);
    let choice = spring_choice::choice(&terraces, vec![], None);
    assert_eq!((choice.grade, choice.ground), (0.06, [-0.06, 0.06]));
}

/// A launch that ends at its speed gets there, whatever the recorded peak misses by the allowed errors.
#[test]
fn a_sheets_launch_that_ends_at_its_speed_succeeds() {
    let text = r#"{ "name": "garden cart", "motor": { "idle": "1700 rpm" },
        "vehicle": { "mass": "150 kg", "wheel_radius": "140 mm", "ratio": 6.2 },
        "clutch": { "engagement": "2000 rpm", "shoes": 4, "shoe_mass": "110 g" } }"#;
    let machine = slipsoak_engine::parts_file::read("garden", text).expect("a machine");
    let launch = slipsoak_engine::sheet::sheet(&machine).expect("a sheet").launch;
    assert!(launch.succeeds() && launch.time < 10.0, "{launch:?}");
    let mut heavy = machine;
    heavy.surroundings.grade = 0.4;
    let launch = slipsoak_engine::sheet::sheet(&heavy).expect("a sheet").launch;
    assert!(!launch.succeeds() && launch.reached < launch.speed, "{launch:?}");
}

/// The orchard cart on 11 %: a start after a moderate use is borne at 2000 rpm and overheats the lining at 2300 rpm; on 8 % both bear
/// it. Warm from the use a start is the same as one ridden at its end.
#[test]
fn a_start_on_a_slope_is_judged_from_where_the_use_leaves_the_clutch_hottest() {
    let machine = shipped_machine("orchard-cart");
    let usage = Usage::named("moderate", &machine).expect("a use");
    let asked = |grade: f64| spring_choice::Wish {
        grade,
        simulated: 1200.0,
        ..spring_choice::Wish::new(machine.clone(), usage.clone())
    };
    let [borne, hot, gentle] = [(0.11, 2000.0), (0.11, 2300.0), (0.08, 2300.0)]
        .map(|(g, rpm)| judge(&asked(g), &spring(rpm)).expect("it runs"));
    let against = |judged: &Judged| {
        judged.of_weight(Weight::Against).any(|r| matches!(r, Reason::StartTooHot { .. } | Reason::StartBurns { .. }))
    };
    assert_eq!([&borne, &hot, &gentle].map(against), [false, true, false], "{:?}", hot.reasons);
    let found = |judged: &Judged| judged.found.clone().expect("computed");
    let (start, bears) = (found(&hot).start.expect("a start"), found(&hot).bears.expect("it bears some"));
    assert!(start.lining > machine.limits.lining_most && (0.08..0.11).contains(&bears), "{start:?} {bears}");
    assert!(found(&borne).bears.is_some_and(|bears| bears >= 0.11) && found(&hot).each_start.is_none());
    let each = found(&borne).each_start.expect("on level ground the use starts elsewhere");
    let life = |judged: &Judged| found(judged).life.expect("a life");
    assert!(each.life.is_some_and(|each| each < 0.1 * life(&borne)) && each.lining > start.lining, "{each:?}");
    // Ridden through in one piece.
    let mut whole = machine.clone();
    whole.clutch.engagement = 2300.0 * RPM;
    whole.springs.scatter = whole.tolerances().spring;
    let mut sim = Simulation::new(whole, Options::default()).expect("it is sound");
    usage.ride(&mut sim, 1200.0).expect("it runs");
    sim.perform(&Segment::Service(Service::Adjust(&settings::surroundings::grade, 0.11))).expect("it is set");
    sim.perform(&Segment::Ride(Task::Idle, End::After(5.0))).expect("it runs");
    sim.perform(&Segment::Ride(Task::Throttle(1.0), End::After(60.0))).expect("it runs");
    let run = sim.finish("2300", "moderate").expect("it runs");
    let peak = Channel::LiningSurface.of(&run.overall.most);
    assert!((peak - start.lining).abs() < 2.0, "{peak} {start:?}");
    // On level ground there is no start to judge, and the slope that it bears is given all the same.
    let level = found(&judge(&asked(0.0), &spring(2300.0)).expect("it runs"));
    assert!(level.start.is_none() && level.each_start.is_none());
    assert!(level.bears.is_some_and(|level| (level / bears - 1.0).abs() < 0.06), "{:?} {bears}", level.bears);
}

#[test]
fn a_sheet_tells_of_a_start_on_its_slope_from_cold_and_warm() {
    let on = |grade: f64| {
        let mut machine = shipped_machine("orchard-cart");
        machine.surroundings.grade = grade;
        slipsoak_engine::sheet::sheet(&machine).expect("a sheet")
    };
    let (level, steep) = (on(0.0), on(0.12));
    let warm = steep.warm.expect("a start");
    assert!(level.warm.is_none() && level.launch.burns.is_none());
    assert!(warm.lining > steep.launch.lining && warm.lining > steep.launch.limit.expect("a limit"), "{warm:?}");
}

/// What the first shoe of a scattered set touches earlier is in the speed at which the sheet says that it engages, and in the margin of
/// its tolerances: it counts once.
#[test]
fn a_sheet_counts_the_scatter_of_a_set_once() {
    for scatter in [0.02, 0.1] {
        let mut machine = Machine::default();
        (machine.springs.scatter, machine.clutch.engagement) = (scatter, 2100.0 * RPM);
        let sheet = slipsoak_engine::sheet::sheet(&machine).expect("a sheet");
        assert!(sheet.engagement < 2100.0 * RPM);
        let floor = margin_floor(2100.0 * RPM, 4, machine.tolerances(), 1.644_854);
        let spare = 2100.0 * RPM - machine.motor.idle - 75.0 * RPM - floor;
        assert!((sheet.engagement - sheet.idle - sheet.needed - spare).abs() < 0.1 * RPM, "{sheet:?}, {spare}");
    }
}
