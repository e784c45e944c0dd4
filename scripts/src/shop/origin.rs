//! Who asks: the command or the script, word by word, so that an answer can be asked for again.

use crate::Script;
use crate::arguments::Part;
use crate::study::{PROGRAM, hash};
use slipsoak_engine::origin::Origin;
use std::collections::BTreeMap;

/// A command with the machine and the options that were given.
pub fn of_command(word: &str, machine: &Part, options: &[(&str, Option<String>)]) -> Origin {
    let mut command = vec!["slipsoak".to_owned(), word.to_owned(), machine.part.display().to_string()];
    for (path, value) in &machine.settings {
        command.extend(["--set".to_owned(), format!("{path}={value}")]);
    }
    for (option, value) in options {
        command.extend(value.iter().flat_map(|value| [(*option).to_owned(), value.clone()]));
    }
    Origin { program: PROGRAM.to_owned(), command, ..Origin::default() }
}

/// The command that runs a script again, its path as it was typed.
pub fn command(script: &Script, parameters: &BTreeMap<String, f64>, skipping: bool) -> Vec<String> {
    let mut command = vec!["slipsoak".to_owned(), "run".to_owned(), script.path.display().to_string()];
    for (name, value) in parameters {
        command.extend(["--set".to_owned(), format!("{name}={value}")]);
    }
    if !skipping {
        command.push("--no-skip".to_owned());
    }
    command
}

/// A script with the command that runs it again.
pub fn of_script(script: &Script, parameters: &BTreeMap<String, f64>, skipping: bool) -> Origin {
    Origin {
        program: PROGRAM.to_owned(),
        command: command(script, parameters, skipping),
        script: script.name.clone(),
        script_hash: hash(&script.text),
        script_text: script.text.clone(),
    }
}
