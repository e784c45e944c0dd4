//! Specification of a machine, part by part; every number is described once in [`PARAMETERS`].

mod derived;
mod follows;
mod idling;
mod invalid;
mod lining;
mod machine;
mod oil;
mod parameter;
mod table;

pub use crate::dimension::Dimension;
pub use crate::laws::shoe::Form;
pub use crate::names::{IdleKind, LiningKind};
pub use derived::SPRINGS;
pub(crate) use derived::{MOST_SHOES, below_limit, ring};
pub use follows::ByHand;
pub use invalid::Invalid;
pub use lining::{LINING_WEAR, lining_set};
pub use machine::Machine;
pub use oil::{OILS, Oil};
pub use parameter::{Confidence, Parameter, in_words, parameter};
pub use table::*;
