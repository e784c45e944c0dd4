//! The script language: its words, their functions, the limits of scripts, and the plan that a script makes.

pub(crate) mod captured;
pub(crate) mod crossing;
pub(crate) mod dictionary;
pub(crate) mod distinct;
pub mod fence;
pub(crate) mod hints;
pub mod interpreter;
pub(crate) mod ordering;
pub mod plan;
pub(crate) mod questions;
pub mod refusal;
pub mod ride;
pub mod spelling;
pub(crate) mod unset;
pub mod vocabulary;
