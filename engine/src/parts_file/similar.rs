//! Similar names: suggestions for a misspelt one.

/// Similarity of two texts, 0 to 1: the Jaro-Winkler similarity.
///
/// ```text
/// s = (m/|a| + m/|b| + (m − t)/m)/3;  s + 0.1 p (1 − s) where s > 0.7
/// ```
/// m: letters that both have within half the longer length of each other; t: half of those out of order; p: equal letters at
/// the start, at most 4. Source: W. E. Winkler, Proceedings of the Section on Survey Research Methods, American Statistical
/// Association (1990) 354, with its examples:
/// ```
/// use slipsoak_engine::parts_file::similarity;
/// assert!((similarity("martha", "marhta") - 0.961).abs() < 5e-4);
/// assert!((similarity("dwayne", "duane") - 0.84).abs() < 5e-4);
/// assert!((similarity("dixon", "dicksonx") - 0.813).abs() < 5e-4);
/// ```
pub fn similarity(a: &str, b: &str) -> f64 {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    if a.is_empty() || b.is_empty() {
        return f64::from(u8::from(a.len() == b.len()));
    }
    let reach = (a.len().max(b.len()) / 2).saturating_sub(1);
    let mut taken = vec![false; b.len()];
    let mut matched = vec![];
    for (i, letter) in a.iter().enumerate() {
        let mut near = i.saturating_sub(reach)..b.len().min(i + reach + 1);
        if let Some(j) = near.find(|&j| b[j] == *letter && !taken[j]) {
            taken[j] = true;
            matched.push(*letter);
        }
    }
    if matched.is_empty() {
        return 0.0;
    }
    let other = b.iter().zip(&taken).filter(|pair| *pair.1).map(|pair| pair.0);
    let moved = matched.iter().zip(other).filter(|(x, y)| x != y).count() / 2;
    let m = matched.len() as f64;
    let jaro = (m / a.len() as f64 + m / b.len() as f64 + (m - moved as f64) / m) / 3.0;
    let start = a.iter().zip(&b).take(4).take_while(|(x, y)| x == y).count() as f64;
    if jaro > 0.7 { jaro + 0.1 * start * (1.0 - jaro) } else { jaro }
}

/// `; did you mean `x`?`, or nothing.
pub fn maybe(suggestion: Option<&str>) -> String {
    suggestion.map_or_else(String::new, |s| format!("; did you mean `{s}`?"))
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
