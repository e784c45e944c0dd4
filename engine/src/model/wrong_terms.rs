//! Tests: a term that does not balance is found and named; one that balances is not.

use super::balance::Term;
use super::closed_forms::{made, near};
use super::*;
use crate::integrate::Step;

const ALL: usize = state::COUNT + counter::COUNT;

fn found(a: &Assembly, book: Book, y: &[f64], name: &'static str, moved: &[(usize, f64)]) -> Vec<Miss> {
    let mut flows = [0.0; ALL];
    for &(row, amount) in moved {
        flows[row] += amount;
    }
    a.misses(book, y, &[0.0; slow::COUNT], &[Term { name, flows }])
}

/// Each pair moves the same power or oil out of one account and into another.
#[test]
fn a_term_that_moves_as_much_in_as_out_is_no_culprit_in_any_book() {
    use counter::*;
    let (mut a, mut y, _) = made(|_| {});
    (a.contact, a.motion, a.motor) = (Contact::Slip(1.0), Motion::Moving(1.0), MotorState::Running);
    (y[state::MOTOR], y[state::DRUM], y[state::THROTTLE]) = (300.0, 200.0, 0.7);
    let turning = [a.machine.motor.inertia * 300.0, a.machine.drum.inertia * 200.0];
    let mut pairs = vec![
        (Book::Mechanics, (MOTOR_WORK, turning[0]), (state::MOTOR, 1.0)),
        (Book::Mechanics, (MOTOR_WORK, turning[1]), (state::DRUM, 1.0)),
        (Book::Chain, (CHAIN_WORK, a.reduced_mass * 200.0), (state::DRUM, 1.0)),
        (Book::Heat, (LOST, 3.0), (state::BAND, -3.0 / a.capacity[state::BAND])),
    ];
    pairs.extend([CHAIN_WORK, SLIP, BEARING].map(|to| (Book::Mechanics, (MOTOR_WORK, 2.0), (to, 2.0))));
    pairs.extend([ROLLING, AIR, GRADE, BRAKE, CHAIN_LOSS].map(|to| (Book::Chain, (CHAIN_WORK, 2.0), (to, 2.0))));
    pairs.extend([SLIP, BEARING, MOTOR_HEAT].map(|from| (Book::Heat, (from, 2.0), (LOST, 2.0))));
    pairs.extend([FLUNG, EVAPORATED, RUN_OFF, LEAKED].map(|to| (Book::Oil, (to, 2.0), (state::FILM, -2.0))));
    for (book, one, other) in pairs {
        assert_eq!(found(&a, book, &y, "a term", &[one, other]), [], "{book:?} {one:?} {other:?}");
        let missed = found(&a, book, &y, "a term", &[one]);
        assert_eq!((missed.len(), missed[0].term, missed[0].share), (1, "a term", 1.0));
        let spent = [LOST, FLUNG, EVAPORATED, RUN_OFF, LEAKED].contains(&one.0);
        near(missed[0].missing, if spent { -one.1 } else { one.1 });
    }
    let part = found(&a, Book::Mechanics, &y, "a term", &[(MOTOR_WORK, 3.0), (SLIP, 1.0)]);
    assert_eq!((part[0].missing, part[0].share), (2.0, 0.5));
}

/// Friction that heats the wrong part balances as a whole: each kind of heat has its own account.
#[test]
fn what_rubs_is_asked_for_each_of_its_parts() {
    let (mut a, mut y, slow) = made(|m| m.surroundings.grade = -0.1);
    let named = |a: &Assembly, y: &[f64], book, moved: &[(usize, f64)]| {
        found(a, book, y, Mechanics::NAME, moved).iter().map(|miss| miss.term).collect::<Vec<_>>()
    };
    let crossed = [(counter::SLIP, 2.0), (state::BLOCK, 2.0 / a.capacity[state::BLOCK])];
    assert_eq!(named(&a, &y, Book::Heat, &crossed), ["slip heat", "motor heat"]);
    let away = [(counter::LOST, 2.0), (state::BAND, -2.0 / a.capacity[state::BAND])];
    assert!(named(&a, &y, Book::Heat, &away).is_empty());
    assert_eq!(named(&a, &y, Book::Oil, &[(state::LINING_OIL, 1.0)]), ["oil burnt and wiped off the lining"]);
    assert_eq!(
        named(&a, &y, Book::Mechanics, &[(counter::MOTOR_WORK, 1.0), (counter::SLIP, 1.0)]),
        ["motor work", "slip heat"]
    );
    let lost = [(counter::CHAIN_WORK, 1.0), (counter::ROLLING, 1.0)];
    assert_eq!(named(&a, &y, Book::Chain, &lost), ["rolling", "chain loss", "moving vehicle and brake"]);
    // Driven or dragged by the vehicle, forward or back, held or braked: every book closes.
    for (motion, contact, motor, braking, drum) in [
        (Motion::Held, Contact::Slip(1.0), MotorState::Running, None, 0.0),
        (Motion::Moving(1.0), Contact::Slip(1.0), MotorState::Running, None, 250.0),
        (Motion::Moving(1.0), Contact::Locked, MotorState::Coasting, None, 300.0),
        (Motion::Moving(1.0), Contact::Locked, MotorState::Coasting, Some(0.5), 300.0),
        (Motion::Moving(-1.0), Contact::Slip(1.0), MotorState::Running, Some(0.5), -40.0),
    ] {
        (a.motion, a.contact, a.motor, a.braking) = (motion, contact, motor, braking);
        (y[state::MOTOR], y[state::DRUM], y[state::THROTTLE], y[state::LINING_OIL]) = (300.0, drum, 0.6, 1e-6);
        let terms = a.terms(0.0, &y, &slow);
        for book in [Book::Mechanics, Book::Chain, Book::Heat, Book::Oil] {
            assert_eq!(a.misses(book, &y, &slow, &terms), [], "{book:?} {motion:?} {contact:?}");
        }
    }
}

#[test]
fn one_moment_is_kept_of_each_kind_of_mode_the_middle_of_the_latest_step() {
    let (mut a, y, slow) = made(|_| {});
    let mut modes = vec![(Contact::Free, Motion::Held, MotorState::Running, None)];
    modes.push((Contact::Slip(1.0), Motion::Held, MotorState::Running, None));
    modes.push((Contact::Free, Motion::Moving(1.0), MotorState::Running, None));
    modes.push((Contact::Free, Motion::Held, MotorState::Coasting, None));
    modes.push((Contact::Free, Motion::Held, MotorState::Running, Some(1.0)));
    for start in [0.0, 100.0] {
        for mode in &modes {
            (a.contact, a.motion, a.motor, a.braking) = *mode;
            let (length, slow) = (4.0, &slow[..]);
            let states = &y[..];
            let step = Step {
                start,
                length,
                before: states,
                after: states,
                middle: states,
                counters_before: &[],
                counters: &[],
                dense: [&[], &[]],
                slow_before: slow,
                slow_rates: slow,
                slow_ends: [slow; 2],
                slow,
            };
            a.remember(&step);
        }
        assert_eq!(a.moments.iter().map(|m| m.time).collect::<Vec<_>>(), [start + 2.0; 5]);
    }
}
