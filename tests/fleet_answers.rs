//! What a fleet says of its clutches and of a change.

use crate::common::slipsoak;
use crate::fleets::{SCRIPT, folder, run};
use slipsoak_engine::fleet::{ASSUMED, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Record;
use std::fs;

#[test]
fn the_effect_of_a_change_is_reported_clutch_by_clutch() {
    let folder = folder();
    let at = folder.path();
    // Linings that wear out within hours, and the same with half the wear: every clutch lasts twice as long.
    let script = SCRIPT.replace(
        "compare([cart, cart.spring(2100.rpm).called(\"2100 rpm\")],",
        "let thin = cart.having(\"lining.thickness\", 0.52.mm).having(\"lining.wear\", 2e-13).spread(\"oiling.leak\", normal(0));
         compare([thin, thin.having(\"lining.wear\", 1e-13).called(\"half the wear\")],",
    );
    let script = script.replace("20.min", "20.s");
    fs::write(at.join("fleet.rhai"), script).expect("written");
    let made = slipsoak(at, &["run", "fleet.rhai", "--out", "worn", "--set", "clutches=8", "--set", "hours=30"])
        .assert()
        .code(0);
    let report: Report =
        serde_json::from_slice(&fs::read(at.join("worn/fleet.json")).expect("a result")).expect("JSON");
    let pair = &report.pairs[0];
    assert_eq!((pair.variant.as_str(), pair.end.longer, pair.end.shorter), ("half the wear", 8, 0));
    // Closed form for a steady rate: life is inversely proportional to the wear constant. These lives of an hour or two
    // begin cold, which prolongs the shorter one more.
    let ratio = pair.end.ratio.estimate.expect("a ratio");
    assert!((1.75..2.01).contains(&ratio), "{ratio}");
    let spread = pair.end.ratio.high.expect("a bound") / pair.end.ratio.low.expect("a bound");
    // The lives themselves differ by the wear constant's spread, 5 between P10 and P90.
    assert!(spread < 1.2, "what differs between clutches cancels: {:?}", pair.end.ratio);
    let table = String::from_utf8(made.get_output().stdout.clone()).expect("text");
    let table = table.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(table.contains("half the wear") && table.contains("8 of 8 last longer with"), "{table}");
    for figure in ["still-running", "gains"] {
        assert!(at.join("worn").join(format!("{figure}.svg")).exists(), "{figure}");
    }
    slipsoak(at, &["draw", "worn/fleet.json", "--out", "drawn"]).assert().code(0);
    let [there, here] =
        ["worn", "drawn"].map(|out| fs::read(at.join(out).join("still-running.svg")).expect("a figure"));
    assert!(there == here, "drawn again from the file, the figure is the same");
}

/// A machine that loses its oil within hours and its lining within days, with spreads only for a list of paths.
const ALIKE: &str = r#"
fn round(ride) { ride.idle(10.s); ride.launch(32.km_h); ride.hold(32.km_h, 60.s); ride.brake(2); ride.motor_off(90.s); }
fn block(ride) { for k in 0..4 { round(ride); } }
let cart = machine("example").spring(1900.rpm).having("bushing.score_energy", 1e10)
    .having("lining.thickness", 0.54.mm).having("lining.wear", 2e-14).having("oiling.leak", 3.per_hour);
for path in PATHS { cart = cart.spread(path, normal(0)); }
compare(cart, duty("rounds", Fn("block")).repeated(200.hours));
"#;

#[test]
fn a_clutch_of_a_fleet_without_spread_has_the_life_of_a_single_run() {
    let folder = folder();
    let at = folder.path();
    let own = Machine::default();
    let known = ASSUMED.iter().filter(|known| own.check_spring(known.0).is_ok());
    let paths = known.map(|known| format!("{:?}", known.0)).collect::<Vec<_>>();
    let plain = ALIKE.replace("PATHS", &format!("[{}]", paths.join(", ")));
    fs::write(at.join("plain.rhai"), &plain).expect("written");
    fs::write(at.join("fleet.rhai"), plain + "fleet(2, 1);\n").expect("written");
    run(at, &["--out", "fleet"]);
    let report: Report =
        serde_json::from_slice(&fs::read(at.join("fleet/fleet.json")).expect("a result")).expect("JSON");
    let [one, other] = &report.fleets[0].outcomes[..] else { panic!("two clutches") };
    assert_eq!((one.end, one.running, one.service_due), (other.end, other.running, other.service_due));
    assert_eq!(one.ended_by, Some(Part::Lining));
    for (out, more) in [("skipped", vec![]), ("full", vec!["--no-skip"])] {
        let arguments = [&["run", "plain.rhai", "--quiet", "--out", out][..], &more].concat();
        slipsoak(at, &arguments).assert().code(0);
        let record: Record =
            serde_json::from_slice(&fs::read(at.join(out).join("record.json")).expect("a record")).expect("JSON");
        let way = record.runs[0].horizon.clone().expect("a way to the end");
        let near = |found: Option<f64>, plain: Option<f64>, within: f64| {
            let (found, plain) = (found.expect("in the fleet"), plain.expect("in the run"));
            assert!((found / plain - 1.0).abs() < within, "{out}: {found} in the fleet, {plain} in the run");
        };
        near(one.end, way.ends[0], 0.003);
        near(one.running, way.running[0], 0.003);
        near(one.service_due, way.service_due, 0.01);
        near(one.service_running, way.service_running, 0.01);
        // The oil reaches its limit long before, and ends neither life.
        assert!(way.ends[4].expect("the oil at its limit") < 0.5 * one.end.expect("a worn lining"), "{:?}", way.ends);
    }
}

#[test]
fn a_fleet_is_compared_with_the_reference_machine_under_its_own_duty() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    let text = r#"
fn round(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.brake(2); ride.motor_off(5.min); }
let cart = machine("example").spread("clutch.engagement", normal(25.rpm));
let weak = cart.spring(1900.rpm).called("weak");
let usual = cart.spring(2100.rpm).called("usual");
reference(usual);
compare([weak, usual], [duty("one", Fn("round")).repeated(2.hours), duty("two", Fn("round")).repeated(3.hours)]);
fleet(4, 11);
"#;
    fs::write(at.join("fleet.rhai"), text).expect("written");
    let said = slipsoak(at, &["run", "fleet.rhai", "--out", "out", "--no-pictures"])
        .assert()
        .code(0)
        .get_output()
        .stdout
        .clone();
    let said = String::from_utf8(said).expect("text");
    let json: serde_json::Value =
        serde_json::from_slice(&fs::read(at.join("out/fleet.json")).expect("a result")).expect("JSON");
    assert_eq!(json["reference"], "usual");
    let pairs: Vec<[&str; 4]> = json["pairs"]
        .as_array()
        .expect("pairs")
        .iter()
        .map(|p| [&p["variant"], &p["duty"], &p["against"][0], &p["against"][1]].map(|v| v.as_str().expect("text")))
        .collect();
    assert_eq!(pairs, [["weak", "one", "usual", "one"], ["weak", "two", "usual", "two"]]);
    assert_eq!(said.matches("Against usual").count(), 2, "{said}");
}

/// An idle of 1700 rpm between springs of 1600 and 2000 rpm.
#[test]
fn every_clutch_whose_idle_lies_above_its_spring_is_counted_as_dragging_and_its_fleet_as_unfit() {
    let folder = tempfile::tempdir().expect("a folder");
    let script = SCRIPT
        .replace("spring(1900.rpm)", "having(\"motor.idle\", 1700.rpm).spring(1600.rpm).called(\"1600 rpm\")")
        .replace("2100", "2000");
    fs::write(folder.path().join("fleet.rhai"), script).expect("written");
    let said = slipsoak(folder.path(), &["run", "fleet.rhai", "--set", "clutches=3", "--out", "out"]).assert().code(0);
    let text = String::from_utf8_lossy(&said.get_output().stdout).replace("\n  ", " ");
    assert!(text.contains("Do not fit “1600 rpm”: 3 of 3 clutches drag at idle"), "{text}");
    let table = fs::read_to_string(folder.path().join("out/clutches.csv")).expect("written");
    let drags = |name: &str| table.lines().filter(|l| l.starts_with(name)).map(|l| l.contains(",yes,")).collect();
    let all: [Vec<bool>; 2] = ["1600", "2000"].map(drags);
    assert_eq!(all, [vec![true; 3], vec![false; 3]]);
}

/// Oil with PTFE put on once in a duty, a machine with silicone, and plain oil.
#[test]
fn a_fleet_that_is_given_the_wrong_oil_says_so_first_and_is_called_better_nowhere() {
    let folder = tempfile::tempdir().expect("a folder");
    let script = r#"
fn round(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(24.km_h, 10.s); ride.brake(2); }
fn plain(ride) { for k in 0..4 { round(ride); } ride.oil(1); ride.motor_off(20.min); }
fn other(ride) { for k in 0..4 { round(ride); } ride.oil(1, "with PTFE"); ride.motor_off(20.min); }
let cart = machine("example");
let habits = |name| duty(name, Fn(name)).repeated(4.hours);
compare([cart, cart.oiled("with silicone").called("silicone")], [habits.call("plain"), habits.call("other")]);
fleet(2, 11);
"#;
    fs::write(folder.path().join("fleet.rhai"), script).expect("written");
    let said = slipsoak(folder.path(), &["run", "fleet.rhai", "--out", "out"]).assert().code(0);
    let text = String::from_utf8_lossy(&said.get_output().stdout).replace("\n  ", " ");
    let answer = text.lines().nth(1).expect("an answer");
    assert!(answer.starts_with("Never use the oil of "), "{text}");
    assert_eq!(answer.split(':').next().expect("names").matches('“').count(), 3, "{answer}");
    let table = fs::read_to_string(folder.path().join("out/clutches.csv")).expect("written");
    let wrong: Vec<bool> = table.lines().skip(1).map(|line| line.contains(",no,yes,")).collect();
    assert_eq!(wrong, [false, false, true, true, true, true, true, true], "{table}");
}
