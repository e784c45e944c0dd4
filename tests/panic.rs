//! A bug ends the program with one paragraph for the user.

use slipsoak::keep::folder::Folder;
use slipsoak::language::script_error::{Place, ScriptError};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

/// Names the bug, and the folder in which it happens, to a process that is to have one.
const BUG: &str = "SLIPSOAK_TEST_BUG";

#[test]
#[ignore = "a bug for the tests below, in a process of its own, since it ends the process"]
fn bug() {
    let Ok(named) = std::env::var(BUG) else { return };
    slipsoak::panic::heed(|bug| eprintln!("{}", bug.render(false)));
    let pool = rayon::ThreadPoolBuilder::new().num_threads(2).build().expect("threads");
    let count = 3;
    match named.as_str() {
        "plain" => panic!("a shoe too many"),
        "counted" => panic!("{count} shoes too many"),
        "elsewhere" => pool.install(|| panic!("a spring fell off")),
        "twice" => drop(pool.broadcast(|_| panic!("a spring fell off"))),
        at => {
            let folder = Folder::prepare(&PathBuf::from(at).join("out"), false).expect("a folder");
            folder.write("record.json", b"{").expect("written");
            panic!("in the middle of writing")
        }
    }
}

/// What a process says that comes upon a bug.
fn said(named: &str) -> String {
    let test = std::env::current_exe().expect("this test");
    let child = Command::new(test).args(["--exact", "panic::bug", "--ignored", "--nocapture"]).env(BUG, named).output();
    let Output { status, stderr, .. } = child.expect("it starts");
    assert_eq!(status.code(), Some(1), "{named}");
    let text = String::from_utf8(stderr).expect("text");
    let [first] = text.trim().lines().collect::<Vec<_>>()[..] else { panic!("not one paragraph: {text}") };
    assert!(first.starts_with("error: slipsoak stumbled over a bug of its own: "), "{text}");
    assert!(!text.contains("panicked") && !text.contains("RUST_BACKTRACE"), "{text}");
    for words in ["tests/panic.rs:", "nothing was written", "report", env!("CARGO_PKG_VERSION"), "script"] {
        assert!(text.contains(words), "no {words} in: {text}");
    }
    text
}

#[test]
fn a_panic_on_any_thread_becomes_one_paragraph_that_says_what_to_do() {
    for (named, what) in [
        ("plain", "a shoe too many"),
        ("counted", "3 shoes too many"),
        ("elsewhere", "a spring fell off"),
        ("twice", "a spring fell off"),
    ] {
        assert!(said(named).contains(what), "{named}");
    }
}

#[test]
fn a_panic_leaves_no_half_written_folder() {
    let above = tempfile::tempdir().expect("a folder");
    let text = said(above.path().to_str().expect("text"));
    let wanted: &Path = &above.path().join("out");
    assert!(text.contains(&format!("nothing was written to {}.", wanted.display())), "{text}");
    assert_eq!(std::fs::read_dir(above.path()).expect("a folder").count(), 0);
}

#[test]
fn a_run_that_could_not_be_computed_is_named_if_no_line_of_the_script_caused_it() {
    let place = |span, uncomputed| {
        ScriptError::At(Box::new(Place {
            script: "made.rhai".to_owned(),
            text: "compare(…);".to_owned(),
            title: "the step shrank to nothing".to_owned(),
            span,
            trail: vec![],
            help: None,
            uncomputed,
            corrections: None,
        }))
    };
    let said = |trouble: ScriptError| trouble.in_run("orchard cart, 1900 rpm", "between the trees").to_string();
    assert_eq!(said(place(None, true)), "orchard cart, 1900 rpm under between the trees: the step shrank to nothing");
    // A line of the script, or a mistake in the script itself, is enough.
    for told in [place(Some(0..7), true), place(None, false)] {
        assert_eq!(said(told), "the step shrank to nothing");
    }
    assert!(place(None, true).in_run("a", "b").uncomputed().is_some(), "it is still told from a mistake of the script");
}
