//! Use and remaining life of each part.
//!
//! Each wear part, and each pair of faces that wears it, is a row of `wear_parts.rs`: use, ledgers, renewals and supplies
//! follow from them.

mod uses;
mod wear_parts;

pub(crate) use uses::{Length, parts, simulated, unknown, uses};
pub(crate) use wear_parts::{Goes, PAIRS, Pair};
