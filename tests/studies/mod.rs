//! A study in a folder of its own, run by the program.
#![allow(dead_code)] // each test uses some of it

use assert_cmd::Command;
use std::fs;
use std::path::Path;

/// A folder that holds a script as `study.rhai`.
pub fn folder(script: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("study.rhai"), script).expect("written");
    folder
}

/// The program, in a folder.
pub fn slipsoak(at: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(at).args(arguments);
    command
}

/// Runs the study and gives what is printed.
pub fn run(at: &Path, more: &[&str]) -> String {
    let done = slipsoak(at, &["run", "study.rhai"]).args(more).assert().code(0);
    String::from_utf8(done.get_output().stdout.clone()).expect("text")
}

/// What the program says as it refuses.
pub fn refusal(at: &Path, arguments: &[&str], code: i32) -> String {
    let output = slipsoak(at, arguments).assert().code(code).get_output().clone();
    let message = String::from_utf8(output.stderr).expect("text");
    assert!(!message.contains("panicked"), "{message}");
    message
}
