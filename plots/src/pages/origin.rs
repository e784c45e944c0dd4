//! Closing sections of every page: cautions, script, and reproduction.

use crate::page::{Block, Reach, Section};
use crate::words::cautions::{ALWAYS, Caution};
use crate::words::text::{Words, shell};
use slipsoak_engine::document::Head;

/// Headings of the closing sections.
pub const CLOSING: [&str; 3] = ["Cautions", "The script", "How to reproduce this"];

/// Cautions that apply, the script if there is one, and how to reproduce the result, with further facts.
pub fn closing(head: &Head, applying: &[Caution], facts: Vec<Words>) -> Vec<Section> {
    let script = (!head.script_text.is_empty()).then(|| scripted(head));
    [cautions(applying)].into_iter().chain(script).chain([again(head, facts)]).collect()
}

/// Condition of a stored command: its paths are as typed.
const WHERE: &str = "From the folder in which it was run:";

/// Cautions that a reader must know before acting on a number: those of the result, and those that always apply.
fn cautions(of: &[Caution]) -> Section {
    let all = of.iter().chain(&ALWAYS).map(|caution| caution.text().into()).collect();
    Section::new(CLOSING[0], vec![Block::List(all)]).pinned()
}

/// The script, verbatim.
fn scripted(head: &Head) -> Section {
    let script = Block::Code { caption: head.script.clone(), text: head.script_text.clone() };
    Section::new(CLOSING[1], vec![script]).only(Reach::Page).folded()
}

/// The command that reproduces the result, and other facts needed for that.
fn again(head: &Head, facts: Vec<Words>) -> Section {
    let words = head.command.iter().map(String::as_str).chain(["--out", "result", "--report"]);
    let text = shell(words);
    let drawn = match head.seeds.as_slice() {
        [] => "No random numbers were used.".to_owned(),
        _ => format!("Seed: {}.", head.seeds_listed()),
    };
    let hash = &head.script_hash;
    let said = [
        Some(format!("Written by {}; the same version gives the same numbers on any number of threads.", head.program)),
        (!hash.is_empty()).then(|| format!("SHA-256 of the script: {hash}")),
        Some(drawn),
    ];
    let facts = said.into_iter().flatten().map(Words::from).chain(facts).collect();
    let blocks =
        vec![Block::Words(WHERE.into()), Block::Code { caption: "Command".to_owned(), text }, Block::List(facts)];
    Section::new(CLOSING[2], blocks).only(Reach::Page).folded()
}
