//! Specification of a machine, part by part; every number is described once in [`PARAMETERS`].

mod derived;
mod machine;
mod oil;
mod parameter;
mod table;

pub use crate::laws::shoe::Form;
pub(crate) use derived::ring;
pub use machine::{Idle, Invalid, LiningKind, Machine};
pub use oil::{OILS, Oil};
pub use parameter::{Confidence, Dimension, Parameter, in_words, parameter};
pub use table::*;
