//! Fleets from outside: the same bytes if divided, stopped and resumed.

use crate::common::{refusal, slipsoak};
use slipsoak_engine::names::Part;
use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

/// Six clutches under half a day of stop-and-go: about a second.
const SCRIPT: &str = r#"
fn round(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(24.km_h, 10.s); ride.brake(2); }
fn block(ride) { for k in 0..4 { round(ride); } ride.motor_off(20.min); }
let cart = machine("example").spring(1900.rpm).spread("clutch.engagement", normal(25.rpm));
compare([cart, cart.spring(2100.rpm).called("2100 rpm")], duty("rounds", Fn("block")).repeated(param("hours", 12).hours));
fleet(param("clutches", 6), 11);
"#;

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("fleet.rhai"), SCRIPT).expect("written");
    folder
}

fn run(at: &Path, more: &[&str]) {
    slipsoak(at, &["run", "fleet.rhai", "--quiet"]).args(more).assert().code(0);
}

fn result(at: &Path, out: &str) -> Vec<Vec<u8>> {
    ["fleet.json", "clutches.csv", "gains.csv"].map(|name| fs::read(at.join(out).join(name)).expect("a result")).into()
}

#[test]
fn a_fleet_killed_repeatedly_ends_with_the_same_bytes() {
    let folder = folder();
    let at = folder.path();
    run(at, &["--out", "whole", "--threads", "2"]);
    assert!(!at.join("whole.journal").exists(), "a finished study leaves no journal");
    let (mut kills, mut entries) = (0, 0);
    for wait in 1..60 {
        let mut child = std::process::Command::new(env!("CARGO_BIN_EXE_slipsoak"))
            .current_dir(at)
            .args(["run", "fleet.rhai", "--quiet", "--out", "cut", "--threads", "1"])
            .stderr(Stdio::null())
            .spawn()
            .expect("it starts");
        std::thread::sleep(Duration::from_millis(60 * wait));
        if child.try_wait().expect("a child").is_some() {
            break;
        }
        // SIGKILL: no cleanup is possible.
        child.kill().expect("killed");
        child.wait().expect("gone");
        kills += 1;
        // It may have been killed just before its end, with its work done and the journal deleted: then the result is
        // compared with the whole.
        if at.join("cut").exists() {
            break;
        }
        // An incomplete line does not count.
        let lines = fs::read_to_string(at.join("cut.journal")).map_or(0, |j| j.matches('\n').count());
        assert!(lines >= entries, "what was done stays done: {lines} of {entries}");
        entries = lines;
    }
    assert!(kills > 1, "killed {kills} times");
    if !at.join("cut").exists() {
        run(at, &["--out", "cut"]);
    }
    assert_eq!(result(at, "whole"), result(at, "cut"));
}

fn gather<'a>(journals: &[&'a str]) -> Vec<&'a str> {
    [&["gather", "fleet.rhai"], journals, &["--out", "joined"]].concat()
}

#[test]
fn parts_run_by_themselves_are_gathered_into_the_same_bytes() {
    let folder = folder();
    let at = folder.path();
    run(at, &["--out", "whole"]);
    for part in ["1/3", "2/3", "3/3"] {
        run(at, &["--out", "part", "--share", part]);
    }
    let [a, b, c] = ["part.1-of-3.journal", "part.2-of-3.journal", "part.3-of-3.journal"];
    let missing = refusal(at, &gather(&[a, c]), 1);
    assert!(missing.contains("missing: 2"), "{missing}");
    let doubled = refusal(at, &gather(&[a, b, c, b]), 1);
    assert!(doubled.contains("part 2 is there twice"), "{doubled}");
    slipsoak(at, &gather(&[c, a, b])).assert().code(0);
    assert_eq!(result(at, "whole"), result(at, "joined"));
    // A part that lost its last line is named, and completed by the same command.
    let whole = fs::read(at.join(b)).expect("a journal");
    fs::write(at.join(b), &whole[..whole.len() - 40]).expect("cut");
    let short = refusal(at, &[&gather(&[a, b, c])[..], &["--replace"]].concat(), 1);
    assert!(short.contains("part 2") && short.contains("run it again"), "{short}");
    run(at, &["--out", "part", "--share", "2/3"]);
    slipsoak(at, &[&gather(&[a, b, c])[..], &["--replace"]].concat()).assert().code(0);
    assert_eq!(result(at, "whole"), result(at, "joined"));
}

#[test]
fn clutch_seven_is_the_same_in_any_fleet() {
    let folder = folder();
    let at = folder.path();
    run(at, &["--out", "six"]);
    run(at, &["--out", "three", "--set", "clutches=3"]);
    let lines = |out: &str| fs::read_to_string(at.join(out).join("clutches.csv")).expect("text");
    let (six, three) = (lines("six"), lines("three"));
    assert_eq!(three.lines().count(), 7);
    assert!(three.lines().all(|line| six.contains(line)), "{three} in {six}");
}

#[test]
fn a_fleet_says_what_it_needs() {
    let folder = folder();
    let at = folder.path();
    assert!(refusal(at, &["run", "fleet.rhai"], 2).contains("--out"));
    assert!(refusal(at, &["run", "fleet.rhai", "--out", "x", "--share", "4/3"], 2).contains("1 ≤ K ≤ N"));
    run(at, &["--out", "part", "--share", "1/2"]);
    fs::copy(at.join("part.1-of-2.journal"), at.join("other.journal")).expect("copied");
    let other = refusal(at, &["run", "fleet.rhai", "--out", "other"], 1);
    assert!(other.contains("another study, which differs in the part"), "{other}");
    let changed = refusal(at, &["run", "fleet.rhai", "--out", "part", "--share", "1/2", "--set", "clutches=5"], 1);
    assert!(changed.contains("the parameter `clutches`: 6 there, 5 here"), "{changed}");
    fs::write(at.join("x.journal"), "no journal\n").expect("written");
    assert!(refusal(at, &["run", "fleet.rhai", "--out", "x"], 1).contains("not a journal"));
    let missing = refusal(at, &["gather", "fleet.rhai", "nowhere.journal", "--out", "y"], 1);
    assert!(missing.contains("nowhere.journal cannot be read") && missing.contains("check the path"), "{missing}");
    let alone = SCRIPT.replace("fleet(param(\"clutches\", 6), 11);", "");
    fs::write(at.join("alone.rhai"), alone).expect("written");
    let message = refusal(at, &["run", "alone.rhai", "--out", "y", "--share", "1/2"], 2);
    assert!(message.contains("only a fleet, a sweep or what matters is run in parts"), "{message}");
    let single = SCRIPT.replace(".repeated(param(\"hours\", 12).hours)", "");
    fs::write(at.join("single.rhai"), single).expect("written");
    let message = refusal(at, &["run", "single.rhai", "--out", "y"], 1);
    assert!(message.contains("repeated(2000.hours)"), "{message}");
}

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
    let report: slipsoak_engine::fleet::Report =
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

/// Twenty clutches that idle at different speeds, of which the seventh would stall; with a wider spread many would.
const STALLING: &str = r#"
fn round(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(24.km_h, 10.s); ride.brake(2); }
let cart = machine("example").having("motor.stall", 1400.rpm).spread("motor.idle", normal(param("wide", 150).rpm));
compare(cart, duty("rounds", Fn("round")).repeated(10.min));
fleet(20, 11);
"#;

#[test]
fn a_clutch_that_cannot_be_computed_is_left_out_and_named_the_same_with_any_threads_and_resumed() {
    let folder = folder();
    let at = folder.path();
    fs::write(at.join("fleet.rhai"), STALLING).expect("written");
    let output = slipsoak(at, &["run", "fleet.rhai", "--out", "one", "--threads", "1", "--report"]).assert().code(0);
    let said = String::from_utf8(output.get_output().stdout.clone()).expect("text");
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let why = "clutch 6 of “example, rounds”: motor.stall must lie below motor.idle: the motor would stall at idle";
    let sentence = format!("1 of 20 clutches could not be computed and is left out: {why}.");
    assert!(said.contains(&sentence) && said.contains("None of the 19 clutches"), "{said}");
    let page = fs::read_to_string(at.join("one/report.html")).expect("a page");
    assert!(page.contains(&sentence), "the page says so too");
    let lines = fs::read_to_string(at.join("one/clutches.csv")).expect("lines");
    assert_eq!(lines.lines().count(), 1 + 19, "no line is made up for it");
    slipsoak(at, &["draw", "one/fleet.json", "--out", "drawn"]).assert().code(0);
    run(at, &["--out", "two", "--threads", "2"]);
    // The journal of the whole, cut after ten clutches: earlier failures are not run again.
    run(at, &["--out", "cut", "--share", "1/1"]);
    let journal = fs::read_to_string(at.join("cut.journal")).expect("a journal");
    let ten: String = journal.split_inclusive('\n').take(11).collect();
    assert!(ten.contains("the motor would stall at idle"), "{ten}");
    fs::write(at.join("cut.journal"), ten).expect("cut");
    run(at, &["--out", "cut"]);
    let result = |out: &str| ["fleet.json", "clutches.csv"].map(|name| fs::read(at.join(out).join(name)).expect(name));
    assert_eq!(result("one"), result("two"));
    assert_eq!(result("one"), result("cut"));
}

#[test]
fn a_fleet_with_more_than_a_tenth_of_failed_clutches_ends_with_the_first_failure_and_their_count() {
    let folder = folder();
    let at = folder.path();
    fs::write(at.join("fleet.rhai"), STALLING).expect("written");
    let ended = |out: &str, threads: &str| {
        refusal(at, &["run", "fleet.rhai", "--quiet", "--set", "wide=600", "--out", out, "--threads", threads], 1)
    };
    let one = ended("one", "1");
    assert!(one.contains("“example, rounds”: motor.stall must lie below motor.idle"), "{one}");
    assert!(one.contains("3 of 20 clutches or more could not be computed"), "{one}");
    assert_eq!(one, ended("two", "2"));
    assert_eq!(one, ended("one", "2"), "and again with the journal that it left");
    assert!(!at.join("one").exists() && !at.join("two").exists());
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
    let paths = slipsoak_engine::fleet::ASSUMED.iter().map(|known| format!("{:?}", known.0)).collect::<Vec<_>>();
    let plain = ALIKE.replace("PATHS", &format!("[{}]", paths.join(", ")));
    fs::write(at.join("plain.rhai"), &plain).expect("written");
    fs::write(at.join("fleet.rhai"), plain + "fleet(2, 1);\n").expect("written");
    run(at, &["--out", "fleet"]);
    let report: slipsoak_engine::fleet::Report =
        serde_json::from_slice(&fs::read(at.join("fleet/fleet.json")).expect("a result")).expect("JSON");
    let [one, other] = &report.fleets[0].outcomes[..] else { panic!("two clutches") };
    assert_eq!((one.end, one.running, one.service_due), (other.end, other.running, other.service_due));
    assert_eq!(one.ended_by, Some(Part::Lining));
    for (out, more) in [("skipped", vec![]), ("full", vec!["--no-skip"])] {
        let arguments = [&["run", "plain.rhai", "--quiet", "--out", out][..], &more].concat();
        slipsoak(at, &arguments).assert().code(0);
        let record: slipsoak_engine::record::Record =
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
fn a_journal_in_which_the_oil_ended_a_life_is_refused_with_the_reason() {
    let folder = folder();
    let at = folder.path();
    run(at, &["--out", "part", "--share", "1/2", "--set", "clutches=2"]);
    let path = at.join("part.1-of-2.journal");
    let journal = fs::read_to_string(&path).expect("a journal");
    let ends = r#""ends":"the first worn part, the oil set apart","#;
    let heading = journal.lines().next().and_then(|line| line.rsplit_once(' ')).expect("a heading").0.replace(ends, "");
    assert!(!heading.contains("oil set apart"), "{heading}");
    fs::write(&path, format!("{heading} {:08x}\n", crc32fast::hash(heading.as_bytes()))).expect("written");
    let said = refusal(at, &["run", "fleet.rhai", "--out", "part", "--share", "1/2", "--set", "clutches=2"], 1);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let why = "what ends a life: the first part at its limit, the oil among them there, the first worn part, the oil set apart here";
    assert!(said.contains(why), "{said}");
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
