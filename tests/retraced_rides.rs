//! Recorded rides from outside: distance, launches, flaws.

use crate::common::at_home as slipsoak;
use slipsoak::read::ridelog;
use slipsoak_engine::retraced::Retraced;
use std::fmt::Write as _;
use std::fs;

#[test]
fn the_published_cycle_has_its_distance_and_three_launches() {
    // UN Regulation 83, part one: 1014.58 m by integration of its 25 operations; three starts from standstill.
    let text = fs::read_to_string("scripts/duty/ece15.csv").expect("the cycle");
    let (trace, report) = ridelog::read("ece15.csv", &text).expect("clean");
    assert!((report.distance - 1014.58).abs() < 0.005, "{}", report.distance);
    assert_eq!(
        (trace.points.len() as u64, report.kept),
        (report.points, 26),
        "nothing is left out of a clean recording"
    );
    let made = slipsoak(&[
        "retrace",
        "scripts/duty/ece15.csv",
        "--machine",
        "scripts/parts/weekend-cart.json",
        "--set",
        "vehicle.ratio=5.2",
        "--json",
    ]);
    let made = { made }.assert().success().get_output().stdout.clone();
    let ride: serde_json::Value = serde_json::from_slice(&made).expect("JSON");
    let launches = ride["launches"].as_array().expect("launches");
    assert_eq!(launches.len(), 3);
    let sum: f64 = launches.iter().map(|l| l["energy"].as_f64().expect("a number")).sum();
    assert!((sum / ride["heat"][0].as_f64().expect("a number") - 1.0).abs() < 1e-12);
    assert!(sum <= ride["heat"][1].as_f64().expect("a number"));
}

/// Six hours of the same launch each minute: windows of the run are then longer than its start.
#[test]
fn launches_of_a_long_ride_hold_all_its_slip_and_are_alike() {
    let folder = tempfile::tempdir().expect("a folder");
    let ride = folder.path().join("long.csv");
    let mut text = "time [s],speed [km/h]\n".to_owned();
    for minute in 0..360 {
        for (second, speed) in [(0, 0.0), (20, 0.0), (26, 24.0), (50, 24.0), (58, 0.0)] {
            writeln!(text, "{},{speed}", 60 * minute + second).expect("into memory");
        }
    }
    fs::write(&ride, text).expect("written");
    let path = ride.to_str().expect("a path");
    let made = slipsoak(&["retrace", path, "--machine", "scripts/parts/trail-cart.json", "--json"]);
    let made = { made }.assert().success().get_output().stdout.clone();
    let ridden: Retraced = serde_json::from_slice(&made).expect("JSON");
    assert_eq!(ridden.launches.len(), 360);
    let (launches, ride) = ridden.heat;
    assert!(launches <= ride && launches > 0.99 * ride, "{launches} of {ride} J");
    let late = &ridden.launches[180..];
    let mean = late.iter().map(|launch| launch.energy).sum::<f64>() / late.len() as f64;
    assert!(late.iter().all(|launch| (launch.energy / mean - 1.0).abs() < 0.02), "{late:?}");
}

#[test]
fn every_flaw_of_a_ride_from_positions_is_reported() {
    let text = fs::read_to_string("scripts/duty/errands.gpx").expect("the ride");
    let (_, report) = ridelog::read("errands.gpx", &text).expect("clean");
    // It was made with one of each: a repeated and a backward time, a position 220 m off (two steps), and 17 s without
    // points.
    assert_eq!((report.repeated, report.backward, report.jumps, report.gaps), (1, 1, 2, 1), "{report:?}");
    assert!((report.gap_time - 17.0).abs() < 1e-9 && report.evened < 1.0, "{report:?}");
    // Made with 1004 m; positions scatter by 6 cm, and 17 s are a straight line.
    assert!((report.distance / 1004.25 - 1.0).abs() < 0.03, "{report:?}");
}
