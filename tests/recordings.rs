//! Recorded rides as they come from a telephone or a logger: noise, invalid times, long files, unused columns.

use crate::common::at_home as slipsoak;
use slipsoak::read::ridelog;
use std::fmt::Write as _;
use std::fs;
use std::time::{Duration, Instant};

/// Numbers that look normally distributed, from a seed.
struct Noise(u64);

impl Noise {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// Four starts from rest, to 8.5 m/s and back, one speed a second, m/s.
fn four_starts() -> Vec<f64> {
    let mut speeds = vec![];
    for _ in 0..4 {
        speeds.extend((0..40).map(|_| 0.0));
        speeds.extend((0..10).map(|k| 0.85 * f64::from(k)));
        speeds.extend((0..60).map(|_| 8.5));
        speeds.extend((0..8).map(|k| 8.5 - 1.06 * f64::from(k)));
    }
    speeds.extend((0..40).map(|_| 0.0));
    speeds
}

/// Their log: the speed of a receiver, which has no sign.
fn speed_log(deviation: f64, seed: u64) -> String {
    let mut noise = Noise(seed);
    let mut text = String::from("time [s],speed [m/s]\n");
    for (t, speed) in four_starts().iter().enumerate() {
        writeln!(text, "{t},{:.3}", (speed + deviation * noise.normal()).abs()).unwrap();
    }
    text
}

/// Their track northward: positions with an error of their own each second and one that wanders, m.
fn track_log(own: f64, wandering: f64, seed: u64) -> String {
    let mut noise = Noise(seed);
    let (mut way, mut off) = (0.0, [0.0, 0.0]);
    let mut text = String::from("<gpx><trk><trkseg>\n");
    for (t, speed) in four_starts().iter().enumerate() {
        way += speed;
        off = off.map(|o| 0.97 * o + wandering * noise.normal());
        let [east, north] = off.map(|o| (o + own * noise.normal()) / 111_320.0);
        let (lat, minute, second) = (way / 111_320.0 + north, t / 60, t % 60);
        let time = format!("2024-05-01T09:{minute:02}:{second:02}Z");
        writeln!(text, "<trkpt lat=\"{lat:.8}\" lon=\"{east:.8}\"><time>{time}</time></trkpt>").unwrap();
    }
    text + "</trkseg></trk></gpx>\n"
}

/// Number of launches, their slip energy, J, and the highest lining temperature, K, of a recording.
fn cost(file: &str, text: &str) -> (usize, f64, f64) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join(file);
    fs::write(&path, text).expect("written");
    let output = slipsoak(&["retrace", "--json", path.to_str().expect("a path")]).assert().success();
    let ridden: serde_json::Value = serde_json::from_slice(&output.get_output().stdout).expect("JSON");
    (
        ridden["launches"].as_array().unwrap().len(),
        ridden["heat"][0].as_f64().unwrap(),
        ridden["lining"].as_f64().unwrap(),
    )
}

#[test]
fn a_noisy_speed_log_gives_the_same_wear_as_the_clean_one() {
    // The same made-up ride without noise is the truth. 1.2 km/h was seen in a telephone's log at rest.
    let (launches, heat, lining) = cost("ride.csv", &speed_log(0.0, 0));
    assert_eq!(launches, 4);
    for (deviation, seed) in [(0.6 / 3.6, 1), (1.2 / 3.6, 2), (1.2 / 3.6, 3), (2.0 / 3.6, 4)] {
        let (noisy, noisy_heat, noisy_lining) = cost("ride.csv", &speed_log(deviation, seed));
        assert_eq!(noisy, 4, "{deviation} m/s");
        assert!((noisy_heat / heat - 1.0).abs() < 0.1, "{noisy_heat} J for {heat} J at {deviation} m/s");
        assert!((noisy_lining - lining).abs() < 5.0, "{noisy_lining} K for {lining} K at {deviation} m/s");
    }
}

/// Held against the same made-up track without noise. How far a telephone's positions wander at rest is an assumption.
#[test]
fn a_track_that_wanders_at_rest_has_no_launches_that_nobody_rode() {
    let (launches, heat, lining) = cost("ride.gpx", &track_log(0.0, 0.0, 0));
    assert_eq!(launches, 4);
    for (own, wandering, seed) in [(0.15, 0.2, 1), (0.4, 0.35, 2), (0.4, 0.35, 3), (0.6, 0.2, 4)] {
        let (noisy, noisy_heat, noisy_lining) = cost("ride.gpx", &track_log(own, wandering, seed));
        assert_eq!(noisy, 4, "{own} and {wandering} m");
        assert!((noisy_heat / heat - 1.0).abs() < 0.1, "{noisy_heat} J for {heat} J at {own} and {wandering} m");
        assert!((noisy_lining - lining).abs() < 5.0, "{noisy_lining} K for {lining} K at {own} and {wandering} m");
    }
}

#[test]
fn removed_noise_is_reported_and_a_clean_log_is_unchanged() {
    let (trace, report) = ridelog::read("ride.csv", &speed_log(0.0, 0)).unwrap();
    assert_eq!((trace.points.len() as u64, report.noise, report.evened, report.standing), (report.points, 0.0, 0.0, 0));
    // A published urban cycle (UN Regulation 83, annex 4a), as shipped.
    let (trace, report) =
        ridelog::read("ece15.csv", &fs::read_to_string("scripts/duty/ece15.csv").expect("shipped")).unwrap();
    assert_eq!((trace.points.len() as u64, report.noise, report.evened), (report.points, 0.0, 0.0));
    let (_, report) = ridelog::read("ride.csv", &speed_log(1.2 / 3.6, 2)).unwrap();
    assert!((report.noise - 0.333).abs() < 0.06, "{}", report.noise);
    let lines = slipsoak_plots::words::cleaning::lines(&report, "ride.csv").join("\n");
    for said in ["the speed is noisy at rest (standard deviation 0.", "counted as standing", "averaged over 2"] {
        assert!(lines.contains(said), "{said}: {lines}");
    }
}

#[test]
fn recordings_without_duration_and_impossible_times_are_refused_with_their_line() {
    let track = |times: &[&str]| {
        let points = times
            .iter()
            .enumerate()
            .map(|(k, t)| format!("<trkpt lat=\"0.000{k}\" lon=\"0\"><time>{t}</time></trkpt>\n"));
        format!("<gpx><trk><trkseg>\n{}</trkseg></trk></gpx>\n", points.collect::<String>())
    };
    let good = "2024-05-01T09:30:00Z";
    for (name, text, line) in [
        ("a.gpx", track(&[good, good, good]), "holds no ride: fewer than two usable points"),
        ("b.csv", "time [s],speed [km/h]\n0,0\n1e-9,0.1\n".to_owned(), "line 3: the recording lasts 1e-9 s"),
        ("c.gpx", track(&[good, "2024-05-01T09:30:05+nan:00"]), "line 3: column 1: `2024-05-01T09:30:05+nan:00`"),
        ("d.gpx", track(&[good, "2024-02-31T09:30:05Z"]), "line 3: column 1: `2024-02-31T09:30:05Z` is no time"),
        ("e.gpx", track(&[good, "9000000000000000000-01-01T00:00:00Z"]), "line 3: column 1:"),
    ] {
        let message = ridelog::read(name, &text).unwrap_err().to_string();
        assert!(message.contains(name) && message.contains(line), "{name}: {message}");
    }
}

#[test]
fn ten_hours_by_the_second_are_read_at_once() {
    // Takes much longer than a second if every point's line is counted from the start.
    let mut text = String::from("<gpx><trk><trkseg>\n");
    for k in 0..36_000_u32 {
        let (h, m, s) = (k / 3600, k / 60 % 60, k % 60);
        let lat = 4e-5 * f64::from(k % 200) * f64::from(u8::from(k % 200 < 100));
        writeln!(text, "<trkpt lat=\"{lat}\" lon=\"0\"><time>2024-05-01T{h:02}:{m:02}:{s:02}Z</time></trkpt>").unwrap();
    }
    text += "</trkseg></trk></gpx>\n";
    let start = Instant::now();
    ridelog::read("ride.gpx", &text).unwrap();
    assert!(start.elapsed() < Duration::from_secs(4), "{:?}", start.elapsed());
    // The worst case for straight lines: alternating standing and riding.
    let mut text = String::from("time [s],speed [m/s]\n");
    for k in 0..100_000 {
        writeln!(text, "{},{}", 0.45 * f64::from(k), 5 * (k % 4 / 2)).unwrap();
    }
    let start = Instant::now();
    ridelog::read("ride.csv", &text).unwrap();
    assert!(start.elapsed() < Duration::from_secs(4), "{:?}", start.elapsed());
}

#[test]
fn an_element_crowded_with_attributes_is_refused_before_it_is_read() {
    let mut text = String::from("<?xml version=\"1.0\"?>\n<!-- it's > a=b --><gpx>\n<trkpt");
    for k in 0..60_000 {
        write!(text, " a{k}=\"=\"").unwrap();
    }
    text += "/></gpx>";
    let start = Instant::now();
    let message = ridelog::read("ride.gpx", &text).unwrap_err().to_string();
    assert!(message.contains("line 3: an element has more than 100 attributes"), "{message}");
    assert!(start.elapsed() < Duration::from_secs(1), "{:?}", start.elapsed());
}

#[test]
fn a_spreadsheet_s_log_is_read_and_its_spare_columns_are_named() {
    let plain = "time [s],speed [km/h]\n0,0\n10,0\n20,18.5\n30,18.5\n40,0\n";
    let (trace, _) = ridelog::read("ride.csv", plain).unwrap();
    for text in [
        "Time [s];Speed [km/h];note;accuracy [m]\n0;0;a;3\n10;0;;3\n20;18,5;b;3\n30;18,5;;3\n40;0;;3\n",
        "\u{feff}time [s]\tSPEED [km/h]\tnote\taccuracy [m]\n0\t0\ta\t3\n10\t0\t\t3\n20\t18.5\tb\t3\n30\t18,5\t\t3\n40\t0\t\t3\n",
    ] {
        let (other, report) = ridelog::read("ride.csv", text).unwrap();
        assert_eq!(other, trace, "{text}");
        let lines = slipsoak_plots::words::cleaning::lines(&report, "ride.csv").join("\n");
        assert!(lines.contains("columns not used: note, accuracy"), "{lines}");
    }
}

#[test]
fn a_ride_faster_than_the_machine_is_reported_with_both_speeds_and_one_launch_counts_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("ride.csv");
    fs::write(&path, "time [s],speed [km/h]\n0,0\n10,0\n40,60\n90,60\n110,0\n120,0\n").expect("written");
    let output = slipsoak(&["retrace", path.to_str().expect("a path")]).assert().success();
    let text = String::from_utf8(output.get_output().stdout.clone()).expect("text").replace('\u{a0}', " ");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("One launch from standstill"), "{text}");
    assert!(text.contains("The ride asks for 60 km/h (37 mph), but motor and gearing reached 3"), "{text}");
    assert!(!text.contains("never locked"), "{text}");
}

/// As written by spreadsheets with a decimal comma, and by instruments.
#[test]
fn a_trace_is_read_with_semicolons_tabs_and_decimal_commas_like_a_recording() {
    let plain = slipsoak::read::trace::read("t.csv", "time [s],speed [km/h]\n0,0\n2.5,18\n5,0\n").expect("a trace").0;
    assert_eq!(plain.points, [(0.0, 0.0), (2.5, 5.0), (5.0, 0.0)]);
    for text in [
        "time [s];speed [km/h]\n0;0\n2,5;18,0\n5;0\n",
        "\u{feff}time [s]\tspeed [km/h]\r\n0\t0\r\n2,5\t18\r\n5\t0\r\n",
        "Speed [km/h];Time [s]\n0;0\n18;2.5\n0;5\n",
    ] {
        assert_eq!(slipsoak::read::trace::read("t.csv", text).expect("a trace").0, plain, "{text}");
        let (recorded, _) = slipsoak::read::ridelog::read("t.csv", text).expect("a recording");
        assert_eq!(recorded, plain, "{text}");
    }
    let refused = |text: &str| slipsoak::read::trace::read("t.csv", text).expect_err("refused").to_string();
    for (text, expected) in [
        (
            "time [s];sped [km/h]\n0;0\n",
            "line 1: there is no column `sped` (did you mean `speed`?); columns: time, speed",
        ),
        ("time [s],speed [km/h]\n0,0\n1,5,3\n", "it has 3 columns, the head 2 (with decimal commas, put semicolons"),
        ("time [s],speed [km/h]\n1,0\n2,5\n", "line 2: the time is 1 s; a trace begins at 0 s"),
        ("time [s],speed [km/h]\n0,0\n2,300\n", "line 3, column `speed`: 300 km/h is faster than a trace may be (216)"),
        ("time [s],speed [km/h]\n0,0\n", "fewer than two lines of numbers"),
    ] {
        assert!(refused(text).contains(expected), "{}", refused(text));
    }
}
