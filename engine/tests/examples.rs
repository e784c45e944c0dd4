//! The examples run, and print what they promise.

use std::process::Command;

/// Output of an example.
fn printed(name: &str) -> String {
    let mut cargo = Command::new(env!("CARGO"));
    cargo
        .args(["run", "--quiet", "--locked", "--example", name])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."));
    if !cfg!(debug_assertions) {
        cargo.arg("--release");
    }
    let done = cargo.output().expect("cargo runs");
    assert!(done.status.success(), "{name}: {}", String::from_utf8_lossy(&done.stderr));
    String::from_utf8(done.stdout).expect("text")
}

#[test]
fn no_example_has_more_than_25_lines() {
    for file in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/examples")).expect("the examples") {
        let path = file.expect("a file").path();
        let lines = std::fs::read_to_string(&path).expect("a text").lines().count();
        assert!(lines <= 25, "{} has {lines}", path.display());
    }
}

fn number_after(text: &str, before: &str) -> f64 {
    let rest = text.split(before).nth(1).unwrap_or_else(|| panic!("no `{before}` in: {text}"));
    rest.split_whitespace().next().and_then(|n| n.trim_end_matches([',', ':']).parse().ok()).expect("a number")
}

#[test]
fn one_run_prints_the_lining_and_the_heat_of_a_launch() {
    let text = printed("one_run");
    assert!((50.0..250.0).contains(&number_after(&text, "lining ")), "{text}");
    // A clutch that accelerates a machine dissipates at least as much energy as the machine then has: 130 kg at 20 km/h
    // have 2 kJ.
    assert!(number_after(&text, "slip heat ") > 2.0, "{text}");
}

#[test]
fn a_fleet_prints_when_a_tenth_half_and_nine_tenths_are_worn_out() {
    let text = printed("a_fleet");
    let names: Vec<&str> = text.lines().filter_map(|line| line.split(':').next()).collect();
    assert_eq!(names, ["B10", "B50", "B90"], "{text}");
}

#[test]
fn calibrate_prints_the_washers_wear_constant() {
    let text = printed("calibrate");
    assert!(text.starts_with("washer.wear_oiled: "), "{text}");
    // The data narrow the prior, which is a factor of 3 (`ASSUMED`).
    assert!((1.0..2.0).contains(&number_after(&text, "a factor of ")), "{text}");
}
