//! Quantities and names given as options, read and checked against their ranges.

use crate::language::refusal::meant;
use crate::read::units::{Unreadable, maybe, nearest, read, read_near, show};
use slipsoak_engine::parts::{Dimension, Machine};
use slipsoak_engine::usage::{USES, Usage};
use slipsoak_plots::words::uses;
use thiserror::Error;

/// Reason why an option is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Wrong {
    /// not a quantity
    #[error("{option}: {source}")]
    Quantity {
        /// option
        option: &'static str,
        /// what is wrong
        source: Unreadable,
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
    #[error("there is no use `{given}`{}; uses: {known}; any other use is a duty in a script: `slipsoak words choose`", maybe(suggestion.as_deref()))]
    Use {
        /// as given
        given: String,
        /// nearest known use
        suggestion: Option<String>,
        /// all
        known: String,
    },
    /// a file that is not a stock
    #[error(
        "{file}, line {line}, column {column}: {why}; a stock is {{\"springs\": [{{\"name\": \"1900 rpm\", \"engagement\": \"1900 rpm\"}}, …]}}, see `slipsoak schema stock`"
    )]
    Stock {
        /// file
        file: String,
        /// line
        line: usize,
        /// column
        column: usize,
        /// what is wrong
        why: String,
    },
    /// a stock that cannot be used
    #[error("{file}: {why}")]
    Springs {
        /// file
        file: String,
        /// what is wrong and what to do
        why: String,
    },
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
pub fn within(option: &'static str, value: f64, (least, most): (f64, f64), dimension: Dimension) -> Result<f64, Wrong> {
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    let shown = |v| show(v, dimension);
    let meant = meant(value, (least, most), dimension);
    Err(Wrong::Range { option, value: shown(value), least: shown(least), most: shown(most), meant })
}

/// Value of an option's quantity, SI, if it is given.
pub fn quantity(
    option: &'static str,
    given: Option<&String>,
    range: (f64, f64),
    dimension: Dimension,
) -> Result<Option<f64>, Wrong> {
    let Some(text) = given else { return Ok(None) };
    let usual = USUAL.iter().find(|usual| usual.0 == option).map(|usual| usual.1);
    let near = usual.and_then(|usual| read(usual, dimension).ok());
    let value = read_near(text, dimension, near).map_err(|mut source| {
        if let (Unreadable::Number { example, .. }, Some(usual)) = (&mut source, usual) {
            usual.clone_into(example);
        }
        Wrong::Quantity { option, source }
    })?;
    within(option, value, range, dimension).map(Some)
}

/// A size with its tolerance, "65 thou ± 5 thou" or "65 ± 5 thou", m; without one, the default tolerance.
pub fn toleranced(option: &'static str, given: Option<&String>, tolerance: f64) -> Result<Option<(f64, f64)>, Wrong> {
    let Some(text) = given else { return Ok(None) };
    let near = |text: &str, usual| {
        read_near(text, Dimension::Length, Some(usual)).map_err(|source| Wrong::Quantity { option, source })
    };
    // Bushings and washers are of about this size.
    let one = |text: &str| near(text, 1.3e-3);
    let Some((size, deviation)) = ["±", "+-", "+/-", "-+", "-/+"].iter().find_map(|sign| text.split_once(sign)) else {
        return Ok(Some((one(text)?, tolerance)));
    };
    if size.trim().is_empty() || deviation.trim().is_empty() {
        let (text, example) = (text.to_owned(), "65 thou ± 5 thou".to_owned());
        return Err(Wrong::Quantity { option, source: Unreadable::Number { text, example } });
    }
    let unit = deviation.trim().trim_start_matches(|c: char| c.is_ascii_digit() || c == '.');
    let bare = size.trim().parse::<f64>().is_ok();
    let size = one(&if bare { format!("{size} {unit}") } else { size.to_owned() })?;
    Ok(Some((size, within(option, near(deviation, 0.1 * size.abs())?, (0.0, 5e-3), Dimension::Length)?)))
}

/// The use with that name.
pub fn usage(given: &str, machine: &Machine) -> Result<Usage, Wrong> {
    Usage::named(given, machine).ok_or_else(|| Wrong::Use {
        given: given.to_owned(),
        suggestion: nearest(given, USES.iter().map(|u| u.0)),
        known: uses::all(),
    })
}
