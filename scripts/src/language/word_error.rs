//! Errors of script words, with the value, its unit and the remedy.

use crate::language::quantity::{Number, Quantity, kind, needed};
use crate::read::quantity::{meant, show_as};
use crate::read::refusal::Refusal;
use crate::read::units::{self, UNITS, rpm, show};
use crate::read::variant;
use rhai::{Dynamic, EvalAltResult, Position};
use slipsoak_engine::duty::Bounds;
use slipsoak_engine::parts::{Dimension, Invalid, Parameter, parameter};
use slipsoak_engine::parts_file::MachineError;
use slipsoak_engine::simulate::Failure;
use slipsoak_plots::words::say::road_speed;
use thiserror::Error;

/// What a word gives to the interpreter, which adds the position of the call to an error.
pub(crate) type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Reason why a script word fails.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum WordError {
    /// a wrong use of a word, an invalid machine, an unknown use, a file that cannot be used
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// an error of the engine
    #[error("{}", Refusal::from(.0.clone()))]
    Engine(#[from] Failure),
}

impl From<MachineError> for WordError {
    fn from(refused: MachineError) -> Self {
        Self::Refused(refused.into())
    }
}

impl From<Invalid> for WordError {
    fn from(invalid: Invalid) -> Self {
        Self::Refused(invalid.into())
    }
}

impl From<WordError> for Box<EvalAltResult> {
    fn from(refusal: WordError) -> Self {
        refusal.at(Position::NONE)
    }
}

impl WordError {
    /// About the use of a word.
    pub fn new(message: impl Into<String>) -> Self {
        Self::Refused(Refusal::new(message))
    }

    /// As an error of the interpreter at a position.
    pub fn at(self, position: Position) -> Box<EvalAltResult> {
        Box::new(EvalAltResult::ErrorRuntime(Dynamic::from(self), position))
    }
}

/// A type of the interpreter in the words of scripts.
pub(crate) fn type_in_words(name: &str) -> String {
    match name.rsplit("::").next().unwrap_or_default() {
        "Variant" => "machine".to_owned(),
        "bool" => "yes or no".to_owned(),
        name => name.to_lowercase(),
    }
}

/// The number in an argument, with or without a unit.
pub fn finite(word: &'static str, argument: &'static str, given: &Dynamic) -> Result<Number, WordError> {
    let Some(number) = Number::of(given) else {
        let given = match given.clone().into_string() {
            Ok(text) => format!("the text \"{text}\"{}", unquoted(&text)),
            Err(kind) => format!("a {}", type_in_words(kind)),
        };
        return Err(WordError::new(format!("`{word}` needs a number for its {argument}, not {given}")));
    };
    if number.value.is_finite() {
        return Ok(number);
    }
    let why = "it must be finite (a division by zero?)";
    Err(WordError::new(format!("`{word}` was given {} as its {argument}; {why}", number.value)))
}

/// A quantity in quotes, converted to script notation.
fn unquoted(text: &str) -> String {
    let split = text.find(|c: char| !(c.is_ascii_digit() || ".-".contains(c))).unwrap_or(text.len());
    let (number, unit) = (text[..split].trim(), text[split..].trim());
    let known = UNITS.iter().find(|u| u.texts.contains(&unit)).filter(|_| number.parse::<f64>().is_ok());
    known.map_or_else(String::new, |unit| format!("; write {number}.{} without quotes", unit.word))
}

/// The number in an argument of that dimension: a quantity of that kind, or a number in SI units. A whole number for a speed, other than
/// 0, is refused, because its unit is missing.
pub fn quantity(
    word: &'static str,
    argument: &'static str,
    given: &Dynamic,
    dimension: Dimension,
) -> Result<f64, WordError> {
    let Number { value, of } = finite(word, argument, given)?;
    if let Some(of) = of.filter(|of| *of != dimension) {
        let (given, needed) = (Quantity { value, of }.written(), needed(dimension));
        return Err(WordError::new(format!("`{word}`: its {argument} is {given}, {}; here {needed}", kind(of))));
    }
    let Some(whole) = given.as_int().ok().filter(|whole| *whole != 0) else { return Ok(value) };
    let (read, write) = match dimension {
        Dimension::Speed => (
            format!("{whole} m/s, that is {}", road_speed(value)),
            format!("did you mean `{whole}.km_h`? (or `{whole}.mph`, `{whole}.m_s`)"),
        ),
        Dimension::AngularSpeed => (
            format!("{whole} rad/s, that is {:.0} rpm", rpm(value)),
            format!("did you mean `{whole}.rpm`? (or `{whole}.rad_s`)"),
        ),
        _ => return Ok(value),
    };
    Err(WordError::new(format!("`{word}`: its {argument} is {whole} without a unit, which would be {read}; {write}")))
}

/// The number in an argument, between two bounds.
pub fn between(
    word: &'static str,
    argument: &'static str,
    given: &Dynamic,
    (least, most): (f64, f64),
    dimension: Dimension,
) -> Result<f64, WordError> {
    let value = quantity(word, argument, given, dimension)?;
    // A share that is given in per cent.
    let percent = most <= 1.0 && Number::of(given).is_some_and(|number| number.of == Some(Dimension::Ratio));
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    let shown = |value: f64| if percent { show_as("%", value, dimension) } else { show(value, dimension) };
    let [from, to] = if percent { [least, most].map(shown) } else { units::between((least, most), dimension) };
    let given = shown(value);
    // A share in per cent is meant as it stands.
    let meant = if percent && value > 0.0 { String::new() } else { meant(value, (least, most), dimension) };
    Err(WordError::new(format!("`{word}`: its {argument} is {given}; it must lie between {from} and {to}{meant}")))
}

/// The number in an argument of a segment, in its range.
pub(crate) fn held(
    word: &'static str,
    argument: &'static str,
    given: &Dynamic,
    to: &Bounds,
    of: Dimension,
) -> Result<f64, WordError> {
    between(word, argument, given, (to.least, to.most), of)
}

/// A whole number in an argument, between two bounds.
pub fn whole(word: &'static str, argument: &'static str, given: &Dynamic, range: (f64, f64)) -> Result<u64, WordError> {
    let value = between(word, argument, given, range, Dimension::Ratio)?;
    let fraction = || WordError::new(format!("the {argument} of `{word}` must be a whole number, not {value}"));
    if value.fract() == 0.0 { Ok(value as u64) } else { Err(fraction()) }
}

/// The setting with that path, and the value given for it.
pub fn of_setting(word: &'static str, path: &str, given: &Dynamic) -> Result<(&'static Parameter, f64), WordError> {
    let p = parameter(path).ok_or_else(|| variant::unknown(&format!("`{word}`"), path))?;
    Ok((p, quantity(word, "value", given, p.dimension)?))
}
