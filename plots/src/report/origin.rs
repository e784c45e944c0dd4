//! Sections that every page ends with: cautions, the script, and how to get the same again.

use super::{Block, Section, Words};
use std::collections::BTreeMap;
use std::fmt::Write as _;

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

const CAUTIONS: [&str; 5] = [
    "The results are estimates for comparing machines and duties, never a safety certificate.",
    "Drum, chain and linings run hot enough to burn, long after a ride. Chain and drum keep turning when the throttle is shut.",
    "A clutch that drags can make a machine creep at idle. Switch the motor off and let it cool before touching anything.",
    "Keep oil off the linings: an oiled clutch slips, heats and may not hold.",
    "Local codes and qualified people decide what may be ridden, rented out or altered.",
];

/// What was asked; of a script that does not say, its name.
pub fn asked(title: &str, script: &str) -> String {
    let said = [title, script].into_iter().find(|text| !text.trim().is_empty());
    said.unwrap_or("A study without a name").to_owned()
}

/// Cautions, script, and how to get the same again.
pub fn closing(origin: &Origin<'_>) -> Vec<Section> {
    vec![cautions(), script(origin.script, origin.text), Section::new("To get the same again", again(origin))]
}

/// What everybody has to know.
pub fn cautions() -> Section {
    Section::new("Cautions", vec![Block::List(CAUTIONS.map(Words::from).to_vec())])
}

/// The script, letter by letter.
pub fn script(name: &str, text: &str) -> Section {
    Section::new("The script", vec![Block::Code { caption: name.to_owned(), text: text.to_owned() }])
}

/// A command that gives the same again, and what else that takes.
pub fn repeated(first: &str, command: &[String], facts: Vec<Words>) -> Section {
    let text = command.iter().map(|word| quoted(word)).collect::<Vec<_>>().join(" ");
    let blocks =
        vec![Block::Words(first.into()), Block::Code { caption: "Command".to_owned(), text }, Block::List(facts)];
    Section::new("To get the same again", blocks)
}

fn again(origin: &Origin<'_>) -> Vec<Block> {
    let mut command = format!("slipsoak run {}", quoted(origin.script));
    for (name, value) in origin.parameters {
        let _ = write!(command, " --set {}", quoted(&format!("{name}={value}")));
    }
    command += " --out result --report";
    let seeds: Vec<String> = origin.seeds.iter().map(u64::to_string).collect();
    let drawn = if seeds.is_empty() {
        "Nothing was drawn at random.".to_owned()
    } else {
        format!("Seed: {}.", seeds.join(", "))
    };
    vec![
        Block::Words("The script above, with its parts and traces beside it or in ../parts:".into()),
        Block::Code { caption: "Command".to_owned(), text: command },
        Block::List(vec![
            Words::from(format!(
                "Written by {}; the same version gives the same numbers on any number of threads.",
                origin.program
            )),
            Words::from(format!("SHA-256 of the script: {}", origin.hash)),
            Words::from(drawn),
        ]),
    ]
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
