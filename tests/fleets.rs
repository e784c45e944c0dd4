//! Fleets from outside: the same bytes if divided, stopped and resumed.

use crate::common::{refusal, slipsoak};
use std::fs;
use std::path::Path;
use std::process::Stdio;
use std::time::Duration;

/// Six clutches under half a day of stop-and-go: about a second.
pub const SCRIPT: &str = r#"
fn round(ride) { ride.idle(20.s); ride.launch(20.km_h); ride.hold(24.km_h, 10.s); ride.brake(2); }
fn block(ride) { for k in 0..4 { round(ride); } ride.motor_off(20.min); }
let cart = machine("example").spring(1900.rpm).spread("clutch.engagement", normal(25.rpm));
compare([cart, cart.spring(2100.rpm).called("2100 rpm")], duty("rounds", Fn("block")).repeated(param("hours", 12).hours));
fleet(param("clutches", 6), 11);
"#;

pub fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("fleet.rhai"), SCRIPT).expect("written");
    folder
}

pub fn run(at: &Path, more: &[&str]) {
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
    let sentence = "1 of 20 clutches could not be computed and is left out: clutch 6 of “example, rounds”: motor.stall, 1400 rpm, is not below motor.idle, 1399.99 rpm: the motor would stall at idle; correct one of them.";
    assert!(said.contains(sentence) && said.contains("None of the 19 clutches"), "{said}");
    let page = fs::read_to_string(at.join("one/report.html")).expect("a page");
    assert!(page.contains(sentence), "the page says so too");
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
    assert!(one.contains("“example, rounds”: motor.stall, "), "{one}");
    assert!(one.contains("3 of 20 clutches or more could not be computed"), "{one}");
    assert_eq!(one, ended("two", "2"));
    assert_eq!(one, ended("one", "2"), "and again with the journal that it left");
    assert!(!at.join("one").exists() && !at.join("two").exists());
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
