//! Quantities and names given as options, read and checked against their ranges.

use crate::command::machine::MachineArgumentError;
use crate::language::plan::ShopQuestion;
use crate::language::shop_options::{COVER_TOLERANCE, Options, ShopOption};
use crate::read::file::FileError;
use crate::read::quantity::{QuantityError, meant, read, read_near};
use crate::read::stock::StockError;
use crate::read::units::show;
use crate::read::uses::UseError;
use slipsoak_engine::parts::{Dimension, Invalid};
use thiserror::Error;

/// Reason why an option is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum OptionError {
    /// not a quantity
    #[error("{option}: {source}")]
    Quantity {
        /// option
        option: String,
        /// what is wrong
        source: QuantityError,
    },
    /// out of its range
    #[error("{option} is {value}; it must lie between {least} and {most}{meant}")]
    Range {
        /// option
        option: String,
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

impl From<Invalid> for OptionError {
    fn from(invalid: Invalid) -> Self {
        Self::Machine(invalid.into())
    }
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

/// The options that are given, by their names.
pub(crate) type Given<'a> = &'a [(&'static str, Option<String>)];

/// Reads the options of a question and checks their ranges; further ones, which are no quantities, are left out.
pub(crate) fn options(of: ShopQuestion, given: Given<'_>) -> Result<Options, OptionError> {
    let mut options = Options::new();
    for (name, text) in given {
        if let Some((option, text)) = of.option(name).zip(text.as_ref()) {
            options.insert(option.name, within(name, option, value(option, text)?)?);
        }
    }
    Ok(options)
}

/// Checks a value against the range of its option.
pub(crate) fn within(name: &str, option: &ShopOption, value: f64) -> Result<f64, OptionError> {
    let ((least, most), dimension) = (option.range, option.dimension);
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    let shown = |v| show(v, dimension);
    let meant = meant(value, (least, most), dimension);
    let option = format!("--{name}");
    Err(OptionError::Range { option, value: shown(value), least: shown(least), most: shown(most), meant })
}

/// Value of an option's quantity, SI.
fn value(option: &ShopOption, text: &str) -> Result<f64, OptionError> {
    let near = read(option.usual, option.dimension).ok();
    read_near(text, option.dimension, near).map_err(|mut source| {
        if let QuantityError::Number { example, .. } = &mut source {
            option.usual.clone_into(example);
        }
        OptionError::Quantity { option: format!("--{}", option.name), source }
    })
}

/// A size with its tolerance, "65 thou ± 5 thou" or "65 ± 5 thou", m; without one, the default tolerance.
pub(crate) fn toleranced(
    name: &str,
    given: Option<&String>,
    tolerance: f64,
) -> Result<Option<(f64, f64)>, OptionError> {
    let Some(text) = given else { return Ok(None) };
    let refused = |source| OptionError::Quantity { option: format!("--{name}"), source };
    let near = |text: &str, usual| read_near(text, Dimension::Length, Some(usual)).map_err(refused);
    // Bushings and washers are of about this size.
    let one = |text: &str| near(text, 1.3e-3);
    let Some((size, deviation)) = ["±", "+-", "+/-", "-+", "-/+"].iter().find_map(|sign| text.split_once(sign)) else {
        return Ok(Some((one(text)?, tolerance)));
    };
    if size.trim().is_empty() || deviation.trim().is_empty() {
        let (text, example) = (text.to_owned(), "65 thou ± 5 thou".to_owned());
        return Err(refused(QuantityError::Number { text, example }));
    }
    let unit = deviation.trim().trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let bare = size.trim().parse::<f64>().is_ok();
    let size = one(&if bare { format!("{size} {unit}") } else { size.to_owned() })?;
    Ok(Some((size, within(name, &COVER_TOLERANCE, near(deviation, 0.1 * size.abs())?)?)))
}
