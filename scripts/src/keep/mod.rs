//! Files on disk: result folders, journals, tables.

pub mod folder;
pub mod interrupt;
pub mod journal;
pub mod output;
pub mod output_error;
pub(crate) mod tables;
