//! Specification of a machine, part by part; every number is described once in [`PARAMETERS`].

mod machine;
mod oil;
mod parameter;
mod table;

pub use machine::{Form, Invalid, LiningKind, Machine};
pub use oil::{OILS, Oil};
pub use parameter::{Confidence, Dimension, Parameter, in_words, parameter};
pub use table::*;
