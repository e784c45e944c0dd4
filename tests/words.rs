//! The table of words is complete: every example runs, every word is known.

mod common;

use common::{check, runs};
use slipsoak::Script;
use slipsoak::command::words::reference;
use slipsoak::language::limits::Limits;
use slipsoak::language::vocabulary::{On, WORDS};
use std::collections::BTreeMap;
use std::path::PathBuf;

fn script(text: String) -> Script {
    // Beside the shipped duties, so that examples find parts and traces.
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/example.rhai");
    Script { path, name: "example.rhai".to_owned(), text }
}

#[test]
fn every_example_is_accepted_by_check() {
    for word in WORDS {
        let script = script(word.script());
        let checked = check(&script, Limits::default());
        assert!(checked.is_ok(), "{}: {}\n{}", word.name, checked.unwrap_err().render(false), script.text);
    }
}

#[test]
fn every_example_of_a_ride_runs() {
    for word in WORDS.iter().filter(|w| w.on == On::Ride) {
        let script = script(word.script());
        let run = runs(&script, &BTreeMap::new(), Some(1));
        assert!(run.is_ok(), "{}: {}\n{}", word.name, run.unwrap_err().render(false), script.text);
    }
}

#[test]
fn every_example_uses_its_word() {
    for word in WORDS {
        assert!(word.example.contains(word.name), "{}", word.name);
    }
}

#[test]
fn the_reference_explains_every_word_and_suggests_one_for_a_misspelling() {
    // Lines wrap.
    let all = reference(None).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
    for word in WORDS {
        assert!(all.contains(word.meaning), "{}", word.name);
    }
    assert!(reference(Some("idel")).unwrap_err().to_string().contains("did you mean `idle`?"));
    assert!(reference(Some("rpm")).unwrap().contains("revolutions per minute"));
}
