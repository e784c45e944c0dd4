//! The choice of a spring beside equations worked by hand and simulations run through.

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::fleet::Outcome;
use slipsoak_engine::names::{IdleKind, LiningKind, Part};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::parts_file::read;
use slipsoak_engine::record::Warned;
use slipsoak_engine::simulate::{Failure, Options, Simulation, holds_idle};
use slipsoak_engine::spring_choice::{self, Choice, Heated, Judged, Reason, Spring, Verdict, judge};
use slipsoak_engine::sweep::Summary;
use slipsoak_engine::units::RPM;
use slipsoak_engine::usage::Usage;

pub fn wish(machine: Machine, minutes: f64) -> spring_choice::Wish {
    let usage = Usage::named("rental", &machine).expect("a use");
    spring_choice::Wish { simulated: minutes * 60.0, ..spring_choice::Wish::new(machine, usage) }
}

pub fn shipped_machine(name: &str) -> Machine {
    let path = format!("{}/../scripts/parts/{name}.json", env!("CARGO_MANIFEST_DIR"));
    read(name, &std::fs::read_to_string(path).expect("shipped")).expect("it reads")
}

pub fn spring(rpm: f64) -> Spring {
    Spring { name: format!("{rpm} rpm"), engagement: rpm * RPM, rate: None }
}

fn named<'a>(choice: &'a Choice, name: &str) -> &'a Judged {
    choice.springs.iter().find(|s| s.name == name).expect(name)
}

/// At the usual steps the residual of this spring's chain ledger was 3.4e-6, and the whole stock had no answer.
#[test]
fn a_spring_whose_ledger_does_not_close_is_simulated_again_with_smaller_steps() {
    let machine = shipped_machine("weekend-cart");
    let usage = Usage::named("hard", &machine).expect("a use");
    let judged = judge(&spring_choice::Wish::new(machine, usage), &spring(3000.0)).expect("it runs");
    assert_eq!(judged.verdict, Verdict::Unfit);
}

/// The rental orchard cart: 45 rpm above the highest idle, and the trail cart's 4 rpm.
#[test]
fn a_spring_within_its_tolerances_of_idle_is_too_close() {
    let machine = shipped_machine("orchard-cart");
    let usage = Usage::named("rental", &machine).expect("a use");
    let near = judge(&spring_choice::Wish::new(machine, usage), &spring(1900.0)).expect("it runs");
    let found = near.found.as_ref().expect("computed");
    assert!(found.margin > 20.0 * RPM && found.margin < found.floor, "{found:?}");
    assert_eq!(near.verdict, Verdict::Unfit);
    let share =
        near.reasons.iter().find_map(|r| if let Reason::TooNear { share, .. } = r { Some(*share) } else { None });
    assert!((0.05..0.5).contains(&share.expect("too near")), "{share:?}");
}

/// Above 200 °C the law is held, so that hotter springs seemed to keep ever larger margins: 107 to 309 rpm at 216 to 254 °C.
#[test]
fn springs_hotter_than_their_relaxation_is_known_to_do_not_fit_whatever_margin_the_law_leaves() {
    let mut machine = shipped_machine("trail-cart");
    machine.reline_with(LiningKind::Sintered);
    let usage = Usage::named("rental", &machine).expect("a use");
    let asked = spring_choice::Wish::new(machine.clone(), usage);
    let hot = judge(&asked, &spring(2900.0)).expect("it runs");
    let found = hot.found.as_ref().expect("computed");
    assert!(found.peaks.shoes > 473.15 && found.margin > found.floor, "{found:?}");
    assert_eq!((hot.verdict, hot.margin(), hot.is_near()), (Verdict::Unfit, None, false));
    let limits: Vec<f64> = hot.reasons.iter().filter_map(unknown).collect();
    assert_eq!(limits, [473.15]);
    // A run of it, and its row in a sweep, say so too.
    machine.clutch.engagement = 2900.0 * RPM;
    let mut sim = Simulation::new(machine, Options::default()).expect("it is sound");
    asked.usage.ride(&mut sim, asked.simulated).expect("it runs");
    let run = sim.finish("2900", "rental").expect("it runs");
    assert!(run.own_fault().is_none() && run.too_near().is_none(), "{:?}", run.fault());
    assert_eq!([run.fault(), Summary::of(&run).fault()], [Some(Fault::Springs); 2]);
    // A clutch of a fleet says with it that whether it drags is unknown.
    let outcome = Outcome::of_run(0, &run, 3600.0);
    assert_eq!((outcome.drags, outcome.springs.map(|springs| springs.1)), (false, Some(473.15)));
    let cool = judge(&asked, &spring(2200.0)).expect("it runs");
    assert!(cool.reasons.iter().all(|reason| unknown(reason).is_none()) && cool.margin().is_some());
}

/// The temperature up to which relaxation is known, if it is exceeded, K.
fn unknown(reason: &Reason) -> Option<f64> {
    if let Reason::SpringsUnknown { limit, .. } = reason { Some(*limit) } else { None }
}

/// Whether reasons say what a run warns of.
fn say(reasons: &[Reason], kind: Warned) -> bool {
    let hot = |wanted: Heated| {
        let of = |r: &Reason| matches!(r, Reason::Hot { part, .. } | Reason::TooHot { part, .. } if *part == wanted);
        reasons.iter().any(of)
    };
    let any = |wanted: fn(&Reason) -> bool| reasons.iter().any(wanted);
    match kind {
        Warned::Drag | Warned::WeakShoe | Warned::Creep => any(Reason::is_near),
        Warned::Lining | Warned::Glaze => hot(Heated::Lining),
        Warned::Bond => any(|r| matches!(r, Reason::Beyond { .. })),
        Warned::Beyond | Warned::TooHot => any(|r| matches!(r, Reason::NoLife { .. })),
        Warned::Bushing => hot(Heated::Bushing),
        Warned::Washer | Warned::Chars => hot(Heated::Washer),
        Warned::DryWasher => hot(Heated::DryWasher) || hot(Heated::Washer),
        Warned::Springs => hot(Heated::Springs),
        Warned::Dry => any(|r| matches!(r, Reason::OilGone { .. })),
        Warned::WornThrough | Warned::BushingThrough | Warned::WasherThrough => {
            any(|r| matches!(r, Reason::WearsOut { .. }))
        }
        Warned::HeldSpeed => any(|r| matches!(r, Reason::HeldSlipping { .. })),
        _ => reasons.iter().any(|r| matches!(r, Reason::InUse(warning) if warning.kind == kind)),
    }
}

#[test]
fn whatever_a_run_of_the_use_warns_of_is_a_reason_of_its_spring() {
    let mut pulling = Machine::default();
    pulling.vehicle.mass *= 3.0;
    pulling.vehicle.ratio *= 2.0;
    let cases = [
        (shipped_machine("weekend-cart"), "hard", 2600.0),
        (shipped_machine("trail-cart"), "hard", 2100.0),
        (shipped_machine("orchard-cart"), "rental", 2000.0),
        (pulling, "moderate", 2100.0),
    ];
    let mut kinds = vec![];
    for (mut machine, named, rpm) in cases {
        let usage = Usage::named(named, &machine).expect("a use");
        let asked = spring_choice::Wish::new(machine.clone(), usage.clone());
        let judged = judge(&asked, &spring(rpm)).expect("it runs");
        machine.clutch.engagement = rpm * RPM;
        machine.springs.scatter = machine.tolerances().spring;
        let mut sim = Simulation::new(machine, Options::default()).expect("it is sound");
        usage.ride(&mut sim, asked.simulated).expect("it runs");
        let run = sim.finish("a cart", named).expect("it runs");
        for warning in &run.warnings {
            assert!(say(&judged.reasons, warning.kind), "{warning:?} of {named} is not in {:?}", judged.reasons);
            kinds.push(warning.kind);
        }
    }
    let met = |kind| kinds.contains(&kind);
    assert!(met(Warned::Seizes) && met(Warned::BushingLoad) && met(Warned::Stall), "{kinds:?}");
}

#[test]
fn the_best_spring_without_idle_variation_is_closer_to_idle() {
    // Long enough to be warm: the hot, relaxed spring drags.
    let asked = |wander: f64| spring_choice::Wish { wander: wander * RPM, ..wish(Machine::default(), 40.0) };
    let judged = |wish: &spring_choice::Wish| {
        let springs = [1700.0, 1800.0, 1900.0, 2000.0].map(|rpm| judge(wish, &spring(rpm)).expect("it runs"));
        spring_choice::choice(wish, springs.to_vec(), None)
    };
    let wandering = judged(&asked(75.0));
    let (best, steady) = (wandering.best.as_ref().expect("one"), wandering.best_steady.as_ref().expect("one"));
    assert!(named(&wandering, steady).engagement < named(&wandering, best).engagement, "{best} {steady}");
    let still = judged(&asked(0.0));
    // Tolerances need a margin even with a constant idle.
    assert_eq!(still.best_steady.as_ref(), Some(steady));
}

/// The spring's force at 20 K over room temperature and after one decade of relaxation, by hand: ω_s = ω_e √(F_s/F_s0).
#[test]
fn the_settled_engagement_is_that_of_the_weakened_spring() {
    let mut machine = Machine::default();
    machine.clutch.relaxation = 0.0;
    machine.clutch.gap = 0.0;
    let found = judge(&wish(machine, 6.0), &spring(2000.0)).expect("it runs").found.expect("it is built");
    let hot = found.peaks.shoes - 293.15;
    let expected = 2000.0 * (1.0 - 0.28e-3 * hot).sqrt();
    assert!((found.settled / RPM - expected).abs() < 1e-6, "{} {expected}", found.settled / RPM);
}

#[test]
fn a_curve_sketched_from_the_rating_of_the_built_in_motor_is_that_of_the_motor() {
    let known = Machine::default();
    let speed = known.motor.full_load;
    let torque = slipsoak_engine::laws::motor::torque_full(&known.torque_curve, speed);
    let mut sketched = known.clone();
    spring_choice::sketch(&mut sketched, torque * speed, speed);
    for ((w, t), (w0, t0)) in sketched.torque_curve.iter().zip(&known.torque_curve) {
        assert!((w / w0 - 1.0).abs() < 1e-12 && (t / t0 - 1.0).abs() < 1e-12);
    }
}

/// A weak spring drags several times more on a governor than on a throttle stop; where the kind is not stated the worse counts.
#[test]
fn drag_is_judged_by_the_worse_kind_of_idle_where_the_machine_does_not_state_it() {
    let drag = |idle_kind: IdleKind| {
        let machine = Machine { idle_kind, ..Machine::default() };
        let judged = judge(&wish(machine, 2.0), &spring(1600.0)).expect("it runs");
        assert_eq!(judged.verdict, Verdict::Unfit, "{idle_kind}");
        let said =
            judged.reasons.iter().any(|r| matches!(r, Reason::Drags { idle_kind: said, .. } if *said == idle_kind));
        assert!(said, "{:?}", judged.reasons);
        judged.found.and_then(|found| found.drag).expect("it drags")
    };
    let [stop, governed, unstated] = [IdleKind::ThrottleStop, IdleKind::Governed, IdleKind::Unstated].map(drag);
    assert!(governed.power > 2.0 * stop.power, "{governed:?} {stop:?}");
    // Its own ride is that on a stop, cooler than a governed one, and so its springs relax a little less.
    assert!((unstated.power / governed.power - 1.0).abs() < 0.05, "{unstated:?} {governed:?}");
    assert!((unstated.creep / governed.creep - 1.0).abs() < 0.2, "{unstated:?} {governed:?}");
}

/// By hand at 1700 rpm and an idle of 1500 rpm, rpm: a = b = 25.5, t = 15. Of two shoes E = 0.564 and σ = 0.826, together
/// 14.4 + 1.645·36.3 = 74.1; of six 1.267 and 0.645, 32.3 + 1.645·33.9 = 88.1; 75 for the idle on top.
#[test]
fn a_row_of_a_sweep_needs_the_margin_of_its_own_number_of_shoes() {
    for (shoes, wanted) in [(2.0, 149.1), (6.0, 163.1)] {
        let mut machine = Machine::default();
        machine.motor.idle = 1500.0 * RPM;
        (machine.clutch.shoes, machine.clutch.engagement) = (shoes, 1700.0 * RPM);
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        sim.perform(&Segment::Ride(Task::Idle, End::After(1.0))).expect("it runs");
        let summary = Summary::of(&sim.finish("machine", "idle").expect("the ledgers close"));
        let needed = summary.needed.expect("it engages") / RPM;
        assert!((needed - wanted).abs() < 1.0, "{shoes} shoes: {needed}");
    }
}

/// A heavy hauler, too hot for its clutch: at 2000 rpm its bushing grabs within 40 min, at 2200 rpm it also seizes for good.
#[test]
fn a_bushing_that_grabs_is_said_once_and_before_it_seizes() {
    let text = r#"{ "lining_kind": "sintered", "oil": "SAE 40", "idle_kind": "governed",
        "motor": { "idle": "1600 rpm", "torque": [["1800 rpm", "24 N*m"], ["2500 rpm", "26 N*m"],
            ["3000 rpm", "25 N*m"], ["3600 rpm", "22 N*m"]] },
        "vehicle": { "mass": "420 kg", "wheel_radius": "220 mm", "ratio": 12 },
        "clutch": { "engagement": "1900 rpm", "shoes": 6, "shoe_mass": "120 g" },
        "surroundings": { "ambient": "-10 °C", "pressure": "80 kPa" } }"#;
    let machine = read("hauler", text).expect("it reads");
    let usage = Usage::named("hard", &machine).expect("a use");
    let wish = spring_choice::Wish::new(machine, usage);
    let stages = |rpm: f64| {
        let judged = judge(&wish, &spring(rpm)).expect("it runs");
        let stage = |reason: &Reason| match reason {
            Reason::InUse(warning) if warning.kind == Warned::Grabs => Some("grabs in use"),
            Reason::InUse(warning) if warning.kind == Warned::Seizes => Some("seizes in use"),
            Reason::WearsOut { part: Part::Seized, .. } => Some("grabs"),
            _ => None,
        };
        judged.reasons.iter().filter_map(stage).collect::<Vec<_>>()
    };
    assert_eq!(stages(2000.0), ["grabs in use"]);
    assert_eq!(stages(2200.0), ["grabs", "seizes in use"]);
}

/// The cold oil in a bushing of the usual size holds a motor of 26 cm³ on a throttle stop; a bushing of its size does not, nor does
/// a governor let it.
#[test]
fn a_motor_that_stalls_before_a_shoe_touches_is_named_and_no_spring_is_blamed() {
    let tiny = |bushing: &str, idle_kind: IdleKind| {
        let text = format!(
            r#"{{ "name": "tiny", "form": "trailing", "oil": "SAE 30", {bushing}
            "motor": {{ "idle": "2800 rpm", "no_load": "11000 rpm", "full_load": "10000 rpm", "stall": "1500 rpm",
                "inertia": "0.0003 kg*m^2", "drag": "0.25 N*m", "drag_slope": "0.0001 N*m*s",
                "torque": [["2000 rpm", "0.6 N*m"], ["4000 rpm", "1.1 N*m"], ["6000 rpm", "1.3 N*m"], ["10000 rpm", "0.9 N*m"]] }},
            "vehicle": {{ "mass": "45 kg", "wheel_radius": "100 mm", "ratio": 16 }},
            "clutch": {{ "shoes": 2, "shoe_mass": "35 g", "shoe_radius": "28 mm", "engagement": "4000 rpm", "spring_rate": "20 N/mm" }},
            "drum": {{ "radius": "39 mm", "wall": "2.5 mm", "band": "18 mm" }}, "lining": {{ "width": "15 mm" }} }}"#
        );
        let mut machine = read("tiny", &text).expect("it reads");
        machine.idle_kind = idle_kind;
        holds_idle(&machine)
    };
    let small = r#""bushing": { "bore": "8 mm", "outside": "12 mm", "length": "12 mm" },"#;
    let held = tiny("", IdleKind::ThrottleStop);
    assert!(matches!(held, Err(Failure::NoIdle { after }) if after < 1.0), "{held:?}");
    assert_eq!([tiny(small, IdleKind::ThrottleStop), tiny("", IdleKind::Governed)], [Ok(()), Ok(())]);
    // A clutch that drags its motor down to a stall is to blame itself.
    let mut dragging = Machine { idle_kind: IdleKind::ThrottleStop, ..Machine::default() };
    dragging.clutch.engagement = 1200.0 * RPM;
    assert_eq!(holds_idle(&dragging), Ok(()));
}
