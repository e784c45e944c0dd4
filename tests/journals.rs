//! The journal of a long study: accepted only unchanged, and only for the same study.

use crate::studies::{folder, refusal, run};
use std::fs;
use std::path::Path;

const SWEEP: &str = r#"
let cart = machine("example").varied("clutch.engagement", steps(1700.rpm, 2100.rpm, 4));
sweep(cart, duty("lap", |ride| { ride.idle(5.s); ride.launch(15.km_h); }));
"#;

/// A part of a study, with its journal kept.
const PART: &[&str] = &["--out", "o", "--share", "1/1", "--quiet"];

fn again(at: &Path) -> String {
    refusal(at, &[&["run", "study.rhai"], PART].concat(), 1)
}

fn part(script: &str) -> (tempfile::TempDir, std::path::PathBuf) {
    let folder = folder(script);
    run(folder.path(), PART);
    let journal = folder.path().join("o.journal");
    (folder, journal)
}

#[test]
fn a_flipped_bit_is_refused_with_its_line_and_a_torn_line_is_run_again() {
    let (folder, journal) = part(SWEEP);
    let at = folder.path();
    let whole = fs::read(&journal).expect("a journal");
    let starts: Vec<usize> = (0..whole.len()).filter(|k| *k == 0 || whole[k - 1] == b'\n').collect();
    assert_eq!(starts.len(), 5);
    for (line, start) in starts.iter().enumerate() {
        for place in [start + 20, start + 60, start + 99] {
            let mut flipped = whole.clone();
            flipped[place] ^= 1;
            fs::write(&journal, &flipped).expect("written");
            let message = again(at);
            assert!(message.contains(&format!("line {} is not as it was written", line + 1)), "{message}");
            assert_eq!(fs::read(&journal).expect("a journal"), flipped, "nothing is touched");
        }
    }
    for cut in [whole.len() - 1, starts[4] + 30, starts[2] + 1, starts[1] - 3, 5, 0] {
        fs::write(&journal, &whole[..cut]).expect("written");
        run(at, PART);
        let mut lines: Vec<String> = fs::read_to_string(&journal).expect("text").lines().map(str::to_owned).collect();
        let mut expected: Vec<String> =
            String::from_utf8(whole.clone()).expect("text").lines().map(str::to_owned).collect();
        lines[1..].sort();
        expected[1..].sort();
        assert_eq!(lines, expected, "cut at {cut}");
    }
    let bare: String =
        String::from_utf8(whole).expect("text").lines().map(|l| l[..l.len() - 9].to_owned() + "\n").collect();
    fs::write(&journal, bare).expect("written");
    assert!(again(at).contains("of an earlier version of the program"), "without its checks");
}

#[test]
fn a_file_that_is_not_this_studys_journal_is_never_changed() {
    let folder = folder(SWEEP);
    let at = folder.path();
    let journal = at.join("o.journal");
    for notes in ["my only notes", "{\"program\":\"mine\"", "two\nlines"] {
        fs::write(&journal, notes).expect("written");
        assert!(again(at).contains("is not a journal of this program"), "{notes}");
        assert_eq!(fs::read_to_string(&journal).expect("text"), notes);
    }
    fs::remove_file(&journal).expect("gone");
    #[cfg(unix)]
    for there in [true, false] {
        let target = at.join("target.txt");
        if there {
            fs::write(&target, "").expect("written");
        }
        std::os::unix::fs::symlink(&target, &journal).expect("a link");
        assert!(again(at).contains("is not a file of its own"), "a link");
        assert_eq!(fs::read_to_string(&target).unwrap_or_default(), "");
        let _ = fs::remove_file(&target);
        fs::remove_file(&journal).expect("gone");
    }
}

/// Parameter and trace are first used after a reading, so no study knows them beforehand.
const LIVE: &str = r#"
fn day(ride) { if ride.fill > 2 {} for i in 0..param("x", 2) { ride.idle(60.s); ride.launch(15.km_h); ride.brake(2); } ride.follow(trace("tr")); }
compare(machine("example"), duty("d", Fn("day")).repeated(param("hours", 0.2).hours));
fleet(4, 3);
"#;

fn live() -> tempfile::TempDir {
    let folder = folder(LIVE);
    fs::write(folder.path().join("tr.csv"), "time [s],speed [km/h]\n0,0\n10,10\n20,0\n").expect("written");
    folder
}

#[test]
fn parts_with_other_settings_or_files_are_not_mixed() {
    let folder = live();
    let at = folder.path();
    run(at, &["--out", "g", "--share", "1/2", "--set", "x=2"]);
    run(at, &["--out", "g", "--share", "2/2", "--set", "x=9"]);
    let parts = ["g.1-of-2.journal", "g.2-of-2.journal"];
    let gather = ["gather", "study.rhai", parts[0], parts[1], "--out", "o", "--set", "x=2"];
    let message = refusal(at, &gather, 1);
    assert!(message.contains("g.2-of-2") && message.contains("the parameter `x`: 9 there, 2 here"), "{message}");
    fs::remove_file(at.join(parts[1])).expect("gone");
    let trace = fs::read(at.join("tr.csv")).expect("a trace");
    fs::write(at.join("tr.csv"), "time [s],speed [km/h]\n0,0\n10,20\n20,0\n").expect("written");
    run(at, &["--out", "g", "--share", "2/2", "--set", "x=2"]);
    let message = refusal(at, &gather, 1);
    assert!(message.contains("the file `tr.csv`"), "{message}");
    fs::remove_file(at.join(parts[1])).expect("gone");
    fs::write(at.join("tr.csv"), trace).expect("written");
    run(at, &["--out", "g", "--share", "2/2", "--set", "x=2"]);
    refusal(at, &gather, 0);
    let fleet = fs::read_to_string(at.join("o/fleet.json")).expect("a fleet");
    let fleet: serde_json::Value = serde_json::from_str(&fleet).expect("JSON");
    assert_eq!(fleet["head"]["parameters"]["x"], 2.0, "{}", fleet["head"]["parameters"]);
}

#[test]
fn a_file_whose_name_is_not_written_out_is_refused_in_a_long_study() {
    let folder = live();
    let at = folder.path();
    fs::write(at.join("study.rhai"), LIVE.replace("trace(\"tr\")", "trace(\"t\" + \"r\")")).expect("written");
    let message = refusal(at, &["run", "study.rhai", "--out", "o"], 1);
    assert!(message.contains("must know its files beforehand"), "{message}");
}

#[test]
fn two_duties_of_one_name_are_both_part_of_the_study() {
    let script = |seconds: u32| {
        format!(
            "let c = machine(\"example\");\n\
             sweep(c, [duty(\"d\", |ride| ride.idle(5.s)), duty(\"d\", |ride| ride.idle(param(\"s\", {seconds}) * 1.s))]);"
        )
    };
    let (folder, journal) = part(&script(6));
    let text = fs::read_to_string(&journal).expect("text");
    let compared = |text: &str| text.split("\"compared\":").nth(1).expect("there").chars().take(60).collect::<String>();
    let before = compared(&text);
    fs::remove_file(&journal).expect("gone");
    run(folder.path(), &[PART, &["--set", "s=7"]].concat());
    assert_ne!(before, compared(&fs::read_to_string(&journal).expect("text")));
}

#[test]
fn a_heading_with_inconsistent_parts_is_refused() {
    let (folder, journal) = part(SWEEP);
    let text = fs::read_to_string(&journal).expect("text");
    let (heading, rest) = text.split_once('\n').expect("lines");
    for parts in ["[0,0]", "[1,0]", "[2,1]", "[1,3000000000]"] {
        let json = heading[..heading.len() - 9].replace("\"part\":[1,1]", &format!("\"part\":{parts}"));
        let sum = crc32fast::hash(json.as_bytes());
        fs::write(&journal, format!("{json} {sum:08x}\n{rest}")).expect("written");
        let message = refusal(folder.path(), &["gather", "study.rhai", "o.journal", "--out", "j"], 1);
        assert!(message.contains("it says that it is part"), "{message}");
    }
}

#[test]
fn the_journal_of_a_study_of_another_kind_is_that_of_another_study() {
    let (folder, journal) = part(SWEEP);
    let at = folder.path();
    let whole = fs::read(&journal).expect("a journal");
    let fleet = "compare(machine(\"example\"), duty(\"lap\", |ride| ride.idle(5.s)).repeated(1.min)); fleet(2, 1);";
    fs::write(at.join("study.rhai"), fleet).expect("written");
    let message = again(at);
    assert!(message.contains("is the journal of another study, which differs in the script"), "{message}");
    assert_eq!(fs::read(&journal).expect("a journal"), whole, "nothing is touched");
}
