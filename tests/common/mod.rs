//! The program, run in a test's own folder.
#![allow(dead_code)] // each test uses some of it

use assert_cmd::Command;
use slipsoak::language::limits::Limits;
use slipsoak::study::outline;
use slipsoak::study::request::Request;
use slipsoak::study::runs::Findings;
use slipsoak::study::{Study, asked};
use slipsoak::{Error, Script};
use slipsoak_engine::document::Saved;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// The program, in a folder.
pub fn slipsoak(at: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_slipsoak"));
    command.current_dir(at).args(arguments);
    command
}

/// The program, in the folder of the repository.
pub fn at_home(arguments: &[&str]) -> Command {
    slipsoak(env!("CARGO_MANIFEST_DIR").as_ref(), arguments)
}

/// Its error message there.
pub fn refused(arguments: &[&str], code: i32) -> String {
    let output = at_home(arguments).assert().code(code).get_output().clone();
    let message = String::from_utf8(output.stderr).expect("text");
    assert!(!message.contains("panicked") && !message.contains("bug of its own"), "{message}");
    message
}

/// An empty folder of this name among the build's files, for what is made once and read by several tests: what is held for as
/// long as the program runs is not removed at its end.
pub fn kept_folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    folder
}

/// The program's error message, in one line.
pub fn refusal(at: &Path, arguments: &[&str], code: i32) -> String {
    let output = slipsoak(at, arguments).assert().code(code).get_output().clone();
    let message = String::from_utf8(output.stderr).expect("text");
    assert!(!message.contains("panicked"), "{message}");
    message.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Makes the runs of a script and answers its questions.
pub fn runs(script: &Script, settings: &BTreeMap<String, f64>, threads: Option<u16>) -> Result<Findings, Error> {
    let request = Request::of(script, settings, Limits::default());
    let Study::Runs(runs) = asked(&request, (1, 1), &mut |_| ())? else { panic!("it asks for a long study") };
    Ok(runs.perform(threads, |_| (), &mut |_| ())?)
}

/// Makes the long study of a script.
pub fn long(script: &Script, settings: &BTreeMap<String, f64>) -> Result<Saved, Error> {
    let request = Request::of(script, settings, Limits::default());
    let Study::Long(study) = asked(&request, (1, 1), &mut |_| ())? else { panic!("it asks for runs") };
    let folder = tempfile::tempdir().expect("a folder");
    let (_, whole) = study.run(&folder.path().join("journal"), None, &|_| (), &|| ())?;
    Ok(whole.expect("the whole"))
}

/// Checks a script.
pub fn check(script: &Script, limits: Limits) -> Result<(String, Vec<String>), Error> {
    Ok(outline::outline(&Request::of(script, &BTreeMap::new(), limits), &mut |_| ())?)
}
