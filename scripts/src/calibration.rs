//! The calibration file: read, checked, and put into a machine.

use crate::files::{Refused, Shelf};
use crate::learning;
use crate::plan::Variant;
use crate::units::{maybe, nearest};
use slipsoak_engine::calibrate::Calibration;
use slipsoak_engine::fleet::{Spread, Uncertain};
use slipsoak_engine::parts::parameter;
use thiserror::Error;

/// Why a calibration is not used.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum Unusable {
    /// not such a file
    #[error(
        "{file}, line {line}, column {column}: {why}; `slipsoak calibrate` writes such files, `slipsoak schema calibration` describes them"
    )]
    Json { file: String, line: usize, column: usize, why: String },
    /// a constant that cannot be learned
    #[error("{file}: `{path}` is no constant that can be learned{}", maybe(suggestion.as_deref()))]
    Path { file: String, path: String, suggestion: Option<String> },
    /// a value that cannot be
    #[error("{file}: {path} is {value} {unit}; it must lie between {least} and {most} {unit}")]
    Value { file: String, path: String, value: f64, unit: &'static str, least: f64, most: f64 },
    /// a factor below one
    #[error("{file}: the spread of {path} is {factor}; a factor is 1 or more")]
    Factor { file: String, path: String, factor: f64 },
    /// the file itself
    #[error(transparent)]
    File(#[from] Refused),
}

/// Reads a calibration; `file` is its name for messages.
pub fn read(file: &str, text: &str) -> Result<Calibration, Unusable> {
    let made: Calibration = serde_json::from_str(text).map_err(|e| Unusable::Json {
        file: file.to_owned(),
        line: e.line(),
        column: e.column(),
        why: e.to_string().split(" at line").next().unwrap_or_default().to_owned(),
    })?;
    for c in &made.constants {
        let (file, path) = (file.to_owned(), c.path.clone());
        let Some(p) = learning::setting(&path) else {
            let suggestion = nearest(&path, learning::learnable().map(|l| l.0));
            return Err(Unusable::Path { file, path, suggestion });
        };
        if !(c.value >= p.least && c.value <= p.most) {
            let (value, unit) = (c.value, p.dimension.unit());
            return Err(Unusable::Value { file, path, value, unit, least: p.least, most: p.most });
        }
        if !(c.spread >= 1.0 && c.spread.is_finite()) {
            return Err(Unusable::Factor { file, path, factor: c.spread });
        }
    }
    Ok(made)
}

/// The machine with the constants of a calibration, spread in a fleet as its data leave them. What the script has spread
/// itself stays as it says.
pub fn applied(variant: &Variant, calibration: &Calibration) -> Variant {
    let mut variant = variant.clone();
    for c in &calibration.constants {
        if let Some(p) = parameter(&c.path) {
            (p.put)(&mut variant.machine, c.value);
        }
        if !variant.spreads.iter().any(|u| u.path == c.path) {
            let spread = Spread::Factor(c.spread);
            variant.spreads.push(Uncertain { path: c.path.clone(), spread, draw: c.path.clone() });
        }
    }
    variant
}

/// The machine with the calibration of that name beside the script.
pub fn calibrated(shelf: &Shelf, variant: &Variant, name: &str) -> Result<Variant, Unusable> {
    let file = format!("{}.json", name.trim_end_matches(".json"));
    Ok(applied(variant, &read(&file, &shelf.read(name, ".json")?)?))
}
