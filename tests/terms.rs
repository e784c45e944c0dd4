//! One word for one thing: helps and figures use the glossary's terms.

#[path = "../plots/tests/plain/mod.rs"]
mod plain;

use clap::CommandFactory;
use plain::PLAINER;
use slipsoak::command::arguments::Arguments;
use slipsoak::command::words;
use slipsoak_plots::words::terms::TERMS;
use std::path::Path;

/// Whether a text holds a word or words, whole.
fn holds(text: &str, word: &str) -> bool {
    let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric() && c != '-' && c != '_');
    text.match_indices(word)
        .any(|(at, found)| edge(text[..at].chars().next_back()) && edge(text[at + found.len()..].chars().next()))
}

#[test]
fn helps_and_figures_use_no_other_word_for_a_term() {
    let mut texts = vec![("the reference".to_owned(), words::reference(None).expect("a reference"))];
    texts.push(("the settings".to_owned(), slipsoak::command::settings::text()));
    texts.push(("the glossary".to_owned(), words::terms()));
    let mut arguments = Arguments::command();
    arguments.build();
    let help = |command: &mut clap::Command| {
        (format!("help of {}", command.get_name()), command.render_long_help().to_string())
    };
    texts.extend(arguments.get_subcommands_mut().map(help));
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let snapshots = std::fs::read_dir(root.join("plots/tests/snapshots")).expect("snapshots");
    for path in
        snapshots.map(|entry| entry.expect("an entry").path()).filter(|p| p.extension().is_some_and(|e| e == "txt"))
    {
        texts.push((path.display().to_string(), std::fs::read_to_string(&path).expect("a snapshot")));
    }
    assert!(texts.len() > 25, "{}", texts.len());
    for (place, text) in &texts {
        let text = text.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ");
        for term in TERMS {
            for word in term.instead_of {
                assert!(!holds(&text, word), "“{word}” instead of “{}” in {place}", term.term);
            }
        }
        for (word, better) in PLAINER {
            assert!(!holds(&text, word), "“{word}”, better “{better}”, in {place}");
        }
    }
}

#[test]
fn every_term_stands_once() {
    for (k, term) in TERMS.iter().enumerate() {
        assert!(TERMS[..k].iter().all(|other| other.term != term.term), "{}", term.term);
        let others = TERMS.iter().flat_map(|other| other.instead_of).filter(|word| **word == term.term).count();
        assert_eq!(others, 0, "{} is both a term and a word not to use", term.term);
    }
}
