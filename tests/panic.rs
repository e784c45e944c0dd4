//! A bug ends with one paragraph for the user. In a file of its own, because the panic hook belongs to the whole
//! process.

use slipsoak::Error;
use slipsoak::language::script_error::{Place, ScriptError};
use slipsoak::panic::caught;
use slipsoak::study::study_error::StudyError;
use std::sync::{Mutex, PoisonError};

/// One test at a time: they would replace each other's hook.
static ALONE: Mutex<()> = Mutex::new(());

#[test]
fn a_panic_on_any_thread_becomes_one_paragraph_that_says_what_to_do() {
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let bug = |trouble: Result<(), Error>| {
        let trouble = trouble.expect_err("it panicked");
        assert_eq!(trouble.exit_code(), 1);
        let text = trouble.render(false);
        assert!(
            !text.contains("panicked") && !text.contains("RUST_BACKTRACE") && !text.trim().contains('\n'),
            "{text}"
        );
        for words in ["tests/panic.rs:", "nothing was written", "report", env!("CARGO_PKG_VERSION"), "script"] {
            assert!(text.contains(words), "no {words} in: {text}");
        }
        text
    };
    assert!(bug(caught(|| panic!("a shoe too many"))).contains("a shoe too many"));
    let count = 3;
    assert!(bug(caught(|| panic!("{count} shoes too many"))).contains("3 shoes too many"));
    let pool = rayon::ThreadPoolBuilder::new().num_threads(2).build().expect("threads");
    let fallen = bug(caught(|| pool.install(|| panic!("a spring fell off"))));
    assert!(fallen.contains("a spring fell off"));
    assert_eq!(caught::<_, Error>(|| Ok(4)).expect("no panic"), 4);
    let usual =
        caught::<(), Error>(|| Err(StudyError::Threads("none".to_owned()).into())).expect_err("an error stays one");
    assert_eq!(usual.to_string(), StudyError::Threads("none".to_owned()).to_string());
}

#[test]
fn a_panic_leaves_no_half_written_folder() {
    use slipsoak::keep::folder::Folder;
    let _alone = ALONE.lock().unwrap_or_else(PoisonError::into_inner);
    let above = tempfile::tempdir().expect("a folder");
    let broken = caught::<(), Error>(|| {
        let folder = Folder::prepare(&above.path().join("out"), false)?;
        folder.write("record.json", b"{")?;
        panic!("in the middle of writing")
    });
    assert!(broken.expect_err("it panicked").to_string().contains("a bug of its own"));
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
