//! Parts files: machines as JSON, with their quantities in the units that people use.

mod json_advice;
mod machine;
mod quantity;
mod similar;
mod slips;
mod unique_keys;
mod unit_words;
mod writing;

pub use machine::{FORMS, MachineError, form, idle_kind, lining, oil, parts, read, set, several};
pub use quantity::{QuantityError, SPELLINGS, read as quantity, read_near, spelled, unit_named};
pub use similar::{maybe, nearest, similarity};
pub use slips::mended;
pub use unit_words::{UNITS, Unit, short, show, texts};
pub use writing::write;
