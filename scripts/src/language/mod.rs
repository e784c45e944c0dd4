//! The script language: its words, their functions, the limits of scripts, and the plan that a script makes.

pub(crate) mod arithmetic;
pub(crate) mod away;
pub mod calibrated;
pub(crate) mod closures;
pub(crate) mod code;
pub(crate) mod context;
pub mod corrections;
pub(crate) mod corrector;
pub(crate) mod distinct_names;
pub(crate) mod hints;
pub mod interpreter;
pub mod limits;
pub(crate) mod ordering;
pub mod plan;
pub mod quantity;
pub(crate) mod renamed;
pub(crate) mod repairs;
pub mod ride;
pub(crate) mod sandbox;
pub mod script_error;
pub mod spelling;
pub mod vocabulary;
pub mod width;
pub mod word;
pub mod word_error;
pub(crate) mod words;
