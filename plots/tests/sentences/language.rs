//! Rules of language, and what breaks them.

use crate::plain::PLAINER;
use slipsoak_plots::words::terms::TERMS;

/// Places of a word or words in a text, whole.
pub fn holds(text: &str, word: &str) -> bool {
    let edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric());
    text.match_indices(word)
        .any(|(at, found)| edge(text[..at].chars().next_back()) && edge(text[at + found.len()..].chars().next()))
}

/// Words in a text that readers stumble over, each with what to write instead.
pub fn stumbles(text: &str) -> Vec<String> {
    let terms = TERMS.iter().flat_map(|t| t.instead_of.iter().map(|word| (*word, t.term)));
    // A kind of document has this name, so that helps hold it.
    let told = [("told", "known, shown")];
    let held = PLAINER.iter().copied().chain(terms).chain(told).filter(|(word, _)| holds(text, word));
    held.map(|(word, better)| format!("“{word}”, better “{better}”")).collect()
}

/// Figures of the numbers before a unit, leading and closing zeros apart.
pub fn figures_before(text: &str, unit: &str) -> Vec<usize> {
    let places = text
        .match_indices(unit)
        .filter(|(at, _)| text[at + unit.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric()));
    let number = |at: usize| {
        let start = text[..at]
            .rfind(|c: char| !(c.is_ascii_digit() || c == '.' || c == '\u{a0}'))
            .map_or(0, |k| k + text[k..].chars().next().map_or(1, char::len_utf8));
        text[start..at].chars().filter(char::is_ascii_digit).collect::<String>()
    };
    places.map(|(at, _)| number(at).trim_matches('0').len()).collect()
}
