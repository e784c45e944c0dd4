//! One word for one thing: helps and figures use the glossary's terms.

use crate::plain::PLAINER;
use clap::CommandFactory;
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
    texts.push(("the settings".to_owned(), slipsoak::command::settings::every()));
    texts.push(("the glossary".to_owned(), words::terms(None).expect("the glossary")));
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

/// The texts in quotes of a source file, comments left out, in small letters with single spaces.
fn quoted(source: &str) -> Vec<String> {
    let code: Vec<&str> = source.lines().filter(|line| !line.trim_start().starts_with("//")).collect();
    let code = code.join("\n").replace("\\\"", "'");
    let texts = code.split('"').skip(1).step_by(2);
    texts
        .map(|text| text.replace("\\\n", " ").to_lowercase().split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

fn sources(folder: &Path, found: &mut Vec<(String, Vec<String>)>) {
    for entry in std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
        if entry.is_dir() {
            sources(&entry, found);
        } else if entry.extension().is_some_and(|e| e == "rs") {
            found.push((entry.display().to_string(), quoted(&std::fs::read_to_string(&entry).expect("a source"))));
        }
    }
}

/// Errors, heads of tables and names are not all in a help, a page or a snapshot: their sources are read.
#[test]
fn no_text_in_the_sources_holds_a_word_that_readers_stumble_over() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    for folder in ["engine/src", "plots/src", "scripts/src"] {
        sources(&root.join(folder), &mut found);
    }
    // The table of terms names what not to say.
    found.retain(|(file, _)| !file.ends_with("terms.rs"));
    assert!(found.iter().map(|(_, texts)| texts.len()).sum::<usize>() > 3000);
    for (file, texts) in &found {
        for text in texts {
            for (word, better) in PLAINER {
                assert!(!holds(text, word), "“{word}”, better “{better}”, in {file}: {text}");
            }
        }
    }
    let heads = &found.iter().find(|(file, _)| file.ends_with("keep/tables.rs")).expect("the tables").1;
    for (term, word) in TERMS.iter().flat_map(|term| term.instead_of.iter().map(move |word| (term.term, word))) {
        assert!(heads.iter().all(|head| !holds(head, word)), "“{word}” instead of “{term}” in the head of a table");
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
