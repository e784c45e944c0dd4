//! Other contents of a run's record besides its windows: one launch, the moments of a rest, torques, and the heat
//! balance of the clutch.

use crate::bench_ride;
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::names::{Channel, Entry, Happening, Part};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::{Ledger, Run};
use slipsoak_engine::simulate::{Options, Simulation, engagement};
use slipsoak_engine::units::RPM;
use std::f64::consts::PI;

fn column(name: &str) -> usize {
    Channel::named(name).expect("a channel") as usize
}

/// Launches to increasing speeds, then a rest.
fn ride(rest: f64, windows: usize) -> Run {
    let mut sim = Simulation::new(Machine::default(), Options { windows, ..Options::default() }).expect("a machine");
    let mut go = |task, end| sim.perform(&Segment::Ride(task, end)).expect("it runs");
    for speed in [3.0, 7.0, 5.0] {
        go(Task::Idle, End::After(10.0));
        go(Task::Throttle(1.0), End::Reached { speed, within: 60.0 });
        go(Task::Brake(1.5), End::Still { within: 60.0 });
    }
    if rest > 0.0 {
        go(Task::Off, End::After(rest));
    }
    sim.finish("standard", "ride").expect("the ledgers close")
}

#[test]
fn the_close_up_is_the_launch_with_the_hottest_lining() {
    let run = ride(60.0, 600);
    let close_up = run.close_up.expect("a launch");
    let lining = column("lining surface");
    let peak = close_up.rows.iter().map(|row| row[lining]).fold(0.0, f64::max);
    assert_eq!(peak.to_bits(), run.overall.most[lining].to_bits());
    let starts: Vec<f64> = run.events.iter().filter(|e| e.what == Happening::SetsOff).map(|e| e.time).collect();
    assert!(starts.len() == 3 && starts.contains(&close_up.sets_off));
    let (first, last) = (close_up.time[0], close_up.time[close_up.time.len() - 1]);
    assert!(first <= close_up.sets_off && last > close_up.sets_off + 3.0 && last <= close_up.sets_off + 25.0);
    assert!(close_up.time.windows(2).all(|pair| pair[1] >= pair[0]));
    assert!((60..=400).contains(&close_up.time.len()), "{} rows", close_up.time.len());
}

#[test]
fn the_moments_are_the_peak_the_stop_and_the_rest_as_far_as_the_run_lasts() {
    for (rest, wanted) in [
        (0.0, vec!["hottest lining", "standstill"]),
        (60.0, vec!["hottest lining", "motor off"]),
        (600.0, vec!["hottest lining", "motor off", "2 min after"]),
        (2000.0, vec!["hottest lining", "motor off", "2 min after", "30 min after"]),
    ] {
        let run = ride(rest, 600);
        assert_eq!(run.moments.iter().map(|m| m.what.name()).collect::<Vec<_>>(), wanted);
        let lining = column("lining surface");
        assert_eq!(run.moments[0].values[lining].to_bits(), run.overall.most[lining].to_bits());
        let off = run.events.iter().find(|e| e.what == Happening::SwitchedOff).map(|e| e.time);
        for (moment, wait) in run.moments[1..].iter().zip([0.0, 120.0, 1800.0]) {
            assert!(off.is_none_or(|off| (moment.time - off - wait).abs() < 1e-6), "{}: {}", moment.what, moment.time);
        }
    }
}

#[test]
fn a_drop_of_oil_before_the_motor_is_switched_off_hides_no_moment() {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    let oil = Service::Oil { drops: 3.0, oil: Machine::default().oil };
    for segment in [
        Segment::Ride(Task::Hold(7.0), End::After(30.0)),
        Segment::Service(oil),
        Segment::Ride(Task::Off, End::After(300.0)),
    ] {
        sim.perform(&segment).expect("it runs");
    }
    let run = sim.finish("standard", "oiled").expect("the ledgers close");
    let kept: Vec<&str> = run.moments.iter().map(|m| m.what.name()).collect();
    assert_eq!(kept, ["hottest lining", "motor off", "2 min after"]);
}

#[test]
fn a_moment_between_two_steps_lies_between_its_neighbours() {
    // The same rest, interrupted at the moment, steps exactly onto it.
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    let mut go = |task, end| sim.perform(&Segment::Ride(task, end)).expect("it runs");
    for speed in [3.0, 7.0, 5.0] {
        go(Task::Idle, End::After(10.0));
        go(Task::Throttle(1.0), End::Reached { speed, within: 60.0 });
        go(Task::Brake(1.5), End::Still { within: 60.0 });
    }
    go(Task::Off, End::After(120.0));
    let stepped = [column("bushing"), column("block"), column("band")].map(|k| (k, sim.reading(Channel::ALL[k])));
    let run = ride(600.0, 600);
    for (k, value) in stepped {
        let kept = run.moments[2].values[k];
        // Half steps of a rest are some seconds long; a parabola follows the cooling.
        assert!((kept - value).abs() < 0.05, "{}: {kept} for {value}", Channel::ALL[k]);
    }
}

#[test]
fn a_run_without_recording_keeps_no_moments() {
    let run = ride(60.0, 0);
    assert!(run.close_up.is_none() && run.moments.is_empty());
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Idle, End::After(30.0))).expect("it runs");
    assert!(sim.finish("standard", "idle").expect("the ledgers close").close_up.is_none());
}

fn out(ledger: &Ledger, name: &str) -> f64 {
    ledger.outward[&Entry::named(name).expect(name)]
}

/// Stefan–Boltzmann: q = ε σ (T⁴ − T∞⁴), σ 5.670374419e-8 W/m²K⁴ (CODATA 2018), over the faces of band, web and
/// sprocket at the temperatures of the windows.
#[test]
fn radiated_heat_is_that_of_the_faces_by_stefan_and_boltzmann() {
    let run = ride(1200.0, 6000);
    let machine = Machine::default();
    let outside = machine.drum.radius + machine.drum.wall;
    let faces = [
        ("band", 2.0 * PI * outside * machine.drum.band),
        ("web", machine.drum.web_area),
        ("sprocket", machine.drum.sprocket_area),
    ];
    let mut sum = 0.0;
    let mut start = 0.0;
    for (end, row) in run.windows.end.iter().zip(&run.windows.mean) {
        for (name, area) in faces {
            let rise = row[column(name)].powi(4) - machine.surroundings.ambient.powi(4);
            sum += (end - start) * machine.drum.emissivity * 5.670_374_419e-8 * area * rise;
        }
        start = *end;
    }
    let radiated = out(&run.ledgers.clutch, "radiated");
    // Windows of a quarter of a second average little, and the half cell before the band's face conducts its heat with
    // 0.1 K.
    assert!((radiated / sum - 1.0).abs() < 2e-3, "{radiated} J against {sum} J");
}

#[test]
fn heat_lost_by_the_clutch_does_not_exceed_that_of_the_whole_machine() {
    let run = ride(1200.0, 600);
    let (clutch, heat) = (&run.ledgers.clutch, &run.ledgers.heat);
    let air: f64 = ["band to the air", "web and sprocket to the air", "shoes and carrier to the air", "radiated"]
        .iter()
        .map(|name| out(clutch, name))
        .sum();
    let to_motor = out(clutch, "through the shaft to the motor");
    // The block's own balance accounts for the rest: motor heat and heat from the shaft as inputs, storage and air as
    // outputs.
    let block = heat.inward[&Entry::MotorHeat] + to_motor - heat.held[&Entry::InMotorBlock];
    assert!((out(heat, "to the air") - air - block).abs() < 1e-6 * out(heat, "to the air"), "{air} and {block}");
    assert!(clutch.relative < 1e-9 && air > 0.0);
}

#[test]
fn the_table_of_torques_meets_the_closed_form_of_the_balance() {
    let machine = Machine::default();
    let table = engagement(&machine);
    // K = n μ m r R of the floating shoe; ω = √(ω_e² + T/K) where the motor gives 11.3 N·m at 2400 rpm.
    let k = 4.0 * 0.4 * 0.110 * 0.040 * 0.0508;
    let balance = table.balance.expect("it locks");
    let at = table.speed.iter().position(|w| *w >= balance).expect("in the table");
    let closed = ((2000.0 * RPM).powi(2) + table.motor[at] / k).sqrt();
    assert!((balance / closed - 1.0).abs() < 1e-3, "{} rpm, {} rpm", balance / RPM, closed / RPM);
    let engages = table.speed.iter().position(|w| (*w - 2000.0 * RPM).abs() < 1e-9).expect("its own row");
    assert!(table.capacity[engages].abs() < 1e-9 && table.capacity[engages + 1] > 0.0);
    // 190 kg with rolling resistance 0.03 alone: 55.9 N at the wheel of 165 mm, through 6:1 at 95 %: 1.618 N·m.
    let still = table.load[0] - 0.5 * 1.2 * 0.6 * (table.speed[0] * 0.165 / 6.0).powi(2) * 0.165 / 6.0 / 0.95;
    assert!((still - 1.618).abs() < 0.01, "{still} N·m");
}

/// A projected life does not depend on where in a round the second half of the run begins: 41 and 42 rounds give the
/// same within 0.5 %, although one of them has its half in the middle of a round.
#[test]
fn a_projected_life_does_not_depend_on_the_phase_of_its_second_half() {
    let life = |rounds: u32| {
        let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
        // Warm first, so that all rounds are alike.
        for _ in 0..40 + rounds {
            bench_ride::cycle(&mut sim, 30.0, 25.0, 60.0);
        }
        let run = sim.finish("standard", "stop and go").expect("the ledgers close");
        run.parts.iter().find(|part| part.part == Part::Lining).and_then(|part| part.life).expect("a life")
    };
    let (odd, even) = (life(1), life(2));
    assert!((odd / even - 1.0).abs() < 5e-3, "{odd} {even}");
}

/// What only stands has no hours of running in which a part could be worn out.
#[test]
fn a_machine_of_which_the_motor_never_runs_is_given_no_life() {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Off, End::After(3.0 * 86400.0))).expect("it stands");
    let run = sim.finish("standard", "parked").expect("the ledgers close");
    assert!(run.parts.iter().all(|part| (part.life, part.running) == (None, None)), "{:?}", run.parts);
    assert_eq!(run.own_fault(), None);
}
