//! What a run records, and that it runs the same without.

#[path = "../../tests/bench_ride/mod.rs"]
mod bench_ride;

use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::{Extremes, Run};
use slipsoak_engine::simulate::{Options, Simulation};

fn ridden(windows: usize) -> Run {
    let mut sim = Simulation::new(Machine::default(), Options { windows, ..Options::default() }).expect("a machine");
    for _ in 0..5 {
        bench_ride::cycle(&mut sim, 30.0, 25.0, 60.0);
    }
    sim.finish("standard", "stop and go").expect("the ledgers close")
}

fn rows(run: &Run) -> Vec<Extremes> {
    let w = &run.windows;
    let row = |k: usize| Extremes { least: w.least[k].clone(), mean: w.mean[k].clone(), most: w.most[k].clone() };
    (0..w.end.len()).map(row).collect()
}

/// Least and greatest of each channel over all.
fn hull(all: &[Extremes]) -> Vec<(f64, f64)> {
    let channels = 0..all[0].least.len();
    let over = |k: usize| {
        all.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), e| (low.min(e.least[k]), high.max(e.most[k])))
    };
    channels.map(over).collect()
}

#[test]
fn without_windows_nothing_is_recorded_and_the_run_is_the_same() {
    let (without, with) = (ridden(0), ridden(600));
    assert!(without.windows.end.is_empty() && without.overall.most.is_empty());
    assert!(without.segments.iter().all(|s| s.extremes == Extremes::default()));
    assert_eq!(without.segments.len(), with.segments.len());
    assert_eq!(without.ledgers, with.ledgers);
    assert_eq!(without.events, with.events);
    assert_eq!(without.work, with.work);
    for (a, b) in without.parts.iter().zip(&with.parts) {
        assert_eq!((&a.part, a.used), (&b.part, b.used));
        assert!(a.curve.is_empty() && !b.curve.is_empty());
        assert_eq!(a.life.is_some(), b.life.is_some(), "{}", a.part);
    }
    assert!(without.warnings.iter().any(|w| w.kind == "assumed"));
}

#[test]
fn the_run_comes_as_far_as_its_segments_and_its_windows_do() {
    let run = ridden(60);
    let segments: Vec<Extremes> = run.segments.iter().map(|s| s.extremes.clone()).collect();
    let overall = hull(std::slice::from_ref(&run.overall));
    assert_eq!(hull(&segments), overall);
    for ((low, high), (least, most)) in hull(&rows(&run)).into_iter().zip(overall) {
        // The middle of a step is found again between its neighbours, which rounds.
        let rounding = 1e-12 * least.abs().max(most.abs());
        assert!((low - least).abs() <= rounding && (high - most).abs() <= rounding, "{low} {high} {least} {most}");
    }
}

#[test]
fn neighbours_share_the_value_at_their_border() {
    let run = ridden(60);
    let segments: Vec<Extremes> = run.segments.iter().map(|s| s.extremes.clone()).collect();
    for neighbours in [segments, rows(&run)].iter().flat_map(|all| all.windows(2)) {
        for k in 0..neighbours[0].least.len() {
            let low = neighbours[0].least[k].max(neighbours[1].least[k]);
            let high = neighbours[0].most[k].min(neighbours[1].most[k]);
            // Where a vehicle comes to rest its last 1e-9 rad/s are struck off; in between there is only rounding.
            assert!(low <= high + 1e-9 * high.abs().max(1e-3), "channel {k}: {low} {high}");
        }
    }
}

#[test]
fn windows_of_a_run_hold_its_mean() {
    let run = ridden(60);
    let (windows, overall) = (&run.windows, &run.overall);
    let starts = std::iter::once(&0.0).chain(&windows.end);
    let lengths: Vec<f64> = starts.zip(&windows.end).map(|(start, end)| end - start).collect();
    // Speeds, torque, temperatures and oil; what wears in jumps is caught less finely.
    for k in 0..20 {
        let sum: f64 = windows.mean.iter().zip(&lengths).map(|(mean, length)| mean[k] * length).sum();
        let mean = sum / run.duration;
        // Windows hold trapezia over half steps, the run Simpson's rule: at most 3e-5 apart here.
        assert!((mean - overall.mean[k]).abs() <= 1e-4 * overall.most[k], "channel {k}: {mean} {}", overall.mean[k]);
    }
}
