//! Supplies used by services.

use crate::names::Part;
use std::collections::BTreeMap;

/// Supplies used by services: drops of oil, grease in mL, then new parts.
pub(super) type Supplies = [f64; 2 + Part::COUNT];

/// Used supplies by name.
pub(super) fn named(used: &Supplies) -> BTreeMap<String, f64> {
    let parts = Part::ALL.map(|part| part.row().renewal.as_ref().map_or("", |new| new.supply));
    let names = ["oil, drops", "grease, mL"].into_iter().chain(parts);
    names.zip(*used).filter(|s| s.1 > 0.0).map(|(name, amount)| (name.to_owned(), amount)).collect()
}
