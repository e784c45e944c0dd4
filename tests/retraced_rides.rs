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

/// The last of its launches was one of 0 kJ.
#[test]
fn where_the_slope_alone_sets_it_off_that_is_no_launch_and_is_said() {
    for (slope, launches, said) in [("-0.12", 2, "set off once by rolling"), ("-0.2", 0, "set off 3 times by rolling")]
    {
        let slope = format!("surroundings.grade={slope}");
        let of_ride = ["retrace", "scripts/duty/ece15.csv", "--machine", "scripts/parts/weekend-cart.json"];
        let asked = |more: &[&str]| {
            let set = ["--set", "vehicle.ratio=5.2", "--set", &slope];
            let made = slipsoak(&[&of_ride[..], &set, more].concat()).assert().success();
            String::from_utf8(made.get_output().stdout.clone()).expect("text")
        };
        let ride: Retraced = serde_json::from_str(&asked(&["--json"])).expect("JSON");
        assert!(ride.launches.len() == launches && ride.launches.iter().all(|launch| launch.energy > 10.0), "{slope}");
        assert_eq!(ride.rolled as usize, 3 - launches);
        let told = asked(&[]).split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(said) && !told.contains("0 kJ to"), "{told}");
    }
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

/// A track northward: seconds and metres made good, at most a position a second.
fn track(positions: &[(u32, f64)]) -> String {
    let one = |(second, way): &(u32, f64)| {
        let (lat, hour, minute, second) = (way / 110_574.0, 9 + second / 3600, second / 60 % 60, second % 60);
        format!(
            "<trkpt lat=\"{lat:.8}\" lon=\"0\"><time>2024-05-01T{hour:02}:{minute:02}:{second:02}Z</time></trkpt>\n"
        )
    };
    format!("<gpx><trk><trkseg>\n{}</trkseg></trk></gpx>\n", positions.iter().map(one).collect::<String>())
}

/// Up to 6 m/s in ten seconds and held for twenty; then nothing is recorded for that long, while it moves that far; and held again.
fn with_gap(lasts: u32, gone: f64) -> String {
    let way = |t: u32| if t < 10 { 0.3 * f64::from(t * t) } else { 30.0 + 6.0 * f64::from(t - 10) };
    let before = (0..=30).map(|t| (t, way(t)));
    let after = (0..=20).map(|t| (30 + lasts + t, way(30) + gone + 6.0 * f64::from(t)));
    track(&before.chain(after).collect::<Vec<_>>())
}

#[test]
fn where_no_position_was_recorded_the_machine_stood_or_moved_at_the_mean_speed() {
    // 150 m before and 120 m after, less what smoothing takes at the ends.
    let recorded = 270.0;
    for (lasts, gone, stood, said) in [
        (
            600,
            15.0,
            1,
            "1 gap longer than 10 s, 10 min in all: it stood by the positions on both sides, with the motor taken to idle, though it may have been off",
        ),
        (
            60,
            240.0,
            0,
            "1 gap longer than 10 s, 1 min in all: it moved 240 m between the positions on both sides, at the mean speed",
        ),
    ] {
        let (trace, report) = ridelog::read("ride.gpx", &with_gap(lasts, gone)).expect("clean");
        assert_eq!((report.gaps, report.stood), (1, stood), "{report:?}");
        // Stopping and setting off take 12 m each.
        let all = recorded + if stood == 1 { 24.0 } else { gone };
        assert!((report.distance - all).abs() < 20.0, "{} for {all}", report.distance);
        let middle = 30.0 + 0.5 * f64::from(lasts);
        let at = trace.points.windows(2).find(|pair| pair[1].0 > middle).expect("there")[0].1;
        let held = if stood == 1 { 0.0 } else { gone / f64::from(lasts) };
        assert!((at - held).abs() < 0.3, "{at} for {held} m/s");
        let lines = slipsoak_plots::words::cleaning::lines(&report, "ride.gpx").join("\n").replace('\u{a0}', " ");
        assert!(lines.contains(said), "{lines}");
    }
    let refused = ridelog::read("ride.gpx", &with_gap(840, 1200.0)).expect_err("too long").to_string();
    for said in [
        "ride.gpx, line 33: no position was recorded in the 14 min before it, in which the machine moved 1.2 km",
        "as two rides",
    ] {
        assert!(refused.contains(said), "{refused}");
    }
}

#[test]
fn a_position_each_twenty_seconds_gives_one_ride_without_stops_between() {
    let positions: Vec<(u32, f64)> = (0..=12).map(|k| (20 * k, 120.0 * f64::from(k))).collect();
    let (trace, report) = ridelog::read("ride.gpx", &track(&positions)).expect("clean");
    assert_eq!((report.gaps, report.stood, report.points, report.kept), (12, 0, 13, 13 - report.straightened));
    assert!(trace.points[1..trace.points.len() - 1].iter().all(|point| point.1 > 5.0), "{trace:?}");
}

#[test]
fn what_is_kept_and_what_is_dropped_add_up_to_the_points_given() {
    let errands = fs::read_to_string("scripts/duty/errands.gpx").expect("the ride");
    // The last position is far off, or repeats a time.
    let odd = |last: (u32, f64)| track(&(0..40).map(|t| (t, 3.0 * f64::from(t))).chain([last]).collect::<Vec<_>>());
    for text in
        [errands, with_gap(60, 240.0), with_gap(600, 0.0), odd((40, 3000.0)), odd((39, 117.0)), odd((90, 130.0))]
    {
        let (_, report) = ridelog::read("ride.gpx", &text).expect("clean");
        let dropped = report.repeated + report.backward + report.jumps + report.joined + report.straightened;
        assert_eq!(report.kept + dropped, report.points, "{report:?}");
        assert!(report.straightened > 0, "{report:?}");
    }
}

#[test]
fn altitudes_of_a_hilly_track_are_said_to_be_left_out_and_those_of_a_level_one_hardly() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("hill.gpx");
    for (slope, asked, told) in [(0.1, "0", true), (0.01, "0", false), (0.1, "0.05", false)] {
        let climbs = with_gap(11, 66.0);
        let mut number = 0.0;
        let climbs: String = climbs
            .split_inclusive("<time>")
            .map(|part| {
                number += 1.0;
                let ele = format!("<ele>{:.1}</ele><time>", 100.0 + slope * 6.0 * number);
                part.replace("<time>", &ele)
            })
            .collect();
        let (_, report) = ridelog::read("hill.gpx", &climbs).expect("clean");
        // Fifty-two positions, the ends apart by 51 steps.
        assert!((report.climbs - slope * 6.0 * 51.0).abs() < 0.11, "{report:?}");
        fs::write(&path, climbs).expect("written");
        let (path, grade) = (path.to_str().expect("a path"), format!("surroundings.grade={asked}"));
        let ask = ["retrace", path, "--machine", "scripts/parts/trail-cart.json", "--set", &grade];
        let done = slipsoak(&ask).assert().success();
        let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert_eq!(text.contains("Launches uphill take much more heat"), told, "{text}");
        assert!(text.contains("altitudes not used; they range over"), "{text}");
        assert_eq!(text.contains("no motor braking"), asked != "0", "{text}");
    }
}

#[test]
fn a_launch_before_the_recording_is_not_counted_and_one_at_its_start_is() {
    let folder = tempfile::tempdir().expect("a folder");
    // From 18 km/h or from rest to a stop, then a launch.
    let table = |first: u32| format!("time [s],speed [km/h]\n0,{first}\n6,18\n30,18\n36,0\n50,0\n56,18\n70,18\n76,0\n");
    // Positions at 6 m/s from the first on, and from rest with a hard start.
    let away = |from: u32| track(&(0..=60).map(|t| (t, 6.0 * f64::from(t + from))).collect::<Vec<_>>());
    let still = track(
        &(0..=60)
            .map(|t| (t, if t < 4 { 1.4 * f64::from(t * t) } else { 11.2 * f64::from(t - 2) }))
            .collect::<Vec<_>>(),
    );
    for (name, text, begins, launches) in [
        ("moving.csv", table(18), 5.0, 1),
        ("standing.csv", table(0), 0.0, 2),
        ("moving.gpx", away(0), 6.0, 0),
        ("standing.gpx", still, 0.0, 1),
    ] {
        let path = folder.path().join(name);
        fs::write(&path, &text).expect("written");
        let ask = ["retrace", path.to_str().expect("a path"), "--machine", "scripts/parts/trail-cart.json"];
        let asked = |more: &[&str]| {
            let done = slipsoak(&[&ask[..], more].concat()).assert().success();
            String::from_utf8(done.get_output().stdout.clone()).expect("text")
        };
        let ridden: Retraced = serde_json::from_str(&asked(&["--json"])).expect("JSON");
        assert!((ridden.recording.begins - begins).abs() < 0.01, "{name}: {:?}", ridden.recording);
        assert_eq!(ridden.launches.len(), launches, "{name}");
        assert_eq!(asked(&[]).contains("The recording begins at"), begins > 0.0, "{name}");
    }
}
