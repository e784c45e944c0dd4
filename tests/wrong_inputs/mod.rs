//! Wrong inputs, each with the parts that its message must hold: what is wrong, where, the value with its unit, and what to do.

mod commands;
mod files;
mod questions;
mod scripts;

use crate::common::{refusal, slipsoak};
use commands::COMMANDS;
use files::FILES;
use questions::QUESTIONS;
use scripts::SCRIPTS;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// A command line, and the parts of its message.
type Refused = (&'static [&'static str], &'static [&'static str]);

/// Parts of a message that it lacks.
fn lacking<'a>(message: &str, parts: &[&'a str]) -> Vec<&'a str> {
    parts.iter().copied().filter(|part| !message.contains(part)).collect()
}

fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in FILES {
        fs::write(folder.path().join(name), text).expect("written");
    }
    fs::create_dir(folder.path().join("dir")).expect("a folder");
    let run = ["run", "ok.rhai", "--out", "saved", "--no-pictures", "--quiet"];
    slipsoak(folder.path(), &run).assert().success();
    fs::copy(folder.path().join("saved/record.json"), folder.path().join("record.json")).expect("copied");
    folder
}

/// The message in one line, of whatever exit code.
fn message(at: &Path, arguments: &[&str]) -> String {
    let output = slipsoak(at, arguments).output().expect("it runs");
    let code = output.status.code().expect("a code");
    assert!(code == 1 || code == 2, "{arguments:?} was accepted: {}", String::from_utf8_lossy(&output.stdout));
    refusal(at, arguments, code)
}

#[test]
fn every_wrong_command_line_and_file_is_answered_by_what_where_value_and_remedy() {
    let folder = folder();
    let mut failures = vec![];
    let mut known = BTreeSet::new();
    for (arguments, parts) in QUESTIONS.iter().chain(COMMANDS) {
        assert!(known.insert(arguments), "{arguments:?} stands twice");
        let message = message(folder.path(), arguments);
        let lacking = lacking(&message, parts);
        if !lacking.is_empty() || parts.len() < 2 {
            failures.push(format!("{arguments:?} lacks {lacking:?}: {message}"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
    assert!(known.len() + SCRIPTS.len() >= 120, "{} inputs", known.len() + SCRIPTS.len());
}

#[test]
fn what_only_follows_from_a_mistake_is_not_told_and_none_is_told_twice() {
    let folder = tempfile::tempdir().expect("a folder");
    let day = "fn day(ride) { ride.idle(9.s); }\nlet d = duty(\"d\", Fn(\"day\"));\n";
    for (script, cause, silent) in [
        (format!("{day}sweep(machine(\"example\"), d, 3);"), "`sweep` was given 3 arguments", "compares nothing"),
        (format!("{day}sweep(d, machine(\"example\"));"), "`sweep` needs machines and duties", "compares nothing"),
        (
            "compare(machine(\"example\"), duty(\"d\", |ride| { ride.oil(3); }));".to_owned(),
            "the duty `d` takes no time",
            "more is wrong",
        ),
        (
            "compare(machine(\"example\"), duty(\"d\", |r| { let t = r.clock(3); r.idle(t); }));".to_owned(),
            "there is no word `clock`",
            "needs a number",
        ),
    ] {
        fs::write(folder.path().join("script.rhai"), &script).expect("written");
        let message = message(folder.path(), &["check", "script.rhai"]);
        assert!(message.contains(cause) && !message.contains(silent), "{script}: {message}");
    }
}

#[test]
fn every_wrong_script_is_answered_by_its_line_and_how_to_write_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut failures = vec![];
    for (text, parts) in SCRIPTS {
        let text = match text.strip_prefix("RIDE: ") {
            Some(ride) => format!("compare(machine(\"example\"), duty(\"d\", |ride| {{ {ride} }}));"),
            None => (*text).to_owned(),
        };
        fs::write(folder.path().join("script.rhai"), &text).expect("written");
        let message = message(folder.path(), &["check", "script.rhai"]);
        let lacking = lacking(&message, parts);
        if !lacking.is_empty() || !message.contains("script.rhai") {
            failures.push(format!("{text} lacks {lacking:?}: {message}"));
        }
    }
    assert!(failures.is_empty(), "{}", failures.join("\n"));
}
