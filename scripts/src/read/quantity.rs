//! Quantities as people write them, on the command line and in scripts: hints for refused ones.

use crate::read::units::{UNITS, rpm, short, show};
use slipsoak_engine::parts::Dimension;

pub use slipsoak_engine::parts_file::{QuantityError, SPELLINGS, quantity as read, read_near, spelled, unit_named};

/// Message for words that the command line does not accept; none if the usual message is enough.
///
/// A quantity without quotes arrives as two words.
pub fn unquoted(words: &[String]) -> Option<String> {
    let unit = |word: &str| {
        let known =
            UNITS.iter().flat_map(|unit| unit.texts).copied().chain(SPELLINGS.iter().flat_map(|unit| unit.1).copied());
        known.chain(["SAE"]).any(|text| text.eq_ignore_ascii_case(word))
    };
    let number = |word: &str| word.trim_end_matches('.').ends_with(|c: char| c.is_ascii_digit());
    let at = (1..words.len()).find(|k| number(&words[k - 1]) && unit(&words[*k]))?;
    let (number, unit) = (&words[at - 1], &words[at]);
    let option =
        words[..at - 1].last().filter(|word| word.starts_with("--")).map_or_else(String::new, |o| format!("{o} "));
    Some(format!(
        "`{number}` and `{unit}` came as two words: put a quantity into quotes, {option}\"{number} {unit}\", or write it without the blank, {number}{unit}"
    ))
}

/// Reads a quantity near its usual value. A bare number where only one unit is usual, rpm for the motor's speeds, is taken with
/// it; then what it was read as is returned too.
pub fn speed(text: &str, dimension: Dimension, usual: Option<f64>) -> Result<(f64, Option<String>), QuantityError> {
    let bare = text.trim();
    if dimension == Dimension::AngularSpeed && bare.parse::<f64>().is_ok_and(f64::is_finite) {
        let value = read_near(&format!("{bare} rpm"), dimension, usual)?;
        return Ok((value, Some(format!("{bare} was read as {bare} rpm"))));
    }
    Ok((read_near(text, dimension, usual)?, None))
}

/// An SI value as usual; a power or a share in the unit in which a text gives another.
pub fn show_as(text: &str, value: f64, dimension: Dimension) -> String {
    let written = text.trim().trim_start_matches(|c: char| !c.is_alphabetic() && !"%°\"″".contains(c));
    let own = matches!(dimension, Dimension::Power | Dimension::Ratio);
    match unit_named(written, dimension).filter(|_| own) {
        Some(unit) => format!("{} {}", short(unit.from_si(value)), unit.texts[0]),
        None => show(value, dimension),
    }
}

/// Suggestion for a number out of its range whose decimal point may have been meant to stand between thousands.
pub fn thousands(text: &str, (least, most): (f64, f64), dimension: Dimension) -> String {
    let plain = text.trim().replacen('.', "", 1);
    let digits =
        text.trim().split_once('.').map_or(0, |(_, rest)| rest.chars().take_while(char::is_ascii_digit).count());
    match read(&plain, dimension) {
        Ok(value) if digits == 3 && (least..=most).contains(&value) => {
            format!("; nothing stands between thousands: write \"{plain}\"")
        }
        _ => String::new(),
    }
}

/// Suggestion for a number out of its range that may lack a unit.
pub fn meant(value: f64, (least, most): (f64, f64), dimension: Dimension) -> String {
    let fits = |value: f64| value >= least && value <= most;
    let whole = value.fract() == 0.0;
    match dimension {
        _ if least == 0.0 && value < 0.0 && fits(-value) => "; leave its minus away".to_owned(),
        Dimension::Ratio if most <= 1.0 && value.abs() >= 2.0 && fits(value / 100.0) => {
            let (number, percent) = (short(value), short(100.0 * value));
            format!("; {number} is {percent} %; {number} % is {number}.percent in a script, \"{number} %\" elsewhere")
        }
        Dimension::AngularSpeed if whole && fits(value / rpm(1.0)) => {
            format!("; {0} was read as {0} rad/s: write {0}.rpm", short(value))
        }
        Dimension::Temperature if whole && fits(value + 273.15) => {
            format!("; {0} was read as {0} K: write {0}.degC", short(value))
        }
        _ => String::new(),
    }
}
