//! Tips beside what the command line's reader refuses.

use crate::command::arguments::Arguments;
use crate::read::shipped;
use crate::read::units::{maybe, nearest};
use clap::builder::StyledStr;
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{CommandFactory, Error};
use slipsoak_engine::usage::USES;
use slipsoak_plots::Figure;
use std::path::Path;

/// What to give for an argument that is missing, or instead of an option that there is not.
const TIPS: [(&str, &str); 9] = [
    ("--csv", "`run --out DIR` writes tables as CSV"),
    ("--pdf", "`run --out DIR --report` writes a page to print as PDF from a browser"),
    ("--page", "--out DIR --report writes the page"),
    ("--html", "--out DIR --report writes the page"),
    ("<PART>", "name a machine: a parts file, a shipped one such as orchard-cart, or `example`, the built-in one"),
    (
        "<SCRIPT>",
        "name a script: a .rhai file, or a shipped one such as orchard; `slipsoak begin DIR` writes all into a folder",
    ),
    ("<SECOND>", "name two results: folders of --out, or saved JSON files"),
    ("--fahrenheit", "text and pages give °C and °F; `slipsoak draw` takes --fahrenheit for figures"),
    ("--units", "text and pages give both scales; `slipsoak run` takes --units for its tables"),
];

/// Words typed in place of a command, and what does it.
const COMMANDS: [(&str, &str); 9] = [
    ("spring", "`slipsoak choose` says which spring to fit"),
    ("springs", "`slipsoak choose` says which spring to fit"),
    ("stock", "`slipsoak season` says which spare parts a season needs"),
    ("plot", "`slipsoak draw` draws figures of a saved result"),
    ("fit", "`slipsoak calibrate` learns constants from readings"),
    ("version", "`slipsoak --version` says it"),
    ("matters", "a script asks which assumed constants matter: `slipsoak words matters` says how"),
    ("sweep", "a script sweeps settings: `slipsoak words sweep` says how"),
    ("fleet", "a script asks for a fleet: `slipsoak words fleet` says how"),
];

/// What takes a file that is named without a command.
fn for_file(word: &str) -> Option<String> {
    let ending = Path::new(word).extension().and_then(|ending| ending.to_str()).unwrap_or_default();
    match ending {
        "rhai" => Some(format!("`slipsoak run {word}` runs a script")),
        "json" => {
            Some(format!("`slipsoak sheet {word}` takes a machine, `slipsoak report {word} --out page.html` a result"))
        }
        "csv" | "gpx" => Some(format!("`slipsoak retrace {word}` follows a recorded ride")),
        _ if shipped::ending_in(".rhai").any(|name| name == word) => {
            Some(format!("`slipsoak run {word}` runs the shipped script"))
        }
        _ if shipped::ending_in(".json").any(|name| name == word) => {
            Some(format!("`slipsoak sheet {word}` takes the shipped machine"))
        }
        _ => None,
    }
}

/// The command of a command line, with all its options.
fn command_of(words: &[String]) -> Option<clap::Command> {
    let mut program = Arguments::command();
    program.build();
    words.iter().find_map(|word| program.find_subcommand(word)).cloned()
}

/// The option that a word typed without one belongs to, if the command has it.
fn option_for(word: &str, words: &[String]) -> Option<String> {
    let command = command_of(words)?;
    let has = |name: &str| command.get_arguments().any(|arg| arg.get_long() == Some(name));
    let part = || {
        let json = Path::new(word).extension().is_some_and(|ending| ending == "json");
        json || word == "example" || shipped::ending_in(".json").any(|name| name == word)
    };
    if has("use") && USES.iter().any(|(name, ..)| *name == word) {
        Some(format!("`--use {word}` names the use"))
    } else if has("figure") && Figure::ALL.iter().any(|figure| figure.name() == word) {
        Some(format!("`--figure {word}` draws this figure alone"))
    } else if has("set") && word.contains('=') {
        Some(format!("`--set {word}` sets it"))
    } else if has("machine") && part() {
        Some(format!("`--machine {word}` names the machine"))
    } else {
        None
    }
}

/// The other options of a command line that there are not, each with the nearest, and those that are missing, so that one message
/// names all.
fn others(words: &[String], first: &str) -> Vec<StyledStr> {
    let Some(command) = command_of(words) else { return vec![] };
    let known: Vec<&str> = command.get_arguments().filter_map(clap::Arg::get_long).collect();
    let hidden = command.get_arguments().flat_map(|arg| arg.get_all_aliases().unwrap_or_default());
    let hidden: Vec<&str> = hidden.collect();
    let typed = || words.iter().filter_map(|word| word.strip_prefix("--")?.split('=').next());
    let close = |name: &str| nearest(name, known.iter().copied());
    let alone = |arg: &clap::Arg| {
        command.get_groups().any(|group| group.is_required_set() && group.get_args().eq([arg.get_id()]))
    };
    let required = command.get_arguments().filter(|arg| arg.is_required_set() || alone(arg));
    let missing = required.filter_map(|arg| {
        let name = arg.get_long()?;
        // What is misspelt is not missing too.
        let given =
            typed().any(|typed| typed == name || (!known.contains(&typed) && close(typed).as_deref() == Some(name)));
        (!given).then(|| StyledStr::from(format!("{arg} is missing too")))
    });
    let wrong = typed().filter(|name| {
        !name.is_empty()
            && *name != first
            && !["help", "version"].contains(name)
            && !known.contains(name)
            && !hidden.contains(name)
    });
    let said = wrong.map(|name| {
        let near = maybe(close(name).map(|near| format!("--{near}")).as_deref());
        StyledStr::from(format!("there is no option '--{name}' either{near}"))
    });
    said.chain(missing).collect()
}

/// Adds what to give, and takes off the tips to pass a misspelt option as a value: no command takes a value that begins with a
/// dash.
pub fn helpful(refused: &mut Error, words: &[String]) {
    let mut tips = match refused.remove(ContextKind::Suggested) {
        Some(ContextValue::StyledStrs(tips)) => tips,
        _ => vec![],
    };
    tips.retain(|tip| !tip.to_string().contains("as a value"));
    let about: Vec<String> = match refused.get(ContextKind::InvalidArg) {
        Some(ContextValue::Strings(all)) => all.clone(),
        Some(ContextValue::String(one)) => vec![one.clone()],
        _ => vec![],
    };
    let wrong = match refused.get(ContextKind::InvalidSubcommand) {
        Some(ContextValue::String(word)) => COMMANDS.iter().find(|(typed, _)| typed == word),
        _ => None,
    };
    let file = match refused.get(ContextKind::InvalidSubcommand) {
        Some(ContextValue::String(word)) => for_file(word),
        _ => None,
    };
    if let Some(tip) = file {
        tips = vec![StyledStr::from(tip)];
        refused.remove(ContextKind::SuggestedSubcommand);
    } else if let Some((_, tip)) = wrong {
        // What is spelled alike does something else.
        tips = vec![StyledStr::from(*tip)];
        refused.remove(ContextKind::SuggestedSubcommand);
    } else if refused.kind() == ErrorKind::UnknownArgument && about.iter().all(|typed| !typed.starts_with('-')) {
        let meant = about.first().and_then(|word| option_for(word, words));
        let several =
            || "a name or a value of several words stands in quotes; another value needs its option".to_owned();
        tips.push(StyledStr::from(meant.unwrap_or_else(several)));
    }
    if refused.kind() == ErrorKind::UnknownArgument
        && let Some(first) = about.first().and_then(|typed| typed.strip_prefix("--"))
    {
        tips.extend(others(words, first));
    }
    let own = TIPS.iter().filter(|(argument, _)| about.iter().any(|of| of == argument));
    tips.extend(own.map(|(_, tip)| StyledStr::from(*tip)));
    if !tips.is_empty() {
        refused.insert(ContextKind::Suggested, ContextValue::StyledStrs(tips));
    }
}
