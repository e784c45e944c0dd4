//! Known constants are recovered from noisy readings made by the engine itself.

use slipsoak_engine::calibrate::{
    Effort, Fitted, Inspected, Noise, Problem, Quantity, Read, Under, Way, When, fit, run_in, separate, setting,
};
use slipsoak_engine::fleet::deviate;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::statistics::normal_quantile;
use slipsoak_engine::units::{HOUR, RPM};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};

use crate::start_and_night::start_and_night;

pub const FADES: f64 = 5.0 * HOUR;
const SOUGHT: [&str; 2] = ["washer.wear_oiled", "lining.wear"];
const READ: [Quantity; 2] = [Quantity::Washer, Quantity::Lining];

/// Logarithms of the true constants relative to their prior medians, within the priors.
const TRUE: [f64; 2] = [0.5, -0.25];

/// A standard normal deviate of a repeat.
fn normal(repeat: u64, name: &str) -> f64 {
    normal_quantile(deviate(11, repeat, name))
}

/// Three clutches, inspected new and at four times; their exact readings by the engine with the true constants.
pub fn problem() -> (Problem, Vec<f64>) {
    let sought = SOUGHT.map(|path| setting(path).expect(path)).to_vec();
    let mut problem = Problem::new(Machine::default(), sought, (FADES, Skipping::default()));
    let truth: Vec<f64> = problem.constants().iter().zip(TRUE).map(|(c, l)| c.start * l.exp()).collect();
    let times = [0.0, 20.0, 60.0, 120.0, 200.0].map(|h| When::Running(h * HOUR));
    let way = Way::of(problem.machine_with(&truth), &start_and_night(), &times, Skipping::default()).expect("it runs");
    let mut reads = vec![];
    for clutch in 0..3 {
        for quantity in READ {
            reads.extend(times.map(|when| {
                let under = Under::default();
                let value = way.shows(when, quantity, &under);
                Read {
                    clutch: clutch.to_string(),
                    when,
                    quantity,
                    under,
                    value,
                    gauge: quantity.row().gauge.at(value),
                    line: 0,
                }
            }));
        }
    }
    problem.running_in = READ.to_vec();
    problem.inspected = vec![Inspected { duty: "stop and go".into(), block: start_and_night(), reads }];
    (problem, truth)
}

/// The same readings with a gauge's scatter, parts that differ slightly from their nominal size, and running-in. Also
/// returns the depths of the latter.
pub fn scattered(exact: &[Read], repeat: u64) -> (Vec<Read>, [f64; 2]) {
    let depth = |k: usize| READ[k].row().running_in.abs() * normal(repeat, &format!("running-in {k}"));
    let depths = [depth(0), depth(1)];
    let one = |(i, read): (usize, &Read)| {
        let row = read.quantity.row();
        let When::Running(running) = read.when else { unreachable!("read by the hour meter") };
        let lost = READ.iter().position(|q| *q == read.quantity).map_or(0.0, |k| depths[k] * run_in(running, FADES));
        let level = row.level.at(read.value) * normal(repeat, &format!("level {} {}", read.clutch, read.quantity));
        let value = read.value - lost + level + read.gauge * normal(repeat, &format!("reading {i}"));
        Read { value, ..read.clone() }
    };
    (exact.iter().enumerate().map(one).collect(), depths)
}

/// Deviations of the constants and of the depths of running-in, in stated errors.
pub fn off(problem: &Problem, found: &Fitted, truth: &[f64], depths: [f64; 2]) -> Vec<f64> {
    let own = truth.iter().enumerate().map(|(k, t)| (found.values[k] / t).ln());
    let depths = depths.into_iter().enumerate().map(|(j, d)| found.values[problem.sought.len() + j] - d);
    own.chain(depths).zip(&found.errors).map(|(off, error)| off / error).collect()
}

#[test]
fn known_constants_are_recovered_from_noisy_readings() {
    let (mut problem, truth) = problem();
    let exact = problem.inspected[0].reads.clone();
    let (reads, depths) = scattered(&exact, 3);
    problem.inspected[0].reads = reads;
    let known = problem.constants();
    let effort = Effort { tolerance: 1e-4, patience: 6, ..Effort::default() };
    let found = fit(&problem, &known, effort, Noise::Stated).expect("a fit");
    for (k, off) in off(&problem, &found, &truth, depths).iter().enumerate() {
        // Four errors: once in 16 000.
        assert!(off.abs() < 4.0, "{} is off by {off} errors: {found:?}", known[k].name);
    }
    // The data are informative: every constant is known much better than before.
    for (own, error) in known.iter().zip(&found.errors).take(2) {
        assert!(*error < 0.5 * own.known.expect("a prior"), "{}: {found:?}", own.name);
    }
}

#[test]
fn running_in_removes_its_depth_as_it_decays() {
    let (problem, truth) = problem();
    let with = |depths: [f64; 2]| problem.bare_residuals(&[truth.clone(), depths.to_vec()].concat()).expect("it runs");
    let (without, taken) = (with([0.0; 2]), with([12e-6, 25e-6]));
    for (read, (without, taken)) in problem.inspected[0].reads.iter().zip(without.iter().zip(&taken)) {
        let depth = if read.quantity == Quantity::Washer { 12e-6 } else { 25e-6 };
        let When::Running(running) = read.when else { unreachable!("read by the hour meter") };
        // Closed form; a stop between two blocks makes the hour meter exact.
        let off = depth * (1.0 - (-running / FADES).exp()) / read.gauge;
        assert!((without - taken - off).abs() < 1e-6, "{read:?}: {without} {taken}");
    }
}

#[test]
fn the_springs_relaxation_is_recovered_from_engagement_speeds() {
    // A tachometer on a bench: 2 rpm. A relaxation twice the prior median is still in range.
    let (gauge, lies) = (2.0 * RPM, 0.5);
    let mut problem = Problem::new(
        Machine::default(),
        vec![setting("clutch.relaxation").expect("it can be learned")],
        (FADES, Skipping::default()),
    );
    let truth = problem.constants()[0].start * f64::exp(lies);
    let times = [0.0, 2.0, 20.0, 100.0, 200.0].map(|h| When::Running(h * HOUR));
    let way =
        Way::of(problem.machine_with(&[truth]), &start_and_night(), &times, Skipping::default()).expect("it runs");
    let mut reads = vec![];
    for clutch in 0..3 {
        let level = Quantity::Engagement.row().level.at(0.0) * normal(5, &format!("level {clutch}"));
        reads.extend(times.iter().enumerate().map(|(i, when)| Read {
            clutch: clutch.to_string(),
            when: *when,
            quantity: Quantity::Engagement,
            under: Under::default(),
            value: way.shows(*when, Quantity::Engagement, &Under::default())
                + level
                + gauge * normal(5, &format!("{clutch} {i}")),
            gauge,
            line: 0,
        }));
    }
    problem.inspected = vec![Inspected { duty: "stop and go".into(), block: start_and_night(), reads }];
    let known = problem.constants();
    let found = fit(&problem, &known, Effort { tolerance: 1e-4, ..Effort::default() }, Noise::Stated).expect("a fit");
    let off = (found.values[0] / truth).ln() / found.errors[0];
    assert!(off.abs() < 4.0, "off by {off} errors: {found:?}");
    assert!(found.errors[0] < 0.5 * known[0].known.expect("a prior"), "{found:?}");
}

#[test]
fn quantities_that_no_fitted_constant_affects_are_set_aside() {
    let (mut problem, _) = problem();
    problem.sought = vec![setting("washer.wear_oiled").expect("it can be learned")];
    let linings = problem.inspected[0].reads.iter().filter(|r| r.quantity == Quantity::Lining).count() as u64;
    assert_eq!(problem.set_aside_unmoved().expect("it runs"), [linings]);
    assert!(problem.inspected[0].reads.iter().all(|r| r.quantity == Quantity::Washer));
    assert_eq!(problem.running_in, [Quantity::Washer]);
}

#[test]
fn no_machine_is_simulated_twice_while_the_readings_of_one_part_are_fitted() {
    let (mut problem, _) = problem();
    problem.sought.truncate(1);
    problem.inspected[0].reads.retain(|read| read.clutch == "0");
    let tried = Arc::new(AtomicU64::new(0));
    let counted = tried.clone();
    problem.watch(move || {
        counted.fetch_add(1, Ordering::Relaxed);
    });
    let simulated = || tried.load(Ordering::Relaxed);
    assert_eq!(problem.set_aside_unmoved().expect("it runs"), [5], "the lining's readings");
    let before = simulated();
    let starts: Vec<f64> = problem.constants().iter().map(|c| c.start).collect();
    problem.columns(&starts).expect("it runs");
    assert_eq!(simulated(), before, "the start and its steps were simulated before");
    problem.solve(1, 1).expect("the readings show it");
    // Both central steps at the end, and a machine and its step up for each place; three for each would be over twenty.
    assert!(simulated() - before <= 16, "{}", simulated() - before);
    let before = simulated();
    problem.solve(1, 1).expect("the readings show it");
    assert_eq!(simulated(), before, "the same search needs no machine a second time");
}

#[test]
fn one_duty_cannot_separate_the_linings_wear_from_its_rise_with_heat() {
    let (mut problem, _) = problem();
    problem.sought = ["lining.wear", "lining.wear_slope"].map(|path| setting(path).expect(path)).to_vec();
    let mut constants = problem.constants();
    constants.iter_mut().skip(2).for_each(|c| c.known = None);
    let starts: Vec<f64> = constants.iter().map(|c| c.start).collect();
    let told = separate(&constants, &problem.columns(&starts).expect("slopes"), 0.02).expect_err("one temperature");
    let told = told.to_string();
    assert!(told.contains("cannot separate lining.wear from lining.wear_slope"), "{told}");
}
