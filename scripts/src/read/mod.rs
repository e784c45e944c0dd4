//! Files that are read: machines, tables, rides, logs, saved results.

pub mod calendar;
pub mod calibration;
pub mod columns;
pub mod files;
pub mod geodesic;
pub mod given;
pub mod inspections;
pub(crate) mod json;
pub(crate) mod once;
pub(crate) mod paced;
pub mod quantity;
pub mod recording;
pub mod saved;
pub mod stock;
pub mod trace;
pub mod units;
pub mod variant;
