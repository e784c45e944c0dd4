//! Similar names: suggestions for a misspelt one.

/// Similarity of two texts, 0 to 1.
pub use strsim::jaro_winkler as similarity;

/// ` (did you mean `x`?)`, or nothing.
pub fn maybe(suggestion: Option<&str>) -> String {
    suggestion.map_or_else(String::new, |s| format!(" (did you mean `{s}`?)"))
}

/// The most similar known name to a misspelt one, if any is similar.
pub fn nearest<'a>(given: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let lower = given.to_lowercase();
    known
        .into_iter()
        .map(|name| (similarity(&lower, &name.to_lowercase()), name))
        .filter(|(score, _)| *score > 0.72)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name.to_owned())
}
