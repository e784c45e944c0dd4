//! The commands: their arguments, the work, and the delivery of results.

pub mod arguments;
pub mod begin;
pub mod calibrate;
pub mod compare;
pub mod deliver;
pub mod draw;
pub mod draw_arguments;
pub mod machine;
pub mod manual;
pub mod options;
pub mod page;
pub mod progress;
pub mod retrace;
pub mod run;
pub mod settings;
pub mod sheet;
pub mod shop;
mod shop_values;
pub mod terminal;
pub mod tips;
pub mod words;
