//! Closing sections of every page: cautions, script, and reproduction.

use crate::page::{Block, Reach, Section};
use crate::words::cautions::{ALWAYS, Caution};
use crate::words::text::Words;
use slipsoak_engine::document::Head;

/// Headings of the closing sections.
pub const CLOSING: [&str; 3] = ["Cautions", "The script", "How to reproduce this"];

/// Cautions, the script if there is one, and how to reproduce the result.
pub fn closing(head: &Head, applying: &[Caution]) -> Vec<Section> {
    let mut sections = vec![cautions(applying)];
    if !head.script_text.is_empty() {
        sections.push(scripted(head));
    }
    sections.push(again(head));
    sections
}

/// Condition of a stored command: its paths are as typed.
const WHERE: &str = "From the folder in which it was run:";

/// The command that reproduces the page, and other facts needed for that.
pub fn repeated(head: &Head, facts: Vec<Words>) -> Section {
    let words = head.command.iter().map(String::as_str).chain(["--out", "result", "--report"]);
    let text = words.map(quoted).collect::<Vec<_>>().join(" ");
    let blocks =
        vec![Block::Words(WHERE.into()), Block::Code { caption: "Command".to_owned(), text }, Block::List(facts)];
    Section::new(CLOSING[2], blocks).only(Reach::Page)
}

/// Cautions that a reader must know before acting on a number: those of the result, and those that always apply.
pub fn cautions(of: &[Caution]) -> Section {
    let all = of.iter().chain(&ALWAYS).map(|caution| caution.text().into()).collect();
    Section::new(CLOSING[0], vec![Block::List(all)])
}

/// The script, verbatim.
pub fn scripted(head: &Head) -> Section {
    let script = Block::Code { caption: head.script.clone(), text: head.script_text.clone() };
    Section::new(CLOSING[1], vec![script]).only(Reach::Page)
}

/// Section on how to reproduce the result.
fn again(head: &Head) -> Section {
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
    repeated(head, said.into_iter().flatten().map(Words::from).collect())
}

/// A word of a command line, quoted if a shell would split it.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_=./+".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', "'\\''"))
    }
}
