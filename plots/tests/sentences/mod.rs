//! Every sentence that can be said, with example values: in a snapshot, and held to rules of language.
//!
//! After a wanted change: `SLIPSOAK_SNAPSHOTS=write cargo test -p slipsoak-plots --test pages sentences`, and read what changed.

mod assumed;
mod compared;
mod covers_and_oil;
mod failures;
mod fleets;
mod headings;
mod language;
mod learned;
mod measuring;
mod pages;
mod rankings;
mod ride;
mod runs;
mod said;
mod season_rules;
mod seasons;
mod sheets;
mod springs;
mod sweeps;

use assumed::assumed;
use compared::compared;
use covers_and_oil::{covers, oils};
use failures::refused;
use fleets::of_fleets;
use headings::headings;
use language::{figures_before, holds, stumbles};
use learned::learned;
use measuring::measurements;
use rankings::influences;
use ride::of_a_ride;
use runs::runs;
use said::{Said, clauses};
use seasons::seasons;
use sheets::sheets;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;
use springs::springs;
use std::fmt::Write as _;
use sweeps::sweeps;

fn every() -> Vec<Said> {
    let measured = clauses("what to measure", &words::measure::hints().map(Words::from).collect::<Vec<_>>());
    [
        springs(),
        covers(),
        oils(),
        measurements(),
        seasons(),
        of_fleets(),
        sweeps(),
        sheets(),
        runs(),
        refused(),
        learned(),
        influences(),
        compared(),
        vec![of_a_ride(), assumed(), measured, headings()],
    ]
    .into_iter()
    .flatten()
    .collect()
}

#[test]
fn every_sentence_is_as_it_was_last_read() {
    let mut text = String::new();
    for said in every() {
        let _ = writeln!(text, "{}", said.subject);
        for one in &said.texts {
            let _ = writeln!(text, "  {}", one.replace('\u{a0}', " "));
        }
    }
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/snapshots/sentences.txt");
    if std::env::var("SLIPSOAK_SNAPSHOTS").is_ok_and(|word| word == "write") {
        std::fs::write(&path, &text).expect("it is written");
    }
    let before = std::fs::read_to_string(&path).expect("a snapshot");
    for (now, was) in text.lines().zip(before.lines()) {
        assert_eq!(now, was);
    }
    assert_eq!(text.lines().count(), before.lines().count());
}

#[test]
fn every_sentence_is_plain_and_whole() {
    for said in every() {
        assert!(!said.texts.is_empty(), "{}", said.subject);
        for text in &said.texts {
            let at = format!("{}: {text}", said.subject);
            let plain = text.replace('\u{a0}', " ").to_lowercase();
            assert_eq!(stumbles(&plain), [""; 0], "{at}");
            assert!(!holds(&plain, "draw"), "“draw”, better “sample”, in {at}");
            for wrong in ["  ", " ,", " .", "..", ",.", ":.", "nan", "inf ", "()", "falls to 100 %", "at its p10"] {
                assert!(!plain.contains(wrong), "“{wrong}” in {at}");
            }
            assert_eq!(text.matches("°C").count(), text.matches("°F").count(), "both scales: {at}");
            for unit in ["\u{a0}h", "\u{a0}min"] {
                assert!(figures_before(text, unit).iter().all(|n| *n <= 2), "more than two figures: {at}");
            }
            let first = text.chars().next().expect("it says something");
            if said.clauses {
                assert!(!text.ends_with(['.', ' ', ';', ':']), "a clause: {at}");
            } else {
                assert!(first.is_uppercase() || first.is_ascii_digit() || first == '“', "a sentence: {at}");
                assert!(text.ends_with('.'), "a sentence: {at}");
            }
        }
    }
}
