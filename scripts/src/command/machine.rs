//! The machine named on the command line, with its settings.

use crate::command::arguments::Part;
use crate::command::terminal::print;
use crate::read::file::{self, FileError};
use crate::read::quantity::{QuantityError, read_near};
use crate::read::variant::{self, MachineError};
use crate::study::head::{command, head};
use slipsoak_engine::document::Head;
use slipsoak_engine::parts::{Invalid, Machine, parameter};
use thiserror::Error;

/// Error of the machine named on the command line.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MachineArgumentError {
    /// its file
    #[error(transparent)]
    File(#[from] FileError),
    /// an error of the file, or of its settings together
    #[error(transparent)]
    Machine(#[from] MachineError),
    /// the value of a setting
    #[error("--set {path}: {source}")]
    Setting {
        /// setting
        path: String,
        /// what is wrong
        source: QuantityError,
    },
}

impl MachineArgumentError {
    /// 2 if the command line is wrong, 1 if a value is.
    pub fn exit_code(&self) -> u8 {
        if matches!(self, Self::File(_)) { 2 } else { 1 }
    }
}

impl From<Invalid> for MachineArgumentError {
    fn from(invalid: Invalid) -> Self {
        Self::Machine(invalid.into())
    }
}

/// Reads the machine named on the command line.
pub fn machine(arguments: &Part) -> Result<Machine, MachineArgumentError> {
    let mut machine = if let Some(machine) = arguments.part.to_str().and_then(variant::built_in) {
        if arguments.part.to_str() != Some(variant::BUILT_IN) {
            let name = arguments.part.display();
            print(&[format!("note: the built-in machine is now called `{}`; `{name}` still works", variant::BUILT_IN)]);
        }
        machine
    } else {
        let text = file::text(&arguments.part, file::Kind::Part)?;
        let file = arguments.part.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned());
        variant::read(&file, &text)?
    };
    for (path, value) in &arguments.settings {
        let Some(p) = parameter(path) else {
            return Err(variant::unknown(&machine.name, path).into());
        };
        let value = read_near(value, p.dimension, Some((p.of)(&machine)));
        let value = value.map_err(|source| MachineArgumentError::Setting { path: path.clone(), source })?;
        variant::adjust(&mut machine, path, value)?;
    }
    machine.check()?;
    Ok(machine)
}

/// The head of a command's result on a machine, with the given options.
pub fn of_machine(word: &str, machine: &Part, options: &[(&str, Option<String>)]) -> Head {
    let given = options.iter().filter_map(|(option, value)| Some([format!("--{option}"), value.clone()?]));
    let set = machine.settings.iter().map(|(path, value)| (path, value.clone()));
    head(command(word, machine.part.display().to_string(), set, given.flatten()), None, vec![])
}
