//! The commands: their arguments, the work, and the delivery of results.

pub mod arguments;
pub mod calibrate;
pub mod combinations;
pub mod deliver;
pub mod draw;
pub(crate) mod fleet_table;
pub mod learned;
pub mod machine;
pub mod page;
pub mod progress;
pub mod ranking;
pub mod retrace;
pub mod run;
pub mod sheet;
pub mod shop;
pub mod table;
pub mod terminal;
pub mod words;
