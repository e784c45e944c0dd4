//! Files that are read: machines, tables, rides, logs, saved results; and quantities as people write them.

pub mod calendar;
pub mod calibration;
pub mod columns;
pub(crate) mod decimal;
pub(crate) mod delimited;
pub(crate) mod encoding;
pub mod file;
pub mod geodesic;
pub(crate) mod hash;
pub mod heads;
pub mod inspections;
pub(crate) mod paced;
pub(crate) mod part_schema;
pub mod parts_folder;
pub mod quantity;
pub mod refusal;
pub mod ridelog;
pub mod saved;
pub mod script;
pub(crate) mod setting_advice;
pub(crate) mod shipped;
pub mod stock;
pub mod trace;
pub mod units;
pub mod uses;
pub mod variant;
