//! Parts files: machines as JSON, with their quantities in the units that people use.

mod choices;
mod json_advice;
mod limits;
mod machine;
mod machine_error;
mod quantity;
mod quantity_error;
mod similar;
mod slips;
mod spelling;
mod unique_keys;
mod unit_words;
mod writing;

pub use choices::{FORMS, form, idle_kind, lining, oil};
pub use limits::limits;
pub use machine::{read, set};
pub use machine_error::{MachineError, parts, several};
pub use quantity::{read as quantity, read_near};
pub use quantity_error::QuantityError;
pub use similar::{maybe, nearest, similarity};
pub use slips::mended;
pub use spelling::{SPELLINGS, spelled, unit_named};
pub use unit_words::{UNITS, Unit, short, show, texts};
pub use writing::write;
