//! Files on disk: result folders, journals, tables.

pub(crate) mod folder;
pub mod interrupt;
pub mod journal;
pub mod output;
