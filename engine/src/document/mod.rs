//! Saved results: each is one document, which states its kind, has a head, and checks itself when it is read.

pub mod calibration;
pub mod failed;
pub mod finding;
pub mod fleet;
mod head;
mod kind;
mod ledgers;
mod life;
pub mod oil_plan;
pub mod reason;
pub mod record;
pub mod retraced;
mod saved;
pub mod sensitivity;
pub mod sheet;
pub mod sound;
pub mod spring_choice;
pub mod stack_up;
pub mod sweep;
mod warning;

pub use head::Head;
pub use kind::{Document, Is, Kind};
pub use saved::Saved;
