//! Benchmark: duration of the reference problem's day. Seconds per 1000 h of use are the day's seconds times
//! 1000/6.889.

#[path = "../tests/systems/reference/mod.rs"]
mod reference;

fn main() {
    // Arguments for another harness must not end the benches: divan has no baselines.
    if std::env::args().any(|a| a == "--save-baseline") {
        divan::Divan::default().run_benches();
    } else {
        divan::main();
    }
}

/// 400 cycles and twelve hours of rest.
#[divan::bench]
fn reference_day() -> f64 {
    reference::Day::new(divan::black_box(1.5), 10.0).error().expect("the reference runs")
}
