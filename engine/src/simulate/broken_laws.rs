//! Tests: a wrong law or a wrong entry fails the run, and the failure names the term.

use super::broken::{Again, Error, launched, none};
use super::culprit::{Culprit, worst};
use super::{Failure, Options, Simulation};
use crate::duty::{End, Segment, Task};
use crate::integrate::System;
use crate::life::Pair;
use crate::model::{
    Assembly, Band, Block, Book, Chain, Contact, Film, Group, Inner, Mechanics, Moment, Motion, MotorState, Oil, Term,
    counter, slow, state,
};
use crate::names::{self, Entry};
use crate::parts::Machine;

/// The first ledger that fails with a wrong law, and the term found by the search among all.
fn found(law: &'static str, error: Error, book: Book) -> (names::Book, Culprit) {
    let mut sim = launched(Machine::default(), error, slow::AGE, 1.0);
    let ledgers = sim.books.close(&sim.assembly, &sim.y, &sim.slow);
    let open = ledgers.all().into_iter().find(|(_, l)| !(l.relative <= l.allowed)).expect("a ledger stays open").0;
    let terms = |a: &Assembly, t: f64, y: &[f64], slow: &[f64]| -> Vec<Term> {
        let mut right = vec![0.0; state::COUNT + counter::COUNT];
        a.rates(t, y, slow, &mut right);
        let mut wrong = right.clone();
        error(a, t, y, slow, &mut wrong);
        let mut terms = a.terms(t, y, slow);
        let broken = terms.iter_mut().find(|t| t.name == law).expect("a term of this name");
        for ((flow, wrong), right) in broken.flows.iter_mut().zip(wrong).zip(right) {
            *flow += wrong - right;
        }
        terms
    };
    let seen = std::mem::take(&mut sim.assembly.moments);
    (open, worst(&mut sim.assembly, book, &seen, terms))
}

#[test]
fn a_wrong_law_fails_its_ledger_and_is_named() {
    fn again<const K: usize>(law: impl Group<K>, row: usize, y: &[f64], out: &mut [f64]) {
        Again { law, row, share: 1e-3 }.add_rates(y, out);
    }
    macro_rules! in_mechanics {
        ($row:expr) => {
            |a, _, y, slow, out| again(Mechanics { assembly: a, slow }, $row, y, out)
        };
    }
    let cases: [(&str, Error, Book, names::Book, &str); 17] = [
        (
            "band to the air",
            |a, _, y, _, o| again(Band(a), counter::LOST, y, o),
            Book::Heat,
            names::Book::Heat,
            "band to the air",
        ),
        (
            "chain to the air",
            |a, _, y, _, o| again(Chain(a), counter::LOST, y, o),
            Book::Heat,
            names::Book::Heat,
            "chain to the air",
        ),
        (
            "bushing to shaft",
            |a, _, y, _, o| again(Film(a), state::SHAFT, y, o),
            Book::Heat,
            names::Book::Heat,
            "bushing to shaft",
        ),
        (
            "block to the air",
            |a, _, y, _, o| again(Block(a), state::BLOCK, y, o),
            Book::Heat,
            names::Book::Heat,
            "block to the air",
        ),
        (
            "shoes and carrier to the air",
            |a, _, y, _, o| again(Inner(a), state::CARRIER, y, o),
            Book::Heat,
            names::Book::Heat,
            "shoes and carrier to the air",
        ),
        (
            "conduction",
            |_, _, y, _, o| o[state::WEB] += 1e-3 * (y[state::BAND] - y[state::WEB]),
            Book::Heat,
            names::Book::Heat,
            "conduction",
        ),
        ("rubbing and turning", in_mechanics!(state::LINING), Book::Heat, names::Book::Heat, "slip heat"),
        ("rubbing and turning", in_mechanics!(state::SHAFT), Book::Heat, names::Book::Heat, "bearing heat"),
        ("rubbing and turning", in_mechanics!(state::BLOCK), Book::Heat, names::Book::Heat, "motor heat"),
        (
            "oil of bushing and washer",
            |a, _, y, _, o| again(Oil(a), state::PORES, y, o),
            Book::Oil,
            names::Book::Oil,
            "oil of bushing and washer",
        ),
        ("rubbing and turning", in_mechanics!(counter::SLIP), Book::Mechanics, names::Book::Mechanics, "slip heat"),
        (
            "rubbing and turning",
            in_mechanics!(counter::BEARING),
            Book::Mechanics,
            names::Book::Mechanics,
            "bearing heat",
        ),
        (
            "rubbing and turning",
            in_mechanics!(counter::MOTOR_WORK),
            Book::Mechanics,
            names::Book::Mechanics,
            "motor work",
        ),
        ("rubbing and turning", in_mechanics!(state::MOTOR), Book::Mechanics, names::Book::Mechanics, "turning motor"),
        ("rubbing and turning", in_mechanics!(counter::ROLLING), Book::Chain, names::Book::Chain, "rolling"),
        ("rubbing and turning", in_mechanics!(counter::GRADE), Book::Chain, names::Book::Chain, "grade"),
        ("rubbing and turning", in_mechanics!(counter::CHAIN_LOSS), Book::Chain, names::Book::Chain, "chain loss"),
    ];
    for (law, error, book, ledger, wanted) in cases {
        match found(law, error, book) {
            (open, Culprit::Term { term, share, others, .. }) => {
                assert_eq!((open, term, others), (ledger, wanted, vec![]));
                assert!(share > 1e-7, "{term}: {share}");
            }
            other => panic!("{wanted}: {other:?}"),
        }
    }
}

/// By default the mechanical ledgers may miss more than an error of a hundred-thousandth, which no sum tells from the steps'
/// own: the terms do.
#[test]
fn a_law_wrong_by_less_than_the_steps_miss_is_found_at_any_tolerance() {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Throttle(1.0), End::After(8.0))).expect("runs");
    sim.y[counter::MOTOR_WORK] *= 1.0 + 2e-5;
    let ledgers = sim.books.close(&sim.assembly, &sim.y, &sim.slow);
    assert!(ledgers.mechanics.relative > 5e-6 && ledgers.mechanics.relative < ledgers.mechanics.allowed);
    assert_eq!(sim.check(&ledgers), Ok(()));
    let wrong = |a: &Assembly, t: f64, y: &[f64], slow: &[f64]| -> Vec<Term> {
        let mut terms = a.terms(t, y, slow);
        for term in &mut terms {
            term.flows[counter::MOTOR_WORK] *= 1.0 + 2e-5;
        }
        terms
    };
    match sim.check_by(&ledgers, wrong) {
        Err(Failure::Ledger { culprit, .. }) => {
            let Culprit::Term { term, .. } = *culprit else { panic!("{culprit:?}") };
            assert_eq!(term, "motor work");
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn each_term_of_the_model_balances_by_itself_and_all_make_the_rates() {
    let mut sim = launched(Machine::default(), none, slow::AGE, 1.0);
    sim.perform(&Segment::Ride(Task::Brake(1.5), End::Still { within: 20.0 })).expect("runs");
    sim.perform(&Segment::Ride(Task::Off, End::After(30.0))).expect("runs");
    let seen = std::mem::take(&mut sim.assembly.moments);
    assert!(seen.len() >= 5, "only {} kinds of moments", seen.len());
    for book in [Book::Mechanics, Book::Chain, Book::Heat, Book::Oil] {
        assert_eq!(worst(&mut sim.assembly, book, &seen, Assembly::terms), Culprit::None, "{book:?}");
    }
    for (k, at) in seen.iter().enumerate() {
        let (motor, drum) = (at.y[state::MOTOR], at.y[state::DRUM]);
        match at.contact {
            Contact::Locked => assert!((motor - drum).abs() < 1e-6 * motor, "{motor} locked to {drum}"),
            Contact::Slip(sign) => assert!((motor - drum) * sign > 0.0, "{motor} on {drum}"),
            Contact::Free => {}
        }
        assert!(at.motor != MotorState::Stopped || motor == 0.0, "stopped at {motor}");
        assert!(at.motion != Motion::Held || drum == 0.0, "held at {drum}");
        assert!((0.0..sim.time).contains(&at.time), "{} s", at.time);
        let kind = |m: &Moment| (m.contact, m.motion, m.motor, m.braking.is_some());
        assert!(!seen[..k].iter().any(|other| kind(other) == kind(at)), "twice the same kind");
        sim.assembly.revisit(at);
        let mut rates = vec![0.0; state::COUNT + counter::COUNT];
        sim.assembly.rates(at.time, &at.y, &at.slow, &mut rates);
        let terms = sim.assembly.terms(at.time, &at.y, &at.slow);
        for (row, rate) in rates.iter().enumerate() {
            let sum: f64 = terms.iter().map(|t| t.flows[row]).sum();
            let size: f64 = terms.iter().map(|t| t.flows[row].abs()).sum();
            // The order of summation differs: rounding of the parts.
            assert!((sum - rate).abs() <= 1e-13 * size.max(1e-30) + 1e-18, "row {row}: {sum} for {rate}");
        }
    }
}

#[test]
fn a_depth_that_disagrees_with_force_and_path_fails_the_wear_ledger_and_names_the_pair() {
    use std::f64::consts::FRAC_PI_4;
    for (row, factor, pair) in [
        (slow::depth(Pair::Bore), FRAC_PI_4, Entry::BushingBore),
        (slow::depth(Pair::Washer), 2.0, Entry::Washer),
        (slow::LINING, 1.0 + 1e-6, Entry::Lining),
        (slow::volume(Pair::Bore), 1.0 + 1e-6, Entry::BushingBore),
    ] {
        match launched(Machine::default(), none, row, factor).finish("broken", "wear") {
            Err(Failure::Ledger { ledger: names::Book::Wear, culprit, .. }) => {
                let Culprit::Pair { pair: named, ratio } = *culprit else { panic!("{culprit:?}") };
                assert_eq!(named, pair);
                let wanted = if row == slow::volume(Pair::Bore) { 1.0 / factor } else { factor };
                // The first half second wore by the correct law.
                assert!((ratio - 1.0) / (wanted - 1.0) > 0.8, "{pair}: {ratio}");
            }
            other => panic!("{pair}: {:?}", other.map(|r| r.ledgers.wear)),
        }
    }
}
