//! A variant: a machine to compare, with advice on what its file or script says wrong.

use crate::read::quantity::meant;
use crate::read::setting_advice;
use crate::read::units::{nearest, show};
use slipsoak_engine::parts::{Form, Invalid, LiningKind, Machine, Oil, parameter};
use slipsoak_engine::parts_file;
use thiserror::Error;

/// Reason why a variant is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MachineError {
    /// what the engine refuses
    #[error(transparent)]
    Refused(parts_file::MachineError),
    /// an unknown setting
    #[error("{file}: there is no setting `{path}`; {advice}")]
    Key {
        /// file
        file: String,
        /// JSON path
        path: String,
        /// advice
        advice: String,
    },
    /// a value outside its range, in familiar units
    #[error("{path} is {value}; it must lie between {range} ({meaning}){meant}")]
    Range {
        /// setting
        path: &'static str,
        /// with unit
        value: String,
        /// least and most, with units
        range: String,
        /// meaning of the setting
        meaning: &'static str,
        /// probable meaning
        meant: String,
    },
}

impl From<parts_file::MachineError> for MachineError {
    fn from(refused: parts_file::MachineError) -> Self {
        use parts_file::MachineError as Engine;
        match refused {
            Engine::Key { file, path } => unknown(&file, &path),
            Engine::Part { file, part: path } => {
                let advice = match nearest(&path, parts_file::parts()) {
                    Some(near) => format!("did you mean `{near}`? (`slipsoak settings` lists them all)"),
                    None => setting_advice::advice(&path),
                };
                Self::Key { file, path, advice }
            }
            Engine::Invalid(Invalid::Range { path, value, unit, least, most }) => {
                let Some(p) = parameter(path) else {
                    return Self::Refused(Engine::Invalid(Invalid::Range { path, value, unit, least, most }));
                };
                let meant = meant(value, (least, most), p.dimension);
                let [value, least, most] = [value, least, most].map(|v| show(v, p.dimension));
                Self::Range { path, value, range: format!("{least} and {most}"), meaning: p.meaning, meant }
            }
            other => Self::Refused(other),
        }
    }
}

impl From<Invalid> for MachineError {
    fn from(invalid: Invalid) -> Self {
        parts_file::MachineError::from(invalid).into()
    }
}

/// Name of the built-in machine.
pub const BUILT_IN: &str = "example";

/// The built-in machine, by its name or its earlier one.
pub fn built_in(name: &str) -> Option<Machine> {
    [BUILT_IN, "standard"].contains(&name).then(Machine::default)
}

/// The error for an unknown setting.
pub fn unknown(machine: &str, path: &str) -> MachineError {
    MachineError::Key { file: machine.to_owned(), path: path.to_owned(), advice: setting_advice::advice(path) }
}

/// The oil with that name.
pub fn oil(given: &str) -> Result<Oil, MachineError> {
    Ok(parts_file::oil(given)?)
}

/// The form with that name.
pub fn form(given: &str) -> Result<Form, MachineError> {
    Ok(parts_file::form(given)?)
}

/// The kind of lining with that name.
pub fn lining(given: &str) -> Result<LiningKind, MachineError> {
    Ok(parts_file::lining(given)?)
}

/// Sets one number of a machine by its path, SI.
pub fn adjust(machine: &mut Machine, path: &str, value: f64) -> Result<&'static str, MachineError> {
    Ok(parts_file::adjust(machine, path, value)?)
}

/// Reads a machine from a parts file; `file` is its name for messages.
pub fn read(file: &str, text: &str) -> Result<Machine, MachineError> {
    Ok(parts_file::read(file, text)?)
}
