//! The program, run in a test's own folder.
#![allow(dead_code)] // each test uses some of it

use assert_cmd::Command;
use std::path::Path;

/// The program, in a folder.
pub fn slipsoak(at: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(at).args(arguments);
    command
}

/// The program's error message, in one line.
pub fn refusal(at: &Path, arguments: &[&str], code: i32) -> String {
    let output = slipsoak(at, arguments).assert().code(code).get_output().clone();
    let message = String::from_utf8(output.stderr).expect("text");
    assert!(!message.contains("panicked"), "{message}");
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}
