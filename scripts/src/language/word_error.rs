//! Errors of script words, with the value, its unit and the remedy.

use crate::read::quantity::meant;
use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, maybe, rpm, short, show};
use crate::read::variant;
use rhai::{Dynamic, EvalAltResult, Position};
use slipsoak_engine::duty::Bounds;
use slipsoak_engine::parts::{Dimension, Invalid, parameter};
use slipsoak_engine::parts_file::MachineError;
use slipsoak_engine::simulate::Failure;
use slipsoak_plots::words::say::road_speed;
use thiserror::Error;

/// What a word gives to the interpreter, which adds the position of the call to an error.
pub(crate) type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Reason why a script word fails.
#[derive(Clone, Debug, PartialEq, Error)]
#[allow(missing_docs)]
pub enum WordError {
    /// a number was needed
    #[error("`{word}` needs a number for its {argument}, not {given}")]
    NotANumber { word: &'static str, argument: &'static str, given: String },
    /// infinite or not a number
    #[error("`{word}` was given {given} as its {argument}; it must be finite (a division by zero?)")]
    NotFinite { word: &'static str, argument: &'static str, given: f64 },
    /// a whole number without a unit for a speed
    #[error("`{word}`: its {argument} is {given} without a unit, which would be {read}; {write}")]
    Bare { word: &'static str, argument: &'static str, given: i64, read: String, write: String },
    /// a speed of the road for one of the motor, or the reverse
    #[error(
        "`{word}`: its {argument} is {given}, a speed of the {is}; here a speed of the {wanted} is needed, such as {write}"
    )]
    OtherSpeed {
        word: &'static str,
        argument: &'static str,
        given: String,
        is: &'static str,
        wanted: &'static str,
        write: &'static str,
    },
    /// a speed of the motor for what is none
    #[error("`{word}`: its {argument} is {}.rpm, a speed of the motor; here {} is needed", short(*.given), wanted(*.needed))]
    MotorSpeed { word: &'static str, argument: &'static str, given: f64, needed: Dimension },
    /// time and speed of `hold` the wrong way round
    #[error(
        "`hold` takes the speed first and then the time: here it would hold {speed} for {time}; did you mean `hold({meant})`?"
    )]
    Swapped { speed: String, time: String, meant: String },
    /// two numbers that may be one with a decimal comma
    #[error(
        "`brake({rate}, {time})` slows by {rate} m/s² for {time} s: if {rate}.{time} m/s² is meant, write `brake({rate}.{time})` with a decimal point, else `brake({rate}, {time}.s)`"
    )]
    Comma { rate: i64, time: i64 },
    /// out of range
    #[error("`{word}`: its {argument} is {}; it must lie between {} and {}{}", show(*value, *dimension), show(*least, *dimension), show(*most, *dimension), meant(*value, (*least, *most), *dimension))]
    Range { word: &'static str, argument: &'static str, value: f64, least: f64, most: f64, dimension: Dimension },
    /// an unknown reading
    #[error("there is no reading `{given}`{}; readings: {known}", maybe(suggestion.as_deref()))]
    Reading { given: String, known: String, suggestion: Option<String> },
    /// not a temperature
    #[error("`{given}` is in {unit}, not a temperature; ask `ride.reading(\"{given}\")` for it")]
    NotATemperature { given: String, unit: String },
    /// a list element of the wrong kind
    #[error("`compare` needs machines and duties; among its {argument} is {given}")]
    NotComparable { argument: &'static str, given: String },
    /// a reference machine that is not compared
    #[error("`reference` was given the machine {0}, which is not compared; give it one of the machines of `compare`")]
    Reference(String),
    /// an empty list
    #[error("`compare` was given an empty list of {0}")]
    Nothing(&'static str),
    /// too many runs
    #[error("the script compares {given} runs; the most allowed is {most}")]
    Runs { given: usize, most: usize },
    /// too many entries
    #[error("the duty `{duty}` has more than {most} entries; use fewer, longer ones")]
    Long { duty: String, most: usize },
    /// a count that is a fraction
    #[error("the {argument} of `{word}` must be a whole number, not {value}")]
    Whole { word: &'static str, argument: &'static str, value: f64 },
    /// too long a ride
    #[error("the duty `{duty}` lasts longer than {} days", most / 86400.0)]
    Lasting { duty: String, most: f64 },
    /// a duty without duration
    #[error("the duty `{0}` takes no time; give it something to do, such as `ride.idle(30.s)`")]
    Timeless(String),
    /// a fraction for a count
    #[error(
        "the parameter `{name}` counts (its default is {default}): {value} must be a whole number; for fractions, write its default as {default}.0 in the script"
    )]
    Fraction { name: String, default: f64, value: f64 },
    /// two defaults for one parameter
    #[error("the parameter `{name}` has two defaults, {first} and {second}; give it one")]
    Defaults { name: String, first: f64, second: f64 },
    /// an unknown option of a question
    #[error("`{word}` has no option `{given}`{}; its options: {known}", maybe(suggestion.as_deref()))]
    Option { word: &'static str, given: String, suggestion: Option<String>, known: String },
    /// neither a use nor a duty
    #[error("`{word}` needs the name of a use or a duty, not {given}; `slipsoak words {word}` shows how it is used")]
    NoUse { word: &'static str, given: String },
    /// not the name of a stock
    #[error("`choose` needs the name of a stock of springs in quotes, not {0}")]
    NoStock(String),
    /// power without speed of the rating, or the reverse
    #[error("`choose` sketches a torque curve from `power` and `rated` together: give both or neither")]
    Rating,
    /// a use whose segments depend on the ride
    #[error(
        "the duty `{0}` reads the ride, so that what it does is not known beforehand; ask the shop's questions with a duty that does not"
    )]
    Reads(String),
    /// questions beside a campaign
    #[error(
        "a script that asks for a fleet, a sweep or what matters cannot ask the shop's questions too; put them into a script of their own"
    )]
    CampaignAsks,
    /// a setting that is varied twice
    #[error("`{0}` is varied already; cross it with another setting")]
    Varied(&'static str),
    /// a value given twice
    #[error("`{path}` is given {value} twice; each value makes a machine of its own")]
    Twice { path: &'static str, value: String },
    /// a number of rows that is not a power of two
    #[error("`matters` fills its ranges evenly with a power of two of rows: take {less} or {}, not {rows}", 2 * less)]
    Rows { rows: u64, less: u64 },
    /// two purposes in one script
    #[error("use only one of `compare`, `sweep` and `matters` in a script; move the other to a script of its own")]
    Purposes,
    /// a top-level word inside a duty
    #[error("`{0}` inside a duty does nothing: a duty says what one machine goes through; put `{0}` outside it")]
    InDuty(&'static str),
    /// a duty that changes a variable outside
    #[error(
        "a duty may not change `{0}`, which stands outside it: its runs share what stands outside, and which of them comes \
         first must not matter; make a copy inside the duty, or compute it there"
    )]
    Changes(String),
    /// use of a ride after its end
    #[error("this ride is over: a ride can be used only inside the duty that it was handed to")]
    Over,
    /// too many questions
    #[error(
        "the script asks {0} questions or more; the most allowed is {1}; put the others into a script of their own"
    )]
    Questions(usize, usize),
    /// too many repetitions of a block
    #[error(
        "the duty `{name}` repeats a block of {} for {}: that is {count:.0} blocks, and the most allowed is {most:.0}; put more \
         into a block (at least {}), or repeat it for a shorter time",
        show(*block, Dimension::Time), show(*until, Dimension::Time), show(until / most, Dimension::Time)
    )]
    Blocks { name: String, block: f64, until: f64, count: f64, most: f64 },
    /// use of sleep
    #[error("`sleep` does nothing for a simulation; use `ride.idle` or `ride.park` to let time pass for the machine")]
    Sleep,
    /// an invalid machine, an unknown use, a file that cannot be used
    #[error(transparent)]
    Refused(#[from] Refusal),
    /// an error of the engine
    #[error("{}", of_engine(.0))]
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

fn of_engine(failure: &Failure) -> String {
    let Failure::Invalid(invalid) = failure else {
        return failure.to_string();
    };
    Refusal::from(invalid.clone()).to_string()
}

impl WordError {
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
            return Err(WordError::NotANumber { word, argument, given });
        }
    };
    if value.is_finite() { Ok(value) } else { Err(WordError::NotFinite { word, argument, given: value }) }
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
        return Err(WordError::OtherSpeed { word, argument, given, is, wanted, write });
    }
    if let Some(given) = motor_speed(value, dimension) {
        return Err(WordError::MotorSpeed { word, argument, given, needed: dimension });
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
    Err(WordError::Bare { word, argument, given: whole, read, write })
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
    let other = !matches!(needed, Dimension::AngularSpeed | Dimension::Speed | Dimension::Angle);
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
        Ok(value)
    } else {
        Err(WordError::Range { word, argument, value, least, most, dimension })
    }
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
    if value.fract() == 0.0 { Ok(value as u64) } else { Err(WordError::Whole { word, argument, value }) }
}

/// The value of an argument for the setting with that path.
pub fn of_setting(word: &'static str, argument: &'static str, path: &str, given: &Dynamic) -> Result<f64, WordError> {
    let p = parameter(path).ok_or_else(|| variant::unknown(&format!("`{word}`"), path))?;
    quantity(word, argument, given, p.dimension)
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
