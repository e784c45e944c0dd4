//! Sections that every page ends with: cautions, the script, and how to get the same again.

use super::{Block, Section, Words};
use crate::cautions::{ALWAYS, Caution};
use std::collections::BTreeMap;

/// What a result was made from.
pub struct Origin<'a> {
    /// program and version
    pub program: &'a str,
    /// the script's name
    pub script: &'a str,
    /// its text
    pub text: &'a str,
    /// SHA-256 of that text
    pub hash: &'a str,
    /// the command that gives it again; empty in older files
    pub command: &'a [String],
    /// its parameters as they were used
    pub parameters: &'a BTreeMap<String, f64>,
    /// seeds of everything drawn
    pub seeds: &'a [u64],
}

/// What was asked; of a script that does not say, its name.
pub fn asked(title: &str, script: &str) -> String {
    let said = [title, script].into_iter().find(|text| !text.trim().is_empty());
    said.unwrap_or("A study without a name").to_owned()
}

/// Headings of the closing sections.
pub const CLOSING: [&str; 3] = ["Cautions", "The script", "How to reproduce this"];

/// Cautions, script, and how to get the same again.
pub fn closing(origin: &Origin<'_>, applying: &[Caution]) -> Vec<Section> {
    let (first, words) = if origin.command.is_empty() {
        ("Save the script above beside its part files, then run:", older(origin))
    } else {
        (WHERE, origin.command.to_owned())
    };
    let how = Again { first, words: &words, program: origin.program, hash: Some(origin.hash), seeds: origin.seeds };
    vec![cautions(applying), scripted(origin.script, origin.text), again(&how)]
}

/// Where a stored command holds: its paths are as they were typed.
pub const WHERE: &str = "From the folder in which it was run:";

/// The command of a file that stores none.
fn older(origin: &Origin<'_>) -> Vec<String> {
    let set = |(name, value): (&String, &f64)| ["--set".to_owned(), format!("{name}={value}")];
    let run = ["slipsoak", "run", origin.script].map(str::to_owned);
    run.into_iter().chain(origin.parameters.iter().flat_map(set)).collect()
}

/// A command that gives the same page again, and what else that takes.
pub fn repeated(first: &str, command: &[String], facts: Vec<Words>) -> Section {
    // Older files store where to write, too.
    let written: &[&str] =
        if command.iter().any(|word| word == "--out") { &[] } else { &["--out", "result", "--report"] };
    let words = command.iter().map(String::as_str).chain(written.iter().copied());
    let text = words.map(quoted).collect::<Vec<_>>().join(" ");
    let blocks =
        vec![Block::Words(first.into()), Block::Code { caption: "Command".to_owned(), text }, Block::List(facts)];
    Section::new(CLOSING[2], blocks)
}

/// What a reader must know before acting on a number: what applies to the result, and what always does.
pub fn cautions(of: &[Caution]) -> Section {
    let all = of.iter().chain(&ALWAYS).map(|caution| caution.text().into()).collect();
    Section::new(CLOSING[0], vec![Block::List(all)])
}

/// The script, letter by letter.
pub fn scripted(name: &str, text: &str) -> Section {
    Section::new(CLOSING[1], vec![Block::Code { caption: name.to_owned(), text: text.to_owned() }])
}

/// How a result is made again.
pub struct Again<'a> {
    /// from where
    pub first: &'a str,
    /// the command, word by word
    pub words: &'a [String],
    /// program and version
    pub program: &'a str,
    /// SHA-256 of the script; none where the command alone asked
    pub hash: Option<&'a str>,
    /// seeds of everything drawn
    pub seeds: &'a [u64],
}

/// How to get the same again.
pub fn again(how: &Again<'_>) -> Section {
    let seeds: Vec<String> = how.seeds.iter().map(u64::to_string).collect();
    let drawn = if seeds.is_empty() {
        "No random numbers were used.".to_owned()
    } else {
        format!("Seed: {}.", seeds.join(", "))
    };
    let said = [
        Some(format!("Written by {}; the same version gives the same numbers on any number of threads.", how.program)),
        how.hash.map(|hash| format!("SHA-256 of the script: {hash}")),
        Some(drawn),
    ];
    repeated(how.first, how.words, said.into_iter().flatten().map(Words::from).collect())
}

/// A word of a command line, in quotes where a shell would take it apart.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_=./+".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        word.to_owned()
    } else {
        format!("'{}'", word.replace('\'', "'\\''"))
    }
}
