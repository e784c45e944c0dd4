//! Use and remaining life of each part: what wears, by how much, and when it is at its limit.
//!
//! A wear part is a row of `wear_parts.rs`, and so are the two faces that wear it: use, ledgers, renewals, supplies and what an
//! inspection reads off follow from them.

mod uses;
mod wear_parts;

pub(crate) use uses::{Length, parts, simulated, uses};
pub use wear_parts::{Goes, Inspection, Measure, PAIRS, Pair, Renewal, Rubbing, WEAR_PARTS, WearPart, Worn};
