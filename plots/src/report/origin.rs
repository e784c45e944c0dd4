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
    let mut words = vec!["slipsoak".to_owned(), "run".to_owned(), origin.script.to_owned()];
    for (name, value) in origin.parameters {
        words.extend(["--set".to_owned(), format!("{name}={value}")]);
    }
    let how = Again { words: &words, program: origin.program, hash: Some(origin.hash), seeds: origin.seeds };
    vec![cautions(applying), scripted(origin.script, origin.text), again(&how)]
}

/// A command that gives the same again, and what else that takes.
pub fn repeated(first: &str, command: &[String], facts: Vec<Words>) -> Section {
    let text = command.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(" ");
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
    let written = ["--out", "result", "--report"].map(str::to_owned);
    let command: Vec<String> = how.words.iter().cloned().chain(written).collect();
    let seeds: Vec<String> = how.seeds.iter().map(u64::to_string).collect();
    let drawn = if seeds.is_empty() {
        "No random numbers were used.".to_owned()
    } else {
        format!("Seed: {}.", seeds.join(", "))
    };
    let with = match how.hash {
        Some(_) => "Save the script above beside its part files, then run:",
        None => "From the folder that holds the files it names:",
    };
    let said = [
        Some(format!("Written by {}; the same version gives the same numbers on any number of threads.", how.program)),
        how.hash.map(|hash| format!("SHA-256 of the script: {hash}")),
        Some(drawn),
    ];
    repeated(with, &command, said.into_iter().flatten().map(Words::from).collect())
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
