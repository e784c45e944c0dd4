//! The machine named on the command line, with its settings.

use crate::command::options::Part;
use crate::command::terminal::print;
use crate::error::Ending;
use crate::read::file::{self, FileError};
use crate::read::quantity::{QuantityError, read_near};
use crate::read::refusal::Refusal;
use crate::read::variant;
use crate::study::head::{command, head};
use slipsoak_engine::document::Head;
use slipsoak_engine::parts::{Invalid, Machine, parameter};
use thiserror::Error;

/// Error of a machine or an option on the command line.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum ArgumentError {
    /// a file
    #[error(transparent)]
    File(#[from] FileError),
    /// the machine, by its file or by its settings together; an unknown use; a stock of springs
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// not a quantity
    #[error("{option}: {source}")]
    Quantity { option: String, source: QuantityError },
    /// out of its range
    #[error("{option} is {value}; it must lie between {least} and {most}{meant}")]
    Range { option: String, value: String, least: String, most: String, meant: String },
}

impl Ending for ArgumentError {
    fn exit_code(&self) -> u8 {
        if matches!(self, Self::File(_)) { 2 } else { 1 }
    }
}

impl From<Invalid> for ArgumentError {
    fn from(invalid: Invalid) -> Self {
        Self::Refused(invalid.into())
    }
}

/// Reads the machine named on the command line.
pub fn machine(arguments: &Part) -> Result<Machine, ArgumentError> {
    let mut machine = if let Some(machine) = arguments.part.to_str().and_then(variant::built_in) {
        if arguments.part.to_str() != Some(variant::BUILT_IN) {
            let name = arguments.part.display();
            print(&[format!("note: the built-in machine is now called `{}`; `{name}` still works", variant::BUILT_IN)]);
        }
        machine
    } else {
        let (file, text) = file::named(&arguments.part, file::Kind::Part)?;
        variant::read(&file, &text)?
    };
    for (path, value) in &arguments.settings {
        let Some(p) = parameter(path) else {
            return Err(variant::unknown(&machine.name, path).into());
        };
        let value = read_near(value, p.dimension, Some((p.of)(&machine)));
        let value = value.map_err(|source| ArgumentError::Quantity { option: format!("--set {path}"), source })?;
        variant::adjust(&mut machine, path, value)?;
    }
    machine.check()?;
    Ok(machine)
}

/// The head of a command's result on a machine, with the given options.
pub fn of_machine<'a>(word: &str, machine: &Part, options: impl IntoIterator<Item = (&'a str, &'a str)>) -> Head {
    let given = options.into_iter().flat_map(|(option, value)| [format!("--{option}"), value.to_owned()]);
    let set = machine.settings.iter().map(|(path, value)| (path, value.clone()));
    head(command(word, machine.part.display().to_string(), set, given), None, vec![])
}
