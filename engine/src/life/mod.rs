//! Use and remaining life of each part.
//!
//! Each wear part, and each pair of faces that wears it, is a row of `wear_parts.rs`: use, ledgers, renewals, supplies
//! and the readings of an inspection follow from them.

mod uses;
mod wear_parts;

pub(crate) use uses::{Length, parts, simulated, uses};
pub(crate) use wear_parts::{Goes, PAIRS, Pair, WEAR_PARTS};
pub use wear_parts::{Inspection, Worn};
