//! Fate of a dose: share kept by habit, within ±4 points of the values of our own prototype.

use crate::bench_ride::{cycle, ride};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::Entry;
use slipsoak_engine::parts::{Machine, Oil};
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
