//! Benchmark: forty minutes of stop-and-go for one variant, a seventh of the cost of a figure of seven.

#[path = "../tests/bench_ride/mod.rs"]
mod bench_ride;

use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Options, Simulation};

fn main() {
    // Arguments for another harness must not end the benches: divan has no baselines.
    if std::env::args().any(|a| a == "--save-baseline") {
        divan::Divan::default().run_benches();
    } else {
        divan::main();
    }
}

#[divan::bench]
fn forty_minutes() -> u64 {
    let mut sim = Simulation::new(Machine::default(), Options::default()).expect("a machine");
    while sim.clock() < 2399.0 {
        bench_ride::cycle(&mut sim, 30.0, 25.0, 60.0);
    }
    sim.finish("standard", "bench").expect("the ledgers close").work.steps
}
