//! Tests: each guard's value and each change of mode in states worked by hand.

use super::closed_forms::{flows, made, near};
use super::*;
use crate::integrate::Flow;
use crate::names::Happening;
use std::collections::BTreeSet;

/// A machine on the road: its clutch, motion, motor and the speeds of motor and drum.
fn on_road(
    grade: f64,
    (contact, motion, motor): (Contact, Motion, MotorState),
    speeds: (f64, f64),
) -> (Assembly, Vec<f64>, Vec<f64>) {
    let (mut a, mut y, slow) = made(|m| (m.surroundings.grade, m.vehicle.chain_efficiency) = (grade, 0.9));
    (a.contact, a.motion, a.motor, a.brake_ask) = (contact, motion, motor, BrakeAsk::Off);
    (y[state::MOTOR], y[state::DRUM]) = speeds;
    (a, y, slow)
}

const FREE: (Contact, Motion, MotorState) = (Contact::Free, Motion::Moving(1.0), MotorState::Stopped);
const AHEAD: Contact = Contact::Slip(1.0);
const BEHIND: Contact = Contact::Slip(-1.0);

#[test]
fn every_combination_of_modes_and_demands_has_its_own_number() {
    let (mut a, ..) = made(|_| {});
    let mut numbers = BTreeSet::new();
    let mut count = 0;
    for contact in [Contact::Free, AHEAD, BEHIND, Contact::Locked] {
        for motion in [Motion::Held, Motion::Moving(1.0), Motion::Moving(-1.0)] {
            for motor in [MotorState::Running, MotorState::Coasting, MotorState::Stopped] {
                for braking in [None, Some(2.0)] {
                    let speeds = [1.0, 5.0, 10.0, 20.0].map(|speed| Ask::Speed { speed, slope: 0.0, at: 0.0 });
                    for ask in [0.0, 0.5, 1.0].map(Ask::Opening).into_iter().chain(speeds) {
                        (a.contact, a.motion, a.motor, a.braking, a.ask) = (contact, motion, motor, braking, ask);
                        numbers.insert(a.mode_number());
                        count += 1;
                    }
                }
            }
        }
    }
    assert_eq!(numbers.len(), count);
}

/// The chain takes a tenth of the power, whichever end of it drives.
#[test]
fn a_held_vehicle_sets_off_against_road_and_chain_and_rolls_back_against_them() {
    for (grade, uphill, downhill) in [(0.2, 1.0 / 0.9, 0.9), (0.0, 1.0 / 0.9, 1.0 / 0.9), (-0.2, 0.9, 1.0 / 0.9)] {
        let (a, y, slow) = on_road(grade, (Contact::Free, Motion::Held, MotorState::Running), (100.0, 0.0));
        let mut out = [0.0; guard::COUNT];
        a.guard_values(&y, &slow, &mut out);
        let torque = a.on_drum(&y, &slow);
        near(out[guard::SET_OFF], (a.grade + a.rolling) * a.speed_per_drum * uphill - torque);
        near(out[guard::ROLL_BACK], torque - (a.grade - a.rolling) * a.speed_per_drum * downhill);
        assert_eq!((out[guard::BRAKE_BITES], out[guard::BRAKE_EASES], out[guard::STANDSTILL]), (1.0, 1.0, 1.0));
    }
}

/// The brake bites when the vehicle slows by less than asked, and eases when it has to push.
#[test]
fn the_guards_of_the_brake_are_the_slowing_that_is_missing_and_its_torque() {
    for (direction, drum) in [(1.0, 200.0), (-1.0, -50.0)] {
        let mode = (Contact::Free, Motion::Moving(direction), MotorState::Stopped);
        let (mut a, y, slow) = on_road(0.02, mode, (0.0, drum));
        a.brake_ask = BrakeAsk::Slow(2.0);
        let mut out = [0.0; guard::COUNT];
        a.guard_values(&y, &slow, &mut out);
        let slows = -direction * flows(&a, Mechanics::NAME, &y, &slow)[state::DRUM] * a.speed_per_drum;
        assert!((out[guard::BRAKE_BITES] * a.speed_per_drum - (slows - 2.0)).abs() < 1e-12);
        assert_eq!(out[guard::BRAKE_EASES], 1.0);
        a.braking = Some(2.0);
        a.guard_values(&y, &slow, &mut out);
        let power = flows(&a, Mechanics::NAME, &y, &slow)[counter::BRAKE];
        assert!(power > 0.0 && out[guard::BRAKE_BITES] == 1.0);
        near(out[guard::BRAKE_EASES] * drum.abs(), power);
    }
}

#[test]
fn a_part_stops_the_run_by_its_distance_from_the_limit_and_only_setting_off_counts_as_a_launch() {
    let (mut a, mut y, slow) = on_road(0.0, FREE, (0.0, 100.0));
    y[state::WEB] = 600.0;
    let mut out = [0.0; guard::COUNT];
    a.guard_values(&y, &slow, &mut out);
    near(out[guard::TOO_HOT], STOPS - 600.0);
    for what in [Happening::SetsOff, Happening::Locks, Happening::SetsOff] {
        a.note(1.0, what);
    }
    assert_eq!((a.launches, a.unheard.len()), (2.0, 3));
}

#[test]
fn shoes_that_touch_rub_ahead_if_the_motor_is_faster_and_behind_if_it_is_slower() {
    for (speeds, rubs) in [((400.0, 300.0), AHEAD), ((300.0, 400.0), BEHIND)] {
        let (mut a, mut y, slow) = on_road(0.0, FREE, speeds);
        assert_eq!(a.transit(guard::ENGAGE, 1.0, &mut y, &slow), Flow::Continue);
        assert_eq!(a.contact, rubs);
        // Whatever else happens, shoes that press are on the drum.
        let (mut a, mut y, slow) = on_road(0.0, FREE, speeds);
        a.transit(guard::STALL, 1.0, &mut y, &slow);
        assert_eq!(a.contact, rubs);
        assert_eq!(a.unheard, [(1.0, Happening::Stalls), (1.0, Happening::Engages)]);
        assert_eq!(a.transit(guard::RELEASE, 1.0, &mut y, &slow), Flow::Continue);
        assert_eq!(a.contact, Contact::Free);
    }
}

/// A locked clutch whose torque exceeds its grip slips the way the torque turns it.
#[test]
fn a_clutch_that_breaks_away_rubs_ahead_under_power_and_behind_on_the_overrun() {
    for (throttle, motor, rubs) in [(1.0, MotorState::Running, AHEAD), (0.0, MotorState::Coasting, BEHIND)] {
        let mode = (Contact::Locked, Motion::Moving(1.0), motor);
        let (mut a, mut y, slow) = on_road(0.0, mode, (400.0, 400.0));
        y[state::THROTTLE] = throttle;
        a.transit(guard::BREAKAWAY, 1.0, &mut y, &slow);
        assert_eq!(a.contact, rubs);
        // At a speed at which no shoe presses, it cannot stay locked.
        let (mut a, mut y, slow) = on_road(0.0, mode, (150.0, 150.0));
        y[state::THROTTLE] = throttle;
        a.settle(2.0, &mut y, &slow);
        assert_eq!((a.contact, &a.unheard[..]), (rubs, &[(2.0, Happening::Unlocks)][..]));
    }
}

#[test]
fn a_vehicle_that_stops_unlocks_its_clutch_and_holds() {
    for (before, after) in [(Contact::Locked, AHEAD), (BEHIND, BEHIND), (AHEAD, AHEAD), (Contact::Free, Contact::Free)]
    {
        let (mut a, mut y, slow) = on_road(0.0, (before, Motion::Moving(1.0), MotorState::Coasting), (50.0, 1e-9));
        (a.braking, a.brake_ask) = (Some(2.0), BrakeAsk::Slow(2.0));
        assert_eq!(a.transit(guard::STANDSTILL, 1.0, &mut y, &slow), Flow::Continue);
        assert_eq!((a.contact, a.motion, a.braking, y[state::DRUM]), (after, Motion::Held, None, 0.0));
        assert_eq!(a.unheard, [(1.0, Happening::Stops)]);
    }
}

#[test]
fn a_released_vehicle_rolls_back_on_a_slope_sets_off_under_torque_and_stays_on_the_level() {
    let held = |contact, motor| (contact, Motion::Held, motor);
    for (grade, mode, speed, motion, events) in [
        (0.2, held(Contact::Free, MotorState::Stopped), 0.0, Motion::Moving(-1.0), vec![Happening::RollsBack]),
        (0.0, held(AHEAD, MotorState::Running), 400.0, Motion::Moving(1.0), vec![Happening::SetsOff]),
        (0.0, held(Contact::Free, MotorState::Stopped), 0.0, Motion::Held, vec![]),
    ] {
        let (mut a, mut y, slow) = on_road(grade, mode, (speed, 0.0));
        a.settle(1.0, &mut y, &slow);
        assert_eq!((a.motion, a.launches), (motion, if speed > 0.0 { 1.0 } else { 0.0 }));
        assert_eq!(a.unheard.iter().map(|one| one.1).collect::<Vec<_>>(), events);
    }
    let (mut a, mut y, slow) = on_road(0.2, held(Contact::Free, MotorState::Stopped), (0.0, 0.0));
    assert_eq!(a.transit(guard::ROLL_BACK, 1.0, &mut y, &slow), Flow::Continue);
    assert_eq!(a.motion, Motion::Moving(-1.0));
}

/// At exactly the slowing asked for, an event of the brake's guard lets it bite and a check of the modes does not.
#[test]
fn the_brake_bites_where_the_vehicle_slows_by_less_than_asked() {
    for (direction, drum) in [(1.0, 200.0), (-1.0, -50.0)] {
        let mode = (Contact::Free, Motion::Moving(direction), MotorState::Stopped);
        let (mut a, mut y, slow) = on_road(0.05 * direction, mode, (0.0, drum));
        let slows = -direction * flows(&a, Mechanics::NAME, &y, &slow)[state::DRUM] * a.speed_per_drum;
        assert!(slows > 0.1, "{slows} m/s²");
        for (asked, by_event, settled) in [(2.0, true, true), (slows, true, false), (0.5 * slows, false, false)] {
            a.brake_ask = BrakeAsk::Slow(asked);
            a.braking = None;
            a.settle(1.0, &mut y, &slow);
            assert_eq!(a.braking, settled.then_some(asked), "{asked} of {slows}");
            // A brake that works goes on, by what is asked now.
            a.braking = Some(0.9);
            a.settle(1.0, &mut y, &slow);
            assert_eq!(a.braking, Some(asked));
            a.braking = None;
            assert_eq!(a.transit(guard::BRAKE_BITES, 1.0, &mut y, &slow), Flow::Continue);
            assert_eq!(a.braking.is_some(), by_event);
        }
        (a.brake_ask, a.braking) = (BrakeAsk::Off, Some(2.0));
        a.settle(1.0, &mut y, &slow);
        assert_eq!(a.braking, None);
        (a.brake_ask, a.braking, a.motion) = (BrakeAsk::Slow(2.0), Some(2.0), Motion::Held);
        a.settle(1.0, &mut y, &slow);
        assert_eq!(a.braking, None);
    }
}

/// Energy lost by motor and drum is slip heat and chain work; of this the vehicle or its brake gets nine tenths, and the lining
/// its share of the heat.
#[test]
fn at_a_meeting_of_speeds_the_counters_take_what_motor_and_drum_lose() {
    for braked in [false, true] {
        let (mut a, mut y, slow) = on_road(0.0, (AHEAD, Motion::Moving(1.0), MotorState::Running), (350.0, 300.0));
        if braked {
            (a.braking, a.brake_ask) = (Some(0.5), BrakeAsk::Slow(0.5));
        }
        y[state::THROTTLE] = 0.3;
        let before = y.clone();
        a.transit(guard::SPEEDS_EQUAL, 1.0, &mut y, &slow);
        assert_eq!((a.contact, a.unheard[0].1), (Contact::Locked, Happening::Locks));
        let both = y[state::MOTOR];
        assert_eq!(both, y[state::DRUM]);
        let gains = |j: f64, from: f64| 0.5 * j * (both * both - from * from);
        let kinetic = gains(a.machine.motor.inertia, 350.0) + gains(a.machine.drum.inertia, 300.0);
        // Under the brake the drum keeps its speed, and an impulse J1 Δω goes through the chain at that speed.
        let work = if braked { a.machine.motor.inertia * 50.0 * 300.0 } else { gains(a.reduced_mass, 300.0) / 0.9 };
        near(y[counter::CHAIN_WORK], work);
        near(y[counter::CHAIN_LOSS], 0.1 * work);
        near(y[counter::BRAKE], if braked { 0.9 * work } else { 0.0 });
        assert!((y[counter::SLIP] + kinetic + work).abs() < 1e-9 * work, "{}", y[counter::SLIP]);
        let warmed = |k: usize| (y[k] - before[k]) * a.capacity[k] / y[counter::SLIP];
        assert!((warmed(state::LINING) - a.interface.lining_share).abs() < 1e-6);
        assert!((warmed(state::LINING) + warmed(state::WALL) - 1.0).abs() < 1e-6);
    }
}

#[test]
fn speeds_that_meet_without_grip_or_at_a_held_drum_pass_each_other() {
    // At 400 rad/s the shoes would grip, but nothing locks to a drum that is held.
    for (motion, motor, drum) in
        [(Motion::Held, 150.0, 0.0), (Motion::Held, 400.0, 399.0), (Motion::Moving(1.0), 150.0, 149.0)]
    {
        for (contact, over) in [(AHEAD, BEHIND), (BEHIND, AHEAD)] {
            let (mut a, mut y, slow) = on_road(0.0, (contact, motion, MotorState::Coasting), (motor, drum));
            a.brake_ask = BrakeAsk::Slow(1.0);
            a.transit(guard::SPEEDS_EQUAL, 1.0, &mut y, &slow);
            assert_eq!((a.contact, y[state::MOTOR], y[state::DRUM]), (over, motor, drum));
            assert_eq!(a.unheard[0], (1.0, Happening::SlipsOver));
            assert!(y[state::COUNT..].iter().all(|counted| *counted == 0.0));
        }
    }
}
