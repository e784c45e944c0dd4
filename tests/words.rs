//! The table of words is complete: every example runs, every word is known.

use crate::common::{check, runs};
use clap::CommandFactory;
use slipsoak::Script;
use slipsoak::command::words::reference;
use slipsoak::language::limits::Limits;
use slipsoak::language::vocabulary::words;
use slipsoak::language::word::{On, Word};
use std::collections::BTreeMap;
use std::path::PathBuf;

/// A complete script around the example of a word.
fn script(word: &Word) -> Script {
    let example = word.example;
    let whole = ["compare(", "sweep(", "matters(", "choose(", "gaps(", "measure(", "oiling("]
        .iter()
        .any(|ask| example.contains(ask));
    let still = "duty(\"still\", |ride| ride.idle(1.s))";
    let text = match word.on() {
        On::Script if whole => example.to_owned(),
        On::Script => format!("{example}\ncompare(machine(\"example\"), {still});\n"),
        On::Machine => format!("let cart = machine(\"example\");\n{example}\ncompare(cart, {still});\n"),
        On::Duty => format!(
            "fn rides(ride) {{ ride.idle(30.s); ride.launch(20.km_h); ride.brake(1.5); ride.motor_off(10.hours); }}\n\
             let week = duty(\"a week\", Fn(\"rides\"));\n{example}\ncompare(machine(\"example\"), season);\n"
        ),
        On::Ride => format!(
            "fn example(ride) {{\n    {example}\n    ride.idle(1.s);\n}}\n\
             compare(machine(\"example\"), duty(\"example\", Fn(\"example\")));\n"
        ),
    };
    // Beside the shipped duties, so that examples find parts and traces.
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("scripts/duty/example.rhai");
    Script { path, name: "example.rhai".to_owned(), text }
}

#[test]
fn every_example_is_accepted_by_check() {
    for word in words() {
        let script = script(word);
        let checked = check(&script, Limits::default());
        assert!(checked.is_ok(), "{}: {}\n{}", word.name(), checked.unwrap_err().render(false), script.text);
    }
}

#[test]
fn every_example_of_a_ride_runs() {
    for word in words().filter(|w| w.on() == On::Ride) {
        let script = script(word);
        let run = runs(&script, &BTreeMap::new(), Some(1));
        assert!(run.is_ok(), "{}: {}\n{}", word.name(), run.unwrap_err().render(false), script.text);
    }
}

#[test]
fn every_example_uses_its_word() {
    for word in words() {
        assert!(word.example.contains(word.name()), "{}", word.name());
    }
}

#[test]
fn the_reference_explains_every_word_and_suggests_one_for_a_misspelling() {
    // Lines wrap.
    let all = reference(None).unwrap().split_whitespace().collect::<Vec<_>>().join(" ");
    for word in words() {
        assert!(all.contains(word.meaning()), "{}", word.name());
    }
    assert!(reference(Some("idel")).unwrap_err().to_string().contains("did you mean `idle`?"));
    assert!(reference(Some("rpm")).unwrap().contains("revolutions per minute"));
}

#[test]
fn earlier_names_still_work_and_a_note_says_the_new_ones() {
    let folder = tempfile::tempdir().expect("a folder");
    let script = folder.path().join("earlier.rhai");
    let text = "compare(machine(\"standard\"), duty(\"d\", |ride| { ride.found(0.7); ride.idle(2.s); }));\n";
    std::fs::write(&script, text).expect("written");
    let mut program = assert_cmd::Command::cargo_bin("slipsoak").expect("the program");
    let done = program.arg("run").arg(&script).arg("--json").assert().success();
    let (out, said) = (&done.get_output().stdout, String::from_utf8_lossy(&done.get_output().stderr).into_owned());
    let record: serde_json::Value = serde_json::from_slice(out).expect("a record");
    assert_eq!(record["runs"][0]["variant"], "example");
    for note in
        ["`ride.found(fill)` is now `ride.set_fill(fill)`", "`machine(\"standard\")` is now `machine(\"example\")`"]
    {
        assert_eq!(said.matches(note).count(), 1, "{said}");
    }
}

#[test]
fn every_question_of_the_shop_is_a_word_and_a_command() {
    let program = slipsoak::command::arguments::Arguments::command();
    for question in slipsoak::shop::QUESTIONS {
        assert!(words().any(|word| word.name() == question.word), "no word `{}`", question.word);
        let command = program.find_subcommand(question.word).unwrap_or_else(|| panic!("no `{}`", question.word));
        for option in question.options.iter().filter(|option| !option.help.is_empty()) {
            let known = command.get_arguments().any(|argument| argument.get_long() == Some(option.name));
            assert!(known, "{} has no --{}", question.word, option.name);
        }
    }
}
