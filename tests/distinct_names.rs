//! Machines and duties with the same name are distinguished by their differences: in the table, in files, in the
//! record.

use crate::studies::{folder, run, slipsoak};
use std::fs;

const STUDY: &str = r#"
fn lap(ride) { ride.idle(5.s); ride.launch(20.km_h); ride.brake(2); }
fn lot(ride) { ride.idle(20.s); }
let trolley = machine("hopper");
compare([1700, 1900].map(|n| trolley.spring(n.rpm)), duty("lap", Fn("lap")));
compare(trolley.spring(1900.rpm).having("lining.friction", 0.3), [duty("lap", Fn("lap")), duty("lap", Fn("lot"))]);
compare(trolley.spring(2300.rpm).called("mine"), duty("lap", Fn("lap")));
"#;

#[test]
fn machines_of_one_name_are_distinguished_by_as_few_settings_as_possible() {
    let folder = folder(STUDY);
    let at = folder.path();
    fs::write(at.join("hopper.json"), r#"{ "name": "hopper trolley" }"#).expect("written");
    let text = run(at, &["--out", "out", "--no-pictures"]);
    let record: slipsoak_engine::record::Record =
        serde_json::from_slice(&fs::read(at.join("out/record.json")).expect("a record")).expect("JSON");
    let names: Vec<&str> = record.runs.iter().map(|r| r.variant.as_str()).collect();
    let [weak, strong, gripping] = ["1700 rpm", "1900 rpm, lining friction 0.4", "1900 rpm, lining friction 0.3"];
    assert_eq!(names, [weak, strong, gripping, gripping, "mine"]);
    let duties: Vec<&str> = record.runs.iter().map(|r| r.duty.as_str()).collect();
    assert_eq!(duties, ["lap", "lap", "lap", "lap (2)", "lap"]);
    let files: Vec<String> = fs::read_dir(at.join("out"))
        .expect("a folder")
        .map(|f| f.expect("a file").file_name().to_string_lossy().into_owned())
        .collect();
    assert!(files.iter().any(|f| f.starts_with("01-1700-rpm")), "{files:?}");
    assert!(text.contains("1700") && text.contains("0.3"), "{text}");
}

/// A lining changes a dozen settings, the first of which is the motor's inertia.
#[test]
fn machines_with_other_linings_and_oils_are_named_by_these() {
    let folder = folder(
        r#"
let cart = machine("example");
let carts = [cart, cart.lined("sintered"), cart.oiled("SAE 40")];
compare(carts, duty("rest", |ride| ride.idle(20.s)));
"#,
    );
    let at = folder.path();
    run(at, &["--out", "out", "--no-pictures"]);
    let record: slipsoak_engine::record::Record =
        serde_json::from_slice(&fs::read(at.join("out/record.json")).expect("a record")).expect("JSON");
    let names: Vec<&str> = record.runs.iter().map(|r| r.variant.as_str()).collect();
    assert_eq!(names, ["lining woven, oil SAE 30", "lining sintered", "lining woven, oil SAE 40"]);
}

/// The third was named by its spring alone, in which the others differ.
#[test]
fn a_machine_is_named_by_what_it_alone_has_besides_what_the_others_differ_in() {
    let folder = folder(
        r#"
let cart = machine("example");
let high = cart.at_altitude(2000.m);
let carts = [cart.spring(1900.rpm), cart.spring(2100.rpm), high, cart.spring(2300.rpm).having("vehicle.mass", 240.kg)];
compare(carts, duty("rest", |ride| ride.idle(20.s)));
"#,
    );
    run(folder.path(), &["--out", "out", "--no-pictures"]);
    let record: slipsoak_engine::record::Record =
        serde_json::from_slice(&fs::read(folder.path().join("out/record.json")).expect("a record")).expect("JSON");
    let names: Vec<&str> = record.runs.iter().map(|r| r.variant.as_str()).collect();
    assert_eq!(names, ["1900 rpm", "2100 rpm", "2000 rpm, air pressure 79.4952 kPa", "2300 rpm, 240 kg"]);
}

/// With the names of both settings two of the four had the same label.
#[test]
fn machines_of_two_loads_and_two_gearings_have_four_labels_in_figures() {
    let folder = folder(
        r#"
fn lap(ride) { ride.idle(5.s); ride.launch(18.km_h); ride.hold(18.km_h, 20.s); ride.brake(2); }
let cart = machine("example");
let geared = |load, ratio| cart.having("vehicle.mass", load.kg).having("vehicle.ratio", ratio);
compare([geared.call(430, 10.0), geared.call(430, 8.5), geared.call(250, 10.0), geared.call(250, 8.5)], [duty("lap", Fn("lap")), duty("lane", Fn("lap"))]);
"#,
    );
    run(folder.path(), &["--out", "out"]);
    for figure in ["life-compared", "temperatures-compared"] {
        let svg = fs::read_to_string(folder.path().join(format!("out/{figure}.svg"))).expect("a figure");
        let words = svg.split("</text>").filter_map(|text| Some(text.rsplit_once('>')?.1.trim()));
        let labels: std::collections::BTreeSet<&str> =
            words.filter(|words| words.starts_with("430") || words.starts_with("250")).collect();
        assert_eq!(labels.len(), 4, "{figure}: {labels:?}");
    }
}

/// The built-in machine has a spring of 2000 rpm.
#[test]
fn a_machine_that_is_given_twice_is_run_once_and_that_is_said() {
    let folder = folder(
        r#"
let cart = machine("example");
compare([cart, cart.spring(2000.rpm), cart.spring(2300.rpm)], duty("rest", |ride| ride.idle(20.s)));
"#,
    );
    let done = slipsoak(folder.path(), &["run", "study.rhai", "--out", "out", "--no-pictures"]).assert().code(0);
    let said = String::from_utf8_lossy(&done.get_output().stderr).into_owned();
    let record: slipsoak_engine::record::Record =
        serde_json::from_slice(&fs::read(folder.path().join("out/record.json")).expect("a record")).expect("JSON");
    assert_eq!(record.runs.len(), 2);
    assert!(said.contains("with springs of 2000 rpm under rest twice; it is run once"), "{said}");
}
