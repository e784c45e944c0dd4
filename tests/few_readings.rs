//! What few readings of worn washers say, by the hour meter and by launches.

use crate::measured::fits;
use assert_cmd::Command;
use slipsoak_engine::calibrate::{Quantity, Told, Under, Way, When};
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::Skipping;
use std::fmt::Write as _;
use std::fs;

/// A short duty whose every block is one launch.
const SHORT: &str = "fn day(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(16.km_h, 240.s); ride.brake(1.5); ride.park(14.hours); }
title(\"What do few readings say?\");
compare(machine(\"example\"), duty(\"day\", Fn(\"day\")).repeated(4000.hours));
";

/// Washers by the engine with twice the wear, at running times: as hours, and as launches.
fn washers() -> [String; 2] {
    let block = [
        Segment::Ride(Task::Idle, End::After(20.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 20.0 / 3.6, within: 60.0 }),
        Segment::Ride(Task::Hold(16.0 / 3.6), End::After(240.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
        Segment::Ride(Task::Off, End::After(14.0 * 3600.0)),
    ];
    let mut machine = Machine::default();
    machine.washer.wear_oiled *= 2.0;
    let hours = [0.0, 5.0, 10.0, 20.0, 60.0, 120.0];
    let times = hours.map(|h| When::Running(h * 3600.0));
    let way = Way::of(machine, &block, &times, Skipping::default()).expect("it runs");
    let mut tables = ["hours [h]", "launches"].map(|head| format!("clutch,{head},washer [mm]\n"));
    for (h, when) in hours.iter().zip(times) {
        let washer = 1e3 * way.shows(when, Quantity::Washer, &Under::default());
        for (table, at) in tables.iter_mut().zip([*h, way.at(when).launches]) {
            writeln!(table, "one,{at},{washer}").expect("into memory");
        }
    }
    tables
}

/// A calibration with the short duty, in its own folder; returns told.json, the page and the figure.
fn learned(readings: &str, options: &[&str]) -> (String, String, String) {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("short.rhai"), SHORT).expect("written");
    fs::write(folder.path().join("readings.csv"), readings).expect("written");
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(folder.path());
    command.args(["calibrate", "short.rhai", "--inspections", "readings.csv", "--searches", "1", "--out", "out"]);
    let printed = command.args(["--report"]).args(options).assert().success().get_output().stdout.clone();
    // A path is not broken, so the line with the written files may be longer.
    for line in String::from_utf8(printed).expect("text").lines().filter(|line| !line.starts_with("Wrote ")) {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= 80, "{line}");
    }
    let text = |name: &str| fs::read_to_string(folder.path().join("out").join(name)).expect(name);
    (text("told.json"), text("report.html"), text("evidence.svg"))
}

#[test]
fn readings_before_three_times_the_running_in_time_are_dropped_on_request() {
    let [hours, _] = washers();
    let (told, page, _) = learned(&hours, &["--running-in", "drop", "--running-in-time", "4 h"]);
    assert!(fits("told", &told));
    let told: Told = serde_json::from_str(&told).expect("it reads back");
    // 0, 5 and 10 h are before 12 h.
    let source = &told.calibration.data[0];
    assert_eq!((source.used, source.set_aside), (3, 3));
    assert!(told.calibration.running_in.is_empty());
    assert!(told.evidence[0].readings.iter().all(|r| r.at >= 12.0 * 3600.0), "{:?}", told.evidence[0].readings);
    let washer = &told.calibration.constants[0];
    assert!((washer.value / washer.before / 2.0).ln().abs() < washer.factor.ln(), "{washer:?}");
    assert!(page.contains("3 readings were set aside") && page.contains("--running-in drop"));
}

#[test]
fn launches_give_the_same_result_as_the_hour_meter() {
    let [hours, launches] = washers();
    let fit = |readings: &str| {
        let (told, _, figure) = learned(readings, &["--running-in", "drop", "--running-in-time", "1 s"]);
        (serde_json::from_str::<Told>(&told).expect("it reads back"), figure)
    };
    let ((by_hours, with_hours), (by_launches, with_launches)) = (fit(&hours), fit(&launches));
    let value = |told: &Told| told.calibration.constants[0].value;
    // The launches are from a machine with another washer; only the effect of its wear on the ride may differ.
    assert!((value(&by_launches) / value(&by_hours) - 1.0).abs() < 0.01, "{by_launches:?} {by_hours:?}");
    assert_eq!((by_hours.evidence[0].by_launches, by_launches.evidence[0].by_launches), (false, true));
    assert!(with_hours.contains("running hours") && !with_hours.contains(">\nlaunches\n<"));
    assert!(with_launches.contains(">\nlaunches\n<"), "the axis names launches");
}
