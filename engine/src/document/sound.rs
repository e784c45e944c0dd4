//! What documents check of themselves: lists that are filled, numbers that a run can give.

use crate::names::Part;

/// Numbers beyond this are none that a run gives.
const BEYOND: f64 = 1e100;

/// Refuses what is not whole.
pub fn require(whole: bool, what: &str, why: &str) -> Result<(), String> {
    if whole { Ok(()) } else { Err(format!("`{what}` is damaged: {why}")) }
}

/// Refuses lives that end with the oil: since it is set apart, at its limit it is due for service, and the clutch goes on.
pub fn oil_apart(ends: impl IntoIterator<Item = Option<Part>>, what: &str) -> Result<(), String> {
    let counted = ends.into_iter().any(|part| part == Some(Part::Oil));
    let why = "a life in it ends with the oil, as an earlier version counted; today the oil is set apart, so that its lives cannot be read";
    if counted { Err(format!("`{what}` is outdated: {why}")) } else { Ok(()) }
}

/// Refuses an empty list.
pub fn filled<T>(list: &[T], what: &str) -> Result<(), String> {
    require(!list.is_empty(), what, "it is empty")
}

/// Refuses numbers that no run gives.
pub fn sound(numbers: impl IntoIterator<Item = f64>, what: &str) -> Result<(), String> {
    require(numbers.into_iter().all(|v| v.abs() < BEYOND), what, "a number in it is none that a run gives")
}
