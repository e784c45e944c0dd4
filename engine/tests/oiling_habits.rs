//! Fate of a dose: share kept by habit, within ±4 points of the values of our own prototype.

use crate::bench_ride::{cycle, ride};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::Entry;
use slipsoak_engine::parts::{Machine, Oil};
use slipsoak_engine::record::Ledger;
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::units::KM_H;

const DROPS: f64 = 3.0;

/// Oil in pores and film after a ride that follows a dose and a wait, kg.
fn oil_after(drops: f64, warm_up: f64, wait: f64) -> f64 {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    let go = |sim: &mut Simulation, s: Segment| sim.perform(&s).expect("runs");
    go(&mut sim, Segment::Service(Service::Found(0.85)));
    if warm_up > 0.0 {
        while sim.clock() < warm_up {
            cycle(&mut sim, 6.0, 30.0, 60.0);
        }
        go(&mut sim, ride(Task::Off, End::After(60.0)));
    }
    if drops > 0.0 {
        go(&mut sim, Segment::Service(Service::Oil { drops, oil: Oil::default() }));
    }
    go(&mut sim, ride(Task::Off, End::After(wait)));
    go(&mut sim, ride(Task::Hold(28.0 * KM_H), End::After(60.0)));
    let run = sim.finish("habit", "habit").expect("the ledgers close");
    run.ledgers.oil.held[&Entry::InPores] + run.ledgers.oil.held[&Entry::InFilm]
}

/// A ride before the first oiling loses the same oil whether it is oiled then or not: none of it is the dose's.
#[test]
fn the_oil_s_ledger_from_the_first_oiling_on_leaves_out_what_was_lost_before() {
    let run = |drops: f64| {
        let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
        while sim.clock() < 600.0 {
            cycle(&mut sim, 6.0, 30.0, 60.0);
        }
        let before = sim.clock();
        if drops > 0.0 {
            sim.perform(&Segment::Service(Service::Oil { drops, oil: Oil::default() })).expect("it is oiled");
            sim.perform(&Segment::Service(Service::Oil { drops: 1.0, oil: Oil::default() })).expect("it is oiled");
        }
        sim.perform(&ride(Task::Hold(28.0 * KM_H), End::After(60.0))).expect("it rides");
        (before, sim.finish("ridden", "then oiled").expect("the ledgers close"))
    };
    let (_, never) = run(0.0);
    assert!(never.oil_since.is_none() && never.oil_ledger() == &never.ledgers.oil);
    let (before, oiled) = run(DROPS);
    let since = oiled.oil_since.as_ref().expect("it was oiled");
    assert_eq!(since.time.to_bits(), before.to_bits());
    assert!(since.ledger.relative < 1e-10, "{:?}", since.ledger);
    let lost = |ledger: &Ledger| ledger.outward[&Entry::Flung] + ledger.outward[&Entry::Leaked];
    let (all, then) = (lost(&oiled.ledgers.oil), lost(&since.ledger));
    assert!(then < 0.95 * all && then > 0.0, "{then} of {all}");
    let put_on = since.ledger.inward[&Entry::PutOn];
    assert_eq!(put_on.to_bits(), oiled.ledgers.oil.inward[&Entry::PutOn].to_bits());
    let start = since.ledger.inward[&Entry::InPoresAtTheStart] + since.ledger.inward[&Entry::InFilmAtTheStart];
    let opening =
        oiled.ledgers.oil.inward[&Entry::InPoresAtTheStart] + oiled.ledgers.oil.inward[&Entry::InFilmAtTheStart];
    assert!(start < opening, "{start} of {opening}");
}

fn kept(warm_up: f64, wait: f64) -> f64 {
    let dose = DROPS * 0.04e-6 * 881.9;
    (oil_after(DROPS, warm_up, wait) - oil_after(0.0, warm_up, wait)) / dose
}

#[test]
fn the_share_kept_rises_with_the_rest_before_the_spin() {
    let (half_minute, ten, thirty) = (kept(0.0, 30.0), kept(0.0, 600.0), kept(0.0, 1800.0));
    assert!(half_minute < ten && ten < thirty);
    assert!((half_minute - 0.29).abs() < 0.04, "{half_minute}");
    assert!((0.50..0.64).contains(&ten), "{ten}");
    assert!((0.73..0.92).contains(&thirty), "{thirty}");
}

#[test]
fn after_the_ride_and_overnight_nearly_all_is_kept_but_so_it_is_cold_overnight() {
    let (warm, cold) = (kept(1200.0, 43200.0), kept(0.0, 43200.0));
    assert!((warm - 0.96).abs() < 0.04, "{warm}");
    assert!((cold - 0.98).abs() < 0.04, "{cold}");
}
