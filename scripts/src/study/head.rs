//! The head of every result: the program, the exact command, and the script with its parameters, so that the result can
//! be reproduced.

use crate::read::hash::hash;
use crate::read::script::Script;
use slipsoak_engine::document::Head;
use std::collections::BTreeMap;

/// Program and version.
pub(crate) const PROGRAM: &str = concat!("slipsoak ", env!("CARGO_PKG_VERSION"));

/// A script with its request.
#[derive(Clone, Copy, Debug)]
pub struct Asking<'a> {
    /// the script
    pub script: &'a Script,
    /// its title
    pub title: &'a str,
    /// the parameter values used
    pub parameters: &'a BTreeMap<String, f64>,
}

/// The head of a result; `asking` if a script asked for it.
pub fn head(command: Vec<String>, asking: Option<Asking<'_>>, seeds: Vec<u64>) -> Head {
    let alone = Head { program: PROGRAM.to_owned(), command, seeds, ..Head::default() };
    let Some(Asking { script, title, parameters }) = asking else { return alone };
    Head {
        script: script.name.clone(),
        script_hash: hash(&script.text),
        script_text: script.text.clone(),
        title: title.to_owned(),
        parameters: parameters.clone(),
        ..alone
    }
}

impl Asking<'_> {
    /// The head of the script's runs, with the command that runs it again.
    pub fn run(self, skipping: bool, seeds: Vec<u64>) -> Head {
        let no_skip = if skipping { vec![] } else { vec!["--no-skip".to_owned()] };
        let set = self.parameters.iter().map(|(name, value)| (name, value.to_string()));
        let path = self.script.path.display().to_string();
        head(command("run", path, set, no_skip), Some(self), seeds)
    }
}

/// A command: its word, its subject, settings, and other words.
pub fn command<'a>(
    word: &str,
    subject: String,
    set: impl IntoIterator<Item = (&'a String, String)>,
    options: impl IntoIterator<Item = String>,
) -> Vec<String> {
    let set = set.into_iter().flat_map(|(name, value)| ["--set".to_owned(), format!("{name}={value}")]);
    ["slipsoak".to_owned(), word.to_owned(), subject].into_iter().chain(set).chain(options).collect()
}
