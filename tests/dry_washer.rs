//! A washer without its oil has the lower limit of dry fibre, in runs, on the page and in the choice of springs.

mod common;

use common::slipsoak;
use serde_json::Value;
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Warned;
use slipsoak_engine::simulate::{Options, Simulation};
use std::fs;
use std::path::Path;

fn said(at: &Path, arguments: &[&str]) -> String {
    let done = slipsoak(at, arguments).assert().success();
    let text = String::from_utf8(done.get_output().stdout.clone()).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A machine whose washer throws its oil off, with a spring below idle: it drags and heats.
fn throwing() -> Machine {
    let mut machine = Machine::default();
    machine.washer.fling = 1.0;
    machine.clutch.engagement = 1500.0 * std::f64::consts::PI / 30.0;
    machine
}

#[test]
fn the_limit_of_a_dry_washer_applies_once_half_of_its_oil_is_lost() {
    let mut sim = Simulation::new(throwing(), Options::default()).expect("a machine");
    let full = sim.reading(Channel::WasherOil);
    let mut hottest_dry: f64 = 0.0;
    for _ in 0..240 {
        sim.perform(&Segment::Ride(Task::Idle, End::After(5.0))).expect("it runs");
        if sim.reading(Channel::WasherOil) <= 0.5 * full {
            hottest_dry = hottest_dry.max(sim.reading(Channel::Washer));
        }
    }
    let run = sim.finish("machine", "idle").expect("the ledgers close");
    let warning = run.warned(Warned::DryWasher).expect("it is dry and hot");
    assert_eq!(warning.limit, 363.15, "class Y of IEC 60085");
    assert!(hottest_dry > 363.15 && (warning.value - hottest_dry).abs() < 0.5, "{warning:?}, read {hottest_dry} K");
    // With its oil only the limit of an oiled washer applies.
    let machine = Machine { washer: Machine::default().washer, ..throwing() };
    let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
    sim.perform(&Segment::Ride(Task::Idle, End::After(1200.0))).expect("it runs");
    assert!(sim.reading(Channel::Washer) > 363.15);
    assert!(sim.finish("machine", "idle").expect("the ledgers close").warned(Warned::DryWasher).is_none());
}

#[test]
fn a_dry_washer_is_named_in_the_table_on_the_page_and_among_the_reasons() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let script = r#"let cart = machine("example").spring(1500.rpm);
compare([cart.called("oiled"), cart.having("washer.fling", 1).called("dry")], duty("stop", |ride| ride.idle(10.min)));"#;
    fs::write(at.join("x.rhai"), script).expect("written");
    let text = said(at, &["run", "x.rhai", "--out", "out", "--no-pictures", "--report"]);
    assert!(text.contains("F dry washer over 90 °C (194 °F): dry, "), "{text}");
    let full = said(at, &["run", "x.rhai", "--details"]);
    assert!(full.contains("above the 90 °C (194 °F) limit of a dry one: half or more of its oil was gone"), "{full}");
    let page = fs::read_to_string(at.join("out/report.html")).expect("a page");
    assert!(page.contains("dry washer, peak"), "no column of it");
    fs::write(at.join("cart.json"), r#"{ "washer": { "fling": "40 1/h" } }"#).expect("written");
    let stock = r#"{ "springs": [{ "name": "2300 rpm", "engagement": "2300 rpm" }] }"#;
    fs::write(at.join("stock.json"), stock).expect("written");
    let ask = ["choose", "cart.json", "--use", "rental", "--stock", "stock.json"];
    let text = said(at, &ask);
    assert!(
        text.contains("the dry washer reaches") && text.contains("above the limit of one without oil, 90 °C"),
        "{text}"
    );
    let json: Value = serde_json::from_str(&said(at, &[&ask[..], &["--json"]].concat())).expect("JSON");
    let parts: Vec<&Value> =
        json["springs"][0]["reasons"].as_array().expect("reasons").iter().map(|r| &r["hot"]["part"]).collect();
    assert!(parts.iter().any(|part| *part == "dry washer"), "{parts:?}");
}
