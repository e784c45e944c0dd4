//! The calibration file: read, checked, and applied to a machine.

use crate::read::parts_folder::PartsFolderError;
use crate::read::saved;
use crate::read::units::{maybe, nearest};
use slipsoak_engine::calibrate::{Calibration, learnable, setting};
use slipsoak_engine::fleet::mixture;
use thiserror::Error;

/// Reason why a calibration is not used.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum CalibrationFileError {
    /// not a calibration file
    #[error(
        "{file}, line {line}, column {column}: {why}; `slipsoak calibrate` writes such files, `slipsoak schema calibration` describes them"
    )]
    Json { file: String, line: usize, column: usize, why: String },
    /// a constant that cannot be learned
    #[error("{file}: `{path}` is no constant that can be learned{}", maybe(suggestion.as_deref()))]
    Path { file: String, path: String, suggestion: Option<String> },
    /// a value out of range
    #[error("{file}: {path} is {value} {unit}; it must lie between {least} and {most} {unit}")]
    Value { file: String, path: String, value: f64, unit: &'static str, least: f64, most: f64 },
    /// a factor below one
    #[error("{file}: the spread of {path} is {factor}; a factor is 1 or more")]
    Factor { file: String, path: String, factor: f64 },
    /// an error larger than the spread that contains it
    #[error("{file}: the factor of {path} is {factor}; it lies between 1 and its spread of {spread}, which holds it")]
    Wider { file: String, path: String, factor: f64, spread: f64 },
    /// an invalid correlation matrix
    #[error(
        "{file}: `correlation` is no correlation matrix of its {constants} constants: as many rows and columns, alike on both sides of a diagonal of 1, and no mixture of errors with a variance below 0"
    )]
    Correlation { file: String, constants: usize },
    /// an error of the file itself
    #[error(transparent)]
    File(#[from] PartsFolderError),
}

/// Reads a calibration; `file` is its name for messages.
pub fn read(file: &str, text: &str) -> Result<Calibration, CalibrationFileError> {
    if let Ok(Err(why)) = saved::kind(text) {
        return Err(CalibrationFileError::Json { file: file.to_owned(), line: 1, column: 1, why: why.to_string() });
    }
    let made: Calibration = serde_json::from_str(text).map_err(|e| CalibrationFileError::Json {
        file: file.to_owned(),
        line: e.line(),
        column: e.column(),
        why: e.to_string().split(" at line").next().unwrap_or_default().to_owned(),
    })?;
    for c in &made.constants {
        let (file, path) = (file.to_owned(), c.path.clone());
        let Some(p) = setting(&path) else {
            let suggestion = nearest(&path, learnable().map(|l| l.0));
            return Err(CalibrationFileError::Path { file, path, suggestion });
        };
        if !(c.value >= p.least && c.value <= p.most) {
            let (value, unit) = (c.value, p.dimension.unit());
            return Err(CalibrationFileError::Value { file, path, value, unit, least: p.least, most: p.most });
        }
        if !(c.spread >= 1.0 && c.spread.is_finite()) {
            return Err(CalibrationFileError::Factor { file, path, factor: c.spread });
        }
        if !(c.factor >= 1.0 && c.factor <= c.spread * (1.0 + 1e-9)) {
            return Err(CalibrationFileError::Wider { file, path, factor: c.factor, spread: c.spread });
        }
    }
    if made.correlation.len() != made.constants.len() || mixture(&made.correlation).is_none() {
        return Err(CalibrationFileError::Correlation { file: file.to_owned(), constants: made.constants.len() });
    }
    Ok(made)
}
