//! Saved results: each is one document, which says its kind, holds one head, and checks itself when it is read.

mod head;
mod kind;
mod saved;
pub mod sound;

pub use head::Head;
pub use kind::{Is, Kind};
pub use saved::Saved;

use schemars::JsonSchema;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// A result as it is saved.
pub trait Document: Serialize + DeserializeOwned + JsonSchema + PartialEq {
    /// what kind it is
    const KIND: Kind;

    /// What wrote it, from what, and how to get it again.
    fn head(&self) -> &Head;

    /// Checks every index and every length that drawing relies on; or says what is damaged.
    fn check(&self) -> Result<(), String>;
}
