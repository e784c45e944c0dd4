//! Checks of documents: lists that are not empty, numbers that a run can give.

use crate::names::Part;

/// Numbers beyond this cannot result from a run.
const BEYOND: f64 = 1e100;

/// What is damaged, and why.
pub(super) fn damaged(what: &str, why: &str) -> String {
    format!("`{what}` is damaged: {why}")
}

/// Fails if a condition does not hold.
pub fn require(whole: bool, what: &str, why: &str) -> Result<(), String> {
    if whole { Ok(()) } else { Err(damaged(what, why)) }
}

/// Fails for lives that end with the oil: at its limit oil is due for service, and the clutch continues.
pub fn oil_apart(ends: impl IntoIterator<Item = Option<Part>>, what: &str) -> Result<(), String> {
    let counted = ends.into_iter().any(|part| part == Some(Part::Oil));
    let why = "a life in it ends with the oil, as an earlier version counted; today the oil is set apart, so that its lives cannot be read";
    if counted { Err(format!("`{what}` is outdated: {why}")) } else { Ok(()) }
}

/// Fails for an empty list.
pub fn filled<T>(list: &[T], what: &str) -> Result<(), String> {
    require(!list.is_empty(), what, "it is empty")
}

/// Fails for numbers that cannot result from a run.
pub fn sound(numbers: impl IntoIterator<Item = f64>, what: &str) -> Result<(), String> {
    require(numbers.into_iter().all(|v| v.abs() < BEYOND), what, "a number in it is none that a run gives")
}
