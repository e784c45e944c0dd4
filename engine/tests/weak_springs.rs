//! Weak and broken springs: judged with them, and answered by a new set.

use crate::springs::{spring, wish};
use slipsoak_engine::document::finding::{Assumed, Sag, Weak};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::laws::margin::VARIATION;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Machine, Springs};
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::spring_choice::{self, InPlace, Reason, Verdict, judge};
use slipsoak_engine::units::RPM;
use slipsoak_engine::usage::Usage;

#[test]
fn a_broken_spring_of_the_machine_is_taken_out_with_its_set() {
    let judged = |machine: Machine| judge(&wish(machine, 6.0), &spring(2300.0)).expect("it runs");
    let mut broken = Machine::default();
    broken.springs.second = 0.0;
    assert_eq!(judged(broken), judged(Machine::default()));
}

/// Torque goes by the springs, so the shoes wear unequally before the set is renewed.
#[test]
fn a_new_set_of_springs_replaces_a_broken_one_and_leaves_the_linings_as_worn() {
    let mut machine = Machine::default();
    machine.springs.second = 0.0;
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    let mut ride = |task: Task, end: End| sim.perform(&Segment::Ride(task, end)).expect("it runs");
    ride(Task::Idle, End::After(5.0));
    ride(Task::Throttle(1.0), End::Reached { speed: 6.0, within: 60.0 });
    ride(Task::Brake(1.5), End::Still { within: 30.0 });
    let thinnest = sim.reading(Channel::LiningWear);
    assert!(thinnest > 0.0 && sim.reading(Channel::Engagement) == 0.0);
    sim.perform(&Segment::Service(Service::Spring(2000.0 * RPM))).expect("it is served");
    assert_eq!(sim.machine().springs.second, 1.0);
    assert_eq!(sim.reading(Channel::LiningWear).to_bits(), thinnest.to_bits());
    // Warm, the modulus takes some rpm off; the broken spring's shoe would touch at 0.
    let engages = sim.reading(Channel::Engagement) / RPM;
    assert!((1950.0..2001.0).contains(&engages), "{engages} rpm");
}

#[test]
fn carts_with_a_weak_spring_are_judged_with_it_where_no_spring_is_chosen() {
    let usage = Usage::named("rental", &Machine::default()).expect("a use");
    let against = |machine: Machine| {
        let asked = spring_choice::Wish::new(machine, usage.clone());
        spring_choice::in_place_of_own(&asked, false).expect("it runs").against
    };
    let mut weak = Machine::default();
    weak.springs.second = 0.6;
    assert!(against(Machine::default()).is_empty(), "the whole set fits");
    let found = against(weak);
    assert!(found.iter().any(|reason| matches!(reason, Reason::Drags { .. })), "{found:?}");
}

#[test]
fn springs_sag_where_a_choice_says_that_they_drag_at_the_highest_idle() {
    // 75 rpm of variation (common practice, no source) above 1700 rpm.
    let sag = |rpm: f64| Sag::of(&Machine::default(), Some(rpm * RPM), VARIATION);
    assert!(sag(1770.0).is_some() && sag(1780.0).is_none());
    let mut machine = Machine::default();
    machine.motor.idle = 1950.0 * RPM;
    let judged = judge(&wish(machine.clone(), 1.0), &spring(2000.0)).expect("it runs");
    let settled = judged.found.as_ref().expect("computed").settled;
    assert!(settled > machine.motor.idle && judged.reasons.iter().any(|r| matches!(r, Reason::Drags { .. })));
    assert!(Sag::of(&machine, Some(settled), VARIATION).is_some());
}

#[test]
fn a_new_set_is_not_of_the_old_lot_and_a_lot_is_counted_once() {
    let mut lot = Machine::default();
    lot.springs.lot = 1.15;
    let new = |machine: &Machine| judge(&wish(machine.clone(), 1.0), &spring(1850.0)).expect("it runs").found;
    assert_eq!(new(&lot), new(&Machine::default()));
    let choice = spring_choice::choice(&wish(lot.clone(), 1.0), vec![], None);
    assert!(choice.assumed.contains(&Assumed::NewSet));
    // A weak lot drags as springs that are as weak for another reason.
    lot.springs.lot = 0.75;
    let mut weak = Machine::default();
    weak.springs = Springs { first: 0.75, second: 0.75, third: 0.75, fourth: 0.75, ..weak.springs };
    let drag = |machine: Machine| {
        let against = spring_choice::in_place_of_own(&wish(machine, 1.0), false).expect("it runs").against;
        against.iter().find_map(|r| if let Reason::Drags { power, .. } = r { Some(*power) } else { None })
    };
    let [of_lot, of_springs] = [lot, weak].map(|machine| drag(machine).expect("it drags"));
    assert!(of_lot > 1.0 && (of_lot / of_springs - 1.0).abs() < 1e-9, "{of_lot} W, {of_springs} W");
}

#[test]
fn a_weak_spring_among_sound_ones_is_answered_by_a_new_set_of_the_same_where_that_fits() {
    let usage = Usage::named("moderate", &Machine::default()).expect("a use");
    let instead = |second: f64, rpm: f64| {
        let mut machine = Machine::default();
        (machine.springs.second, machine.clutch.engagement) = (second, rpm * RPM);
        spring_choice::in_place_of_own(&spring_choice::Wish::new(machine, usage.clone()), false).expect("it runs")
    };
    for second in [0.7, 0.0] {
        let InPlace { renewed, sought, .. } = instead(second, 2000.0);
        let renewed = renewed.expect("a new set is stronger");
        assert_eq!(renewed.weak, Weak { weakest: second, others: 1.0 });
        assert!(renewed.fits() && renewed.set.engagement == 2000.0 * RPM && sought.is_none());
    }
    // The whole new set would drag too.
    let InPlace { renewed, sought, .. } = instead(0.7, 1750.0);
    assert!(!renewed.expect("a new set is stronger").fits());
    let sought = sought.expect("another spring stays clear");
    assert!(sought.verdict == Verdict::Fits && sought.engagement > 1800.0 * RPM);
    // Sound springs that are too soft are no weaker than a new set.
    let InPlace { renewed, sought, .. } = instead(1.0, 1750.0);
    assert!(renewed.is_none() && sought.is_some());
}

#[test]
fn a_run_keeps_where_a_whole_new_set_of_its_weak_springs_engages_hot_and_relaxed() {
    let ridden = |springs: Springs| {
        let machine = Machine { springs, ..Machine::default() };
        let mut sim = Simulation::new(machine, Options::default()).expect("it is valid");
        sim.perform(&Segment::Ride(Task::Idle, End::After(60.0))).expect("it runs");
        sim.finish("machine", "idles").expect("it runs").engagement
    };
    let sound = Springs::clone(&Machine::default().springs);
    let whole = ridden(sound.clone());
    assert!(whole.renewed.is_none());
    // Force goes with the square of the speed.
    let weak = ridden(Springs { third: 0.81, ..sound });
    let [renewed, settled] = [weak.renewed, weak.settled].map(|speed| speed.expect("recorded"));
    assert!((settled / renewed - 0.9).abs() < 1e-9, "{settled} rad/s, {renewed} rad/s");
}

/// 1790 rpm, settled, is below the usual highest idle of 1775 rpm only if the idle varies by more.
#[test]
fn springs_sag_by_the_variation_of_the_idle_that_is_given() {
    let sag = |wander: f64| Sag::of(&Machine::default(), Some(1790.0 * RPM), wander * RPM);
    assert!(sag(75.0).is_none() && sag(0.0).is_none());
    let wide = sag(150.0).expect("it sags");
    assert!((wide.highest / RPM - 1850.0).abs() < 1e-9, "{wide:?}");
}
