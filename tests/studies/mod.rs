//! A study in its own folder, run by the program.
#![allow(dead_code)] // each test uses some of it

#[allow(unused_imports)] // as above
pub use crate::common::{check, refusal, runs, slipsoak};
use std::fs;
use std::path::Path;

/// A folder that holds a script as `study.rhai`.
pub fn folder(script: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("study.rhai"), script).expect("written");
    folder
}

/// Runs the study and returns its output.
pub fn run(at: &Path, more: &[&str]) -> String {
    let done = slipsoak(at, &["run", "study.rhai"]).args(more).assert().code(0);
    String::from_utf8(done.get_output().stdout.clone()).expect("text")
}
