//! The recording of a run, and that the run is the same without it.

use crate::bench_ride;
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::{Channel, IdleKind, Part};
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

/// Least and greatest of each channel over all rows.
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
        // Steady oil loss is detected from windows only; without them the end of the oil is not projected.
        let foreseen = b.life.is_some() && a.part != Part::Oil;
        assert_eq!(a.life.is_some(), foreseen, "{}", a.part);
    }
    assert!(without.warnings.is_empty(), "peaks and idling are not recorded: {:?}", without.warnings);
}

#[test]
fn the_run_lasts_as_long_as_its_segments_and_its_windows() {
    let run = ridden(60);
    let segments: Vec<Extremes> = run.segments.iter().map(|s| s.extremes.clone()).collect();
    let overall = hull(std::slice::from_ref(&run.overall));
    assert_eq!(hull(&segments), overall);
    for ((low, high), (least, most)) in hull(&rows(&run)).into_iter().zip(overall) {
        // The middle of a step is interpolated between its neighbours, which rounds.
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
            // When a vehicle stops, its last 1e-9 rad/s are set to zero; otherwise there is only rounding.
            assert!(low <= high + 1e-9 * high.abs().max(1e-3), "channel {k}: {low} {high}");
        }
    }
}

#[test]
fn the_means_of_windows_average_to_the_mean_of_the_run() {
    let run = ridden(60);
    let (windows, overall) = (&run.windows, &run.overall);
    let lengths: Vec<f64> = windows.spans().map(|(start, end)| end - start).collect();
    // Speeds, torque, temperatures and oil; wear in steps is resolved less finely.
    for k in 0..20 {
        let sum: f64 = windows.mean.iter().zip(&lengths).map(|(mean, length)| mean[k] * length).sum();
        let mean = sum / run.duration;
        // Windows use trapezia over half steps, the run Simpson's rule: at most 3e-5 apart here.
        assert!((mean - overall.mean[k]).abs() <= 1e-4 * overall.most[k], "channel {k}: {mean} {}", overall.mean[k]);
    }
}

#[test]
fn a_week_between_two_rides_leaves_enough_windows_for_each() {
    let mut sim =
        Simulation::new(Machine::default(), Options { windows: 600, ..Options::default() }).expect("a machine");
    let mut rides = vec![];
    for _ in 0..3 {
        let start = sim.clock();
        for _ in 0..10 {
            bench_ride::cycle(&mut sim, 30.0, 25.0, 60.0);
        }
        rides.push((start, sim.clock()));
        sim.perform(&bench_ride::ride(Task::Off, End::After(7.0 * 86400.0))).expect("the duty runs");
    }
    let run = sim.finish("standard", "three rides").expect("the ledgers close");
    let windows = &run.windows;
    assert!(windows.end.len() <= 600 && windows.spans().all(|(start, end)| end > start));
    assert!((windows.end.last().expect("windows") - run.duration).abs() < 1e-6);
    for (from, to) in rides {
        let within = windows.spans().filter(|(start, end)| *start >= from && *end <= to).count();
        // Three times 600 s of riding and at most 1456 s of rest, in at least 300 windows.
        assert!(within >= 24, "{within} windows from {from} to {to} s");
        let cooling = windows.spans().filter(|(start, end)| *start >= to && *end <= to + 3600.0).count();
        assert!(cooling >= 24, "{cooling} windows of the first hour's rest");
    }
    let k = Channel::named("band").expect("a channel") as usize;
    let sum: f64 = windows.spans().zip(&windows.mean).map(|((start, end), mean)| mean[k] * (end - start)).sum();
    assert!((sum / run.duration - run.overall.mean[k]).abs() < 0.02, "{} {}", sum / run.duration, run.overall.mean[k]);
}

/// Steps of a motor that idles get long: what wears within them is recorded as it wears, so that its rate late in a run is that of the run,
/// however long it is.
#[test]
fn what_an_idling_motor_wears_is_recorded_evenly_within_its_long_steps() {
    let life = |time: f64| {
        let machine = Machine { idle_kind: IdleKind::Governed, ..Machine::default() };
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        sim.perform(&Segment::Ride(Task::Idle, End::After(time))).expect("it idles");
        let run = sim.finish("standard", "idle").expect("the ledgers close");
        let washer = run.parts.iter().find(|used| used.part == Part::Washer).expect("a washer");
        let worn = run.windows.means();
        let depths: Vec<f64> = worn.rows().into_iter().map(|row| row[Channel::WasherWear as usize]).collect();
        // The last window may be a part of one.
        let late = &depths[depths.len() / 2..depths.len() - 1];
        let mean = (late[late.len() - 1] - late[0]) / (late.len() - 1) as f64;
        for two in late.windows(2) {
            assert!(
                ((two[1] - two[0]) / mean - 1.0).abs() < 0.02,
                "{} m in a window of {time} s, {mean} on average",
                two[1] - two[0]
            );
        }
        (washer.running.expect("a life"), time / washer.used)
    };
    for time in [60.0, 600.0, 1000.0, 3600.0, 20_000.0] {
        let (life, even) = life(time);
        assert!((life / even - 1.0).abs() < 0.01, "{life} s from {time} s, {even} s by the mean of the run");
    }
}
