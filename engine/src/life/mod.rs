//! Use and remaining life of each part.
//!
//! Each wear part, and each pair of faces that wears it, is a row of `wear_parts.rs`: use, ledgers, renewals, supplies
//! and the readings of an inspection follow from them.

mod uses;
mod wear_parts;

pub(crate) use uses::{Length, parts, simulated, uses};
pub use wear_parts::{Goes, Inspection, Measure, PAIRS, Pair, Renewal, Rubbing, WEAR_PARTS, WearPart, Worn};
