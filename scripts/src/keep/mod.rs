//! Files on disk: result folders, journals, tables.

pub mod folder;
pub mod interrupt;
pub mod journal;
pub mod output;
pub(crate) mod tables;
pub mod units;
