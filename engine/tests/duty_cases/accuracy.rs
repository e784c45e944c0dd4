//! Errors of the integrator at given tolerances, case by case, against runs at a hundredth of the close tolerance, with
//! steps and processor time.
//!
//! `cargo run -p slipsoak-engine --example accuracy -- chosen 1,1 75,9,3,2,0.4` takes the cases on which the tolerances were chosen,
//! `apart` those kept apart. Each group is the allowed error of speeds, of the rest and, over those, of what is followed more
//! coarsely without slip, of speeds with slip, and of the film over the rest (1 if left out). `time 1,1` only runs all cases.
#![allow(clippy::print_stdout)]

#[path = "../bench_ride/mod.rs"]
mod bench_ride;
#[path = "mod.rs"]
mod duty_cases;

use duty_cases::{Case, Errors, chosen, kept_apart, processor_time};
use slipsoak_engine::simulate::Tolerance;

fn line(name: &str, e: &Errors, (steps, rejected): (u64, u64), time: f64) {
    let [lining, bore, washer, face] = e.worn;
    println!(
        "{name:<26} {:8.1e} {:8.1e} {lining:8.1e} {bore:8.1e} {washer:8.1e} {face:8.1e} {:8.1e} {:8.1e} {:8.1e} {:8.1e} {:6.3} {steps:7} {rejected:6} {time:7.1}",
        e.peak,
        e.warm,
        e.fill,
        e.slip,
        e.lock,
        e.open,
        e.of_single_runs(),
    );
}

fn main() {
    let mut args = std::env::args().skip(1);
    let what = args.next().unwrap_or_else(|| "apart".to_owned());
    let tolerances: Vec<Tolerance> = args
        .map(|group| {
            let factors: Vec<f64> = group.split(',').map(|factor| factor.parse().expect("a number")).collect();
            let [speeds, rest, more @ ..] = &factors[..] else {
                panic!("two to five factors, as 24,2 or 75,9,3,2,0.4")
            };
            let other = |k: usize| more.get(k).copied().unwrap_or(1.0);
            Tolerance { speeds: *speeds, rest: *rest, without_slip: other(0), slipping: other(1), film: other(2) }
        })
        .collect();
    let cases: Vec<Case> = match what.as_str() {
        "chosen" => chosen(),
        "apart" => kept_apart(),
        _ => chosen().into_iter().chain(kept_apart()).collect(),
    };
    if what == "time" {
        for tolerance in tolerances {
            let start = processor_time();
            let steps: u64 = cases.iter().map(|case| case.at(tolerance).run.work.steps).sum();
            println!("{tolerance:?}: {steps} steps, {:.1} ms", processor_time() - start);
        }
        return;
    }
    println!(
        "{:<26} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>6} {:>7} {:>6} {:>7}",
        "",
        "peak K",
        "other K",
        "lining",
        "bore",
        "washer",
        "face",
        "fill",
        "slip",
        "lock s",
        "open",
        "class",
        "steps",
        "reject",
        "ms"
    );
    let exact: Vec<_> = cases.iter().map(|case| case.at(Tolerance::alike(0.01))).collect();
    for tolerance in tolerances {
        println!("{tolerance:?}");
        let (mut worst, mut work, mut time) = (Errors::default(), (0, 0), 0.0);
        for (case, exact) in cases.iter().zip(&exact) {
            let start = processor_time();
            let found = case.at(tolerance);
            let spent = processor_time() - start;
            let (errors, w) = (Errors::of(&found, exact), found.run.work);
            line(case.name, &errors, (w.steps, w.rejected), spent);
            (worst, work, time) = (worst.worst(errors), (work.0 + w.steps, work.1 + w.rejected), time + spent);
        }
        line("worst, sums", &worst, work, time);
    }
}
