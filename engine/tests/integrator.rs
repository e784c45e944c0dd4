//! The stepper compared with closed forms.

use crate::systems::belt::Belt;
use crate::systems::inertias::{Carried, Inertias};
use crate::systems::smooth::{Ageing, Driven, Tanks};
use crate::systems::throw::Throw;
use crate::systems::two_events::TwoEvents;
use slipsoak_engine::numerics::{Ended, Stepper};

pub fn near(what: &str, got: f64, want: f64, allowed: f64) {
    assert!((got - want).abs() <= allowed, "{what}: {got} is not {want} to {allowed}");
}

/// Errors at the end and in the middle of steps of one length.
fn driven_errors(length: f64) -> [f64; 2] {
    let mut system = Driven { longest: length, ..Driven::default() };
    // So loose that only the longest step limits it.
    let mut stepper = Stepper::new(&system, 1e12);
    stepper.longest = length;
    let (mut t, mut y) = (0.0, Driven::exact(0.0));
    stepper.advance(&mut system, &mut t, 4.0, &mut y, &mut [], &mut ()).expect("a smooth system");
    let exact = Driven::exact(4.0);
    [(y[0] - exact[0]).abs().max((y[1] - exact[1]).abs()), system.middle_error]
}

#[test]
fn the_result_is_of_order_four_and_the_dense_middle_of_order_three() {
    // h |∂f/∂y| runs from 1.4 to 0.2, where the classical order appears; a tolerance of a half in the order covers the
    // next term of the series.
    let errors = [0.008, 0.004, 0.002, 0.001].map(driven_errors);
    for pair in errors.windows(2) {
        let order = |k: usize| (pair[0][k] / pair[1][k]).log2();
        assert!((3.5..5.5).contains(&order(0)), "order {} of the result: {errors:?}", order(0));
        assert!(order(1) > 2.9, "order {} of the middle: {errors:?}", order(1));
    }
}

#[test]
fn the_contents_and_losses_of_two_tanks_are_conserved_to_rounding() {
    let mut stepper = Stepper::new(&Tanks, 1e-4);
    let (mut t, mut y) = (0.0, [2.0, 0.5, 0.0, 0.0]);
    stepper.advance(&mut Tanks, &mut t, 3.0, &mut y, &mut [], &mut ()).expect("a smooth system");
    assert!(y[2] > 1.5 && y[3] > 0.1, "the tanks leak: {y:?}");
    // About 50 steps of six stages, each rounding at 4e-16 of 2.5.
    near("sum", y.iter().sum(), 2.5, 1e-13);
}

#[test]
fn wear_and_a_state_that_depend_on_ageing_are_of_order_two_and_not_of_order_one() {
    let error = |length: f64| {
        let mut stepper = Stepper::new(&Ageing, 1e12);
        stepper.longest = length;
        let (mut t, mut y, mut slow) = (0.0, [0.0], [0.0; 2]);
        stepper.advance(&mut Ageing, &mut t, 2.0, &mut y, &mut slow, &mut ()).expect("a smooth system");
        near("a", slow[0], 2.0_f64.sin(), 1e-3 * length);
        [slow[1], y[0]].map(|found| (found - (1.0 - 2.0_f64.cos())).abs())
    };
    let errors = [0.1, 0.05, 0.025].map(error);
    for pair in errors.windows(2) {
        for k in [0, 1] {
            assert!((pair[0][k] / pair[1][k]).log2() > 1.8, "{errors:?}");
        }
    }
    assert!(errors[2].iter().all(|error| *error < 2e-4), "{errors:?}");
}

/// Exact: ln 2/rate for the decay to a half. Passed by 1e-11 of a step at most, an event is not seen a whole step too late.
#[test]
fn of_two_events_early_in_a_step_neither_is_passed_by_the_step_to_the_other() {
    let fell = std::f64::consts::LN_2 / 50.0;
    for k in 0..400 {
        let ran_out = fell * (0.5 + 0.0025 * f64::from(k));
        let mut system = TwoEvents { rate: 50.0, level: 0.5, seen: vec![], other: 0.0 };
        let mut stepper = Stepper::new(&system, 1.0);
        let (mut t, mut y) = (0.0, [1.0, ran_out]);
        stepper.advance(&mut system, &mut t, 0.5, &mut y, &mut [], &mut ()).expect("two events");
        assert_eq!(system.seen.len(), 2, "{:?}", system.seen);
        assert!(system.other > -1e-9, "{} of {ran_out} s: {:?}", system.other, system.seen);
        for (guard, at) in system.seen {
            near(if guard == 0 { "fell" } else { "ran out" }, at, [fell, ran_out][guard], 2e-3);
        }
    }
}

/// Exact: back after 2 v/g. A vehicle that rolls back a little before its clutch pulls is thrown in the same way.
#[test]
fn a_value_that_rises_from_zero_and_is_back_within_the_first_step_is_seen_when_it_is_back() {
    for k in 1..200 {
        let speed = 0.005 * f64::from(k);
        let mut system = Throw { fall: 10.0, back: None };
        let mut stepper = Stepper::new(&system, 1.0);
        let (mut t, mut y) = (0.0, [0.0, speed]);
        stepper.advance(&mut system, &mut t, 5.0, &mut y, &mut [], &mut ()).expect("a parabola");
        let (at, height) = system.back.expect("it falls");
        near(&format!("back from {speed} m/s, s"), at, 0.2 * speed, 1e-3 * speed);
        near("height, m", height, 0.0, 1e-3 * speed * speed);
    }
}

fn slip_to_lock(mut system: Inertias, driver: f64, end: f64) -> (Inertias, [f64; 3]) {
    let mut stepper = Stepper::new(&system, 1e-8);
    let (mut t, mut y) = (0.0, [driver, 0.0, 0.0]);
    let ended = stepper.advance(&mut system, &mut t, end, &mut y, &mut [], &mut ()).expect("two inertias");
    assert_eq!(ended, Ended::InTime);
    (system, y)
}

#[test]
fn a_centrifugal_clutch_balances_locks_and_stays_locked_as_its_closed_form_says() {
    // T = K (ω² − ω₀²): the driver's speed is a tanh in time; all figures follow from it by hand.
    let start = || Inertias {
        inertia: [0.021, 0.35],
        carried: Carried::Centrifugal(2e-4, 40.0 * std::f64::consts::PI),
        drive: 10.0,
        load: 1.0,
        locked: None,
        released: false,
    };
    let (slipping, y) = slip_to_lock(start(), 50.0 * std::f64::consts::PI, 10.0);
    assert!(slipping.locked.is_none());
    // After 10 s the tanh is within 1e-20 of its limit; the last digit given is 1e-8.
    near("balance, rad/s", y[0], 256.49827883, 1e-8);
    let (locked, y) = slip_to_lock(start(), 50.0 * std::f64::consts::PI, 12.0);
    // Half a unit of the last digit given, and the same again for steps at 1e-8 rad/s.
    near("lock, s", locked.locked.expect("locks"), 10.2069099, 1e-7);
    near("heat, J", y[2], 12_729.190_52, 1e-5);
    near("torque, N·m", locked.locked_torque(), 9.490566, 5e-7);
    assert!(!locked.released, "stays locked");
}

#[test]
fn a_centrifugal_clutch_that_slows_while_locked_unlocks_at_the_speed_of_its_closed_form() {
    // K (ω² − ω₀²) = T_lock. Both sides decelerate by 1 rad/s² so that the joint continues to transmit the same
    // 9.490566 N·m: drive T_lock − J1·1, load T_lock + J2·1.
    let (inertia, k, free, slowing) = ([0.021, 0.35], 2e-4, 40.0 * std::f64::consts::PI, 1.0);
    let carried: f64 = (0.35 * 10.0 + 0.021 * 1.0) / (0.021 + 0.35);
    let mut system = Inertias {
        inertia,
        carried: Carried::Centrifugal(k, free),
        drive: carried - inertia[0] * slowing,
        load: carried + inertia[1] * slowing,
        locked: Some(0.0),
        released: false,
    };
    near("torque while slowing, N·m", system.locked_torque(), carried, 1e-12);
    let mut stepper = Stepper::new(&system, 1e-8);
    // Speed at which this clutch locks when launched.
    let start = 256.4896;
    let (mut t, mut y) = (0.0, [start, start, 0.0]);
    let ended = stepper.advance(&mut system, &mut t, 100.0, &mut y, &mut [], &mut ()).expect("two inertias");
    assert_eq!(ended, Ended::AtEvent(0));
    assert!(system.released);
    let unlocks = (free * free + carried / k).sqrt();
    // Located to 1e-11 of a step of some seconds.
    near("speed, rad/s", y[0], unlocks, 1e-8);
    near("time, s", t, (start - unlocks) / slowing, 1e-8);
    // Half a unit of the last digit given.
    near("speed, rpm", y[0] * 30.0 / std::f64::consts::PI, 2401.50, 0.005);
}

#[test]
fn constant_torque_engagements_last_end_and_heat_as_the_book_says() {
    // Khurmi & Gupta, Theory of Machines, example 10.27 and two variants of it: 1250 rpm, 32 and 42.12 kg·m², 37.905 N·m.
    let driver = 1250.0 * std::f64::consts::TAU / 60.0;
    for (drive, seconds, speed, heat) in
        [(0.0, 62.8, 56.51, 155_793.8), (-60.0, 33.06, 29.7516, 82_017.7), (60.0, 624.94, 562.400, 1_550_396.0)]
    {
        let system = Inertias {
            inertia: [32.0, 42.12],
            carried: Carried::Constant(37.905),
            drive,
            load: 0.0,
            locked: None,
            released: false,
        };
        // Closed form: both speeds are straight lines, the heat a parabola.
        let exact = driver / ((37.905 - drive) / 32.0 + 37.905 / 42.12);
        let (system, y) = slip_to_lock(system, driver, exact + 1e-3);
        let locked = system.locked.expect("locks");
        // Located to 1e-11 of a step.
        near("lock, s", locked, exact, 1e-9 * exact);
        near("speed, rad/s", y[1] - drive / 74.12 * 1e-3, 37.905 / 42.12 * exact, 1e-9 * y[1]);
        near("heat, J", y[2], 0.5 * 37.905 * driver * exact, 1e-9 * heat);
        // A unit in the last digit printed.
        near("printed lock, s", locked, seconds, if drive == 0.0 { 0.05 } else { 0.01 });
        near("printed speed, rad/s", y[1] - drive / 74.12 * 1e-3, speed, if drive == 0.0 { 0.01 } else { 0.001 });
        near("printed heat, J", y[2], heat, if drive > 0.0 { 1.0 } else { 0.1 });
    }
}

#[test]
fn a_mass_on_a_belt_sticks_and_slips_with_the_period_of_its_closed_form() {
    // T = 2D/v + (π + 2 atan(v/ωD))/ω with D = (Fs − Fk)/k, from a straight line and a sine joined at equal speeds.
    for (mass, stiffness, speed, stuck, sliding, period) in
        [(1.0, 1.0, 0.2, 1.0, 0.5, 8.902_605_407_81), (1.0, 100.0, 0.05, 3.924, 2.943, 0.800_832_217_12)]
    {
        let mut system = Belt { mass, stiffness, speed, stuck, sliding, slips: false, breaks: vec![] };
        let mut stepper = Stepper::new(&system, 1e-12);
        let (mut t, mut y) = (0.0, [0.0, speed]);
        let ended = stepper.advance(&mut system, &mut t, 100.0, &mut y, &mut [], &mut ()).expect("one mass");
        assert_eq!(ended, Ended::AtEvent(0));
        for pair in system.breaks.windows(2) {
            // About a thousand steps of 1e-12 relative to a speed of 0.05.
            near("period, s", pair[1] - pair[0], period, 1e-8 * period);
        }
    }
}
