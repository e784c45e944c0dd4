//! Files on disk: result folders, journals, tables.

mod columns;
pub mod folder;
pub mod heading;
pub mod interrupt;
pub mod journal;
pub(crate) mod journal_line;
pub mod output;
pub(crate) mod place;
pub(crate) mod remains;
pub(crate) mod tables;
pub mod units;
