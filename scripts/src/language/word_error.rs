//! Errors of script words, with the value, its unit and the remedy.

use crate::read::quantity::meant;
use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, rpm, short, show};
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

/// The number in an argument, written as 2 or as 2.0.
pub fn number(word: &'static str, argument: &'static str, given: &Dynamic) -> Result<f64, WordError> {
    let value = match (given.as_float(), given.as_int()) {
        (Ok(value), _) => value,
        (_, Ok(value)) => value as f64,
        _ => {
            let given = match given.clone().into_string() {
                Ok(text) => format!("the text \"{text}\"{}", unquoted(&text)),
                Err(kind) => format!("a {kind}"),
            };
            return Err(WordError::new(format!("`{word}` needs a number for its {argument}, not {given}")));
        }
    };
    if value.is_finite() {
        return Ok(value);
    }
    let why = "it must be finite (a division by zero?)";
    Err(WordError::new(format!("`{word}` was given {value} as its {argument}; {why}")))
}

/// A quantity in quotes, converted to script notation.
fn unquoted(text: &str) -> String {
    let split = text.find(|c: char| !(c.is_ascii_digit() || ".-".contains(c))).unwrap_or(text.len());
    let (number, unit) = (text[..split].trim(), text[split..].trim());
    let known = UNITS.iter().find(|u| u.texts.contains(&unit)).filter(|_| number.parse::<f64>().is_ok());
    known.map_or_else(String::new, |unit| format!("; write {number}.{} without quotes", unit.word))
}

/// The number in an argument of that dimension. A whole number for a speed, other than 0, is refused, because its unit
/// is missing.
pub fn quantity(
    word: &'static str,
    argument: &'static str,
    given: &Dynamic,
    dimension: Dimension,
) -> Result<f64, WordError> {
    let value = number(word, argument, given)?;
    if let Some((given, [is, wanted], write)) = other_speed(value, dimension) {
        return Err(WordError::new(format!(
            "`{word}`: its {argument} is {given}, a speed of the {is}; here a speed of the {wanted} is needed, such as {write}"
        )));
    }
    if let Some(given) = motor_speed(value, dimension) {
        let (given, wanted) = (short(given), wanted(dimension));
        return Err(WordError::new(format!(
            "`{word}`: its {argument} is {given}.rpm, a speed of the motor; here {wanted} is needed"
        )));
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

/// Whether a number is even in units of road speed but not of the motor's, where a speed of the motor is needed, or the reverse:
/// numbers have no units, but 25 km/h are 66.3146 rpm. Returns the speed as meant, what it is and what is needed, and an example.
fn other_speed(value: f64, needed: Dimension) -> Option<(String, [&'static str; 2], &'static str)> {
    let (road, motor) = (["km_h", "mph", "m_s"], ["rpm", "rad_s"]);
    let even = |word: &str| {
        let twice = 2.0 * UNITS.iter().find(|unit| unit.word == word)?.from_si(value);
        ((twice - twice.round()).abs() < 1e-9 * twice.abs()).then(|| format!("{}.{word}", short(0.5 * twice.round())))
    };
    let first = |words: &[&str]| words.iter().find_map(|word| even(word));
    match needed {
        Dimension::AngularSpeed if first(&motor).is_none() => Some((first(&road)?, ["road", "motor"], "`2000.rpm`")),
        Dimension::Speed if first(&road).is_none() => Some((first(&motor)?, ["motor", "road"], "`25.km_h`")),
        _ => None,
    }
}

/// Largest speed for which a number is taken, rpm: of larger ones some are even by chance.
const FASTEST: f64 = 20_000.0;

/// The speed in rpm that a number is, where another quantity is needed: no unit but those of angles holds the π of an even one.
fn motor_speed(value: f64, needed: Dimension) -> Option<f64> {
    let turns = (2.0 * rpm(value)).round() / 2.0;
    // The width of a spread is a plain number in the unit of its setting, which may be a speed.
    let other = !matches!(needed, Dimension::AngularSpeed | Dimension::Speed | Dimension::Angle | Dimension::Ratio);
    (other && turns > 0.0 && turns < FASTEST && (rpm(value) - turns).abs() < 1e-12 * turns).then_some(turns)
}

/// A quantity that is needed, with the unit of scripts, if it has one.
fn wanted(needed: Dimension) -> String {
    match UNITS.iter().find(|unit| unit.dimension == needed) {
        Some(unit) => format!("a quantity in {}, such as `2.{}`,", unit.texts.first().unwrap_or(&unit.word), unit.word),
        None => format!("a plain number in {}", needed.unit()),
    }
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
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    let [given, from, to] = [value, least, most].map(|value| show(value, dimension));
    let meant = meant(value, (least, most), dimension);
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

#[cfg(test)]
mod tests {
    use super::*;
    use slipsoak_engine::parts::PARAMETERS;

    #[test]
    fn no_default_or_limit_of_a_setting_is_taken_for_a_speed_of_the_motor() {
        for p in PARAMETERS {
            for value in [p.default, p.least, p.most] {
                assert_eq!(motor_speed(value, p.dimension), None, "{} {value}", p.path);
            }
        }
        let five = 5.0 * slipsoak_engine::units::RPM;
        assert_eq!([Dimension::Torque, Dimension::AngularSpeed].map(|of| motor_speed(five, of)), [Some(5.0), None]);
    }
}
