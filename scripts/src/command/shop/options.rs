//! Quantities and names given as options, read and checked against their ranges.

use crate::command::machine::MachineArgumentError;
use crate::read::file::FileError;
use crate::read::quantity::{QuantityError, meant, read, read_near};
use crate::read::stock::StockError;
use crate::read::units::show;
use crate::read::uses::UseError;
use slipsoak_engine::parts::Dimension;
use thiserror::Error;

/// Reason why an option is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum OptionError {
    /// not a quantity
    #[error("{option}: {source}")]
    Quantity {
        /// option
        option: &'static str,
        /// what is wrong
        source: QuantityError,
    },
    /// out of its range
    #[error("{option} is {value}; it must lie between {least} and {most}{meant}")]
    Range {
        /// option
        option: &'static str,
        /// with unit
        value: String,
        /// with unit
        least: String,
        /// with unit
        most: String,
        /// probable meaning
        meant: String,
    },
    /// an unknown use
    #[error(transparent)]
    Use(#[from] UseError),
    /// a stock of springs
    #[error(transparent)]
    Stock(#[from] StockError),
    /// a file
    #[error(transparent)]
    File(#[from] FileError),
    /// the machine
    #[error(transparent)]
    Machine(#[from] MachineArgumentError),
}

impl OptionError {
    /// 2 if the command line is wrong, 1 if a value is.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::File(_) => 2,
            Self::Machine(machine) => machine.exit_code(),
            _ => 1,
        }
    }
}

/// Usual value of each option, as an example in messages.
const USUAL: [(&str, &str); 12] = [
    ("--idle", "1700 rpm"),
    ("--wander", "75 rpm"),
    ("--power", "6.5 hp"),
    ("--rated", "3600 rpm"),
    ("--grade", "4 %"),
    ("--load", "60 kg"),
    ("--crawl", "10 km/h"),
    ("--season", "300 h"),
    ("--riding", "40 min"),
    ("--rest", "12 h"),
    ("--found", "85 %"),
    ("--grease", "0.5 mL"),
];

/// Checks a value against its range.
pub fn within(
    option: &'static str,
    value: f64,
    (least, most): (f64, f64),
    dimension: Dimension,
) -> Result<f64, OptionError> {
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    let shown = |v| show(v, dimension);
    let meant = meant(value, (least, most), dimension);
    Err(OptionError::Range { option, value: shown(value), least: shown(least), most: shown(most), meant })
}

/// Value of an option's quantity, SI, if it is given.
pub fn quantity(
    option: &'static str,
    given: Option<&String>,
    range: (f64, f64),
    dimension: Dimension,
) -> Result<Option<f64>, OptionError> {
    let Some(text) = given else { return Ok(None) };
    let usual = USUAL.iter().find(|usual| usual.0 == option).map(|usual| usual.1);
    let near = usual.and_then(|usual| read(usual, dimension).ok());
    let value = read_near(text, dimension, near).map_err(|mut source| {
        if let (QuantityError::Number { example, .. }, Some(usual)) = (&mut source, usual) {
            usual.clone_into(example);
        }
        OptionError::Quantity { option, source }
    })?;
    within(option, value, range, dimension).map(Some)
}

/// A size with its tolerance, "65 thou ± 5 thou" or "65 ± 5 thou", m; without one, the default tolerance.
pub fn toleranced(
    option: &'static str,
    given: Option<&String>,
    tolerance: f64,
) -> Result<Option<(f64, f64)>, OptionError> {
    let Some(text) = given else { return Ok(None) };
    let near = |text: &str, usual| {
        read_near(text, Dimension::Length, Some(usual)).map_err(|source| OptionError::Quantity { option, source })
    };
    // Bushings and washers are of about this size.
    let one = |text: &str| near(text, 1.3e-3);
    let Some((size, deviation)) = ["±", "+-", "+/-", "-+", "-/+"].iter().find_map(|sign| text.split_once(sign)) else {
        return Ok(Some((one(text)?, tolerance)));
    };
    if size.trim().is_empty() || deviation.trim().is_empty() {
        let (text, example) = (text.to_owned(), "65 thou ± 5 thou".to_owned());
        return Err(OptionError::Quantity { option, source: QuantityError::Number { text, example } });
    }
    let unit = deviation.trim().trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let bare = size.trim().parse::<f64>().is_ok();
    let size = one(&if bare { format!("{size} {unit}") } else { size.to_owned() })?;
    Ok(Some((size, within(option, near(deviation, 0.1 * size.abs())?, (0.0, 5e-3), Dimension::Length)?)))
}
