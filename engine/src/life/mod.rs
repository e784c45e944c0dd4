//! Use and remaining life of each part.
//!
//! Each wear part is a row of `wear_parts.rs`, each pair of faces that wears it one of `pairs.rs`: use, ledgers, renewals and
//! supplies follow from them.

mod pairs;
mod projection;
mod repeated;
mod second_half;
mod wear_parts;

pub(crate) use pairs::{PAIRS, Pair};
pub(crate) use projection::{Length, parts};
pub(crate) use repeated::{simulated, unknown};
pub(crate) use wear_parts::{Goes, uses};
