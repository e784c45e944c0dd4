//! Benchmark: cost of recording and of the script compared with stepping: forty minutes of stop-and-go, three ways.

#[path = "../../engine/tests/bench_ride/mod.rs"]
mod bench_ride;

use slipsoak::Script;
use slipsoak::language::limits::Limits;
use slipsoak::study::request::Request;
use slipsoak::study::{Study, asked};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Options, Simulation};
use std::collections::BTreeMap;
use std::path::PathBuf;

/// The same ride as `bench_ride::cycle`, by a duty that reads the clock and is therefore performed at once.
const SCRIPT: &str = r#"
fn stop_and_go(ride) {
    for round in 0..40 {
        let start = ride.clock;
        ride.idle(30.s);
        ride.launch(25.km_h);
        ride.hold(25.km_h, start + 60.s - ride.clock - 25.km_h / 1.5.m_s2);
        ride.brake(1.5);
        let rest = start + 60.s - ride.clock;
        if rest > 0.0 { ride.idle(rest); }
    }
}
compare(machine("example"), duty("stop and go", Fn("stop_and_go")));
"#;

fn main() {
    // Arguments for another harness must not end the benches: divan has no baselines.
    if std::env::args().any(|a| a == "--save-baseline") {
        divan::Divan::default().run_benches();
    } else {
        divan::main();
    }
}

fn performed(options: Options) -> u64 {
    let mut sim = Simulation::new(Machine::default(), options).expect("a machine");
    for _ in 0..40 {
        bench_ride::cycle(&mut sim, 30.0, 25.0, 60.0);
    }
    sim.finish("standard", "bench").expect("the ledgers close").work.steps
}

#[divan::bench]
fn a_stepping() -> u64 {
    performed(Options { windows: 0, ..Options::default() })
}

#[divan::bench]
fn b_recording() -> u64 {
    performed(Options::default())
}

#[divan::bench]
fn c_script_and_recording() -> u64 {
    let script = Script { path: PathBuf::from("bench.rhai"), name: "bench.rhai".to_owned(), text: SCRIPT.to_owned() };
    let none = BTreeMap::new();
    let request = Request::of(&script, &none, Limits::default());
    let Study::Runs(runs) = asked(&request, (1, 1), &mut |_| ()).expect("a script") else { panic!("runs") };
    runs.perform(Some(1), |_| (), &mut |_| ()).expect("the duty runs").record.runs[0].work.steps
}
