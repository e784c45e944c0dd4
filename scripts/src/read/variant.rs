//! A variant: a machine to compare, with advice on what its file or script says wrong.

use crate::error::Error;
use crate::read::quantity::meant;
use crate::read::refusal::Refusal;
use crate::read::setting_advice;
use crate::read::units::{between, nearest, show};
use slipsoak_engine::parts::{Invalid, Machine, parameter};
use slipsoak_engine::parts_file::{self, MachineError, similarity};
use slipsoak_engine::simulate::Failure;
use slipsoak_plots::words::failure;

/// Smallest similarity of an unknown part to a known one for a suggestion.
const PART: f64 = 0.85;

impl From<MachineError> for Refusal {
    fn from(refused: MachineError) -> Self {
        match refused {
            MachineError::Key { file, path } => unknown(&file, &path),
            MachineError::Part { file, part } if parameter(&part).is_some() => {
                let (group, key) = part.split_once('.').unwrap_or_default();
                Self::new(format!("{file}: `{part}` stands within its part: write \"{group}\": {{\"{key}\": …}}"))
            }
            MachineError::Part { file, part } => {
                let like = |near: &String| similarity(near, &part.to_lowercase()) > PART;
                let advice = match nearest(&part, parts_file::parts()).filter(like) {
                    Some(near) => format!("did you mean `{near}`? (`slipsoak settings` lists them all)"),
                    None => setting_advice::advice(&part),
                };
                Self::new(format!("{file}: there is no setting `{part}`; {advice}"))
            }
            // A text where settings stand in braces: "lining": "sintered".
            MachineError::Kind { file, path, given, .. } if given.starts_with('"') && path == "lining" => {
                Self::new(format!("{file}: {path} is {given}; {}", setting_advice::advice(&path)))
            }
            MachineError::Invalid(invalid) => invalid.into(),
            MachineError::Several { file, all } => {
                let all: Vec<Self> = all.into_iter().map(Self::from).collect();
                Self::new(parts_file::several(&file, &all))
            }
            other => Self::new(other.to_string()),
        }
    }
}

/// A value outside its range is shown in familiar units.
impl From<Invalid> for Refusal {
    fn from(invalid: Invalid) -> Self {
        let Invalid::Range { setting: p, value } = invalid else { return Self::new(failure::invalid(&invalid)) };
        let range = (p.least, p.most);
        let (meant, [least, most]) = (meant(value, range, p.dimension), between(range, p.dimension));
        let value = show(value, p.dimension);
        Self::new(format!("{} is {value}; it must lie between {least} and {most} ({}){meant}", p.path, p.meaning))
    }
}

impl From<Failure> for Refusal {
    fn from(failure: Failure) -> Self {
        match failure {
            Failure::Invalid(invalid) => invalid.into(),
            other => Self::new(failure::failure(&other)),
        }
    }
}

impl From<Failure> for Error {
    fn from(failure: Failure) -> Self {
        Refusal::from(failure).into()
    }
}

/// Name of the built-in machine.
pub const BUILT_IN: &str = "example";

/// The built-in machine, by its name or its earlier one.
pub fn built_in(name: &str) -> Option<Machine> {
    [BUILT_IN, "standard"].contains(&name).then(Machine::default)
}

/// The error for an unknown setting.
pub fn unknown(machine: &str, path: &str) -> Refusal {
    Refusal::new(format!("{machine}: there is no setting `{path}`; {}", setting_advice::advice(path)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use slipsoak_engine::parts::PARAMETERS;

    #[test]
    fn the_limits_that_the_refusal_of_a_setting_prints_are_accepted_as_they_stand() {
        for p in PARAMETERS {
            for value in [p.least - 1.0 - p.least.abs(), p.most + 1.0 + p.most.abs()] {
                let refused = Refusal::from(Invalid::Range { setting: p, value }).to_string();
                let limits = refused.split_once("it must lie between ").and_then(|said| said.1.split_once(" and "));
                let (least, rest) = limits.expect("two limits");
                let most = rest.split_once(" (").expect("the meaning").0;
                for text in [least, most] {
                    let set = parts_file::quantity(text, p.dimension).expect(text);
                    let taken = parts_file::set(&mut Machine::default(), p, set);
                    assert!(taken.is_ok(), "{} refuses {text}: {refused}", p.path);
                }
                // No limit is moved further than it is rounded.
                let apart = |text: &str, limit: f64| {
                    let read = parts_file::quantity(text, p.dimension).expect(text);
                    (read - limit).abs() <= 2e-5 * limit.abs()
                };
                assert!(apart(least, p.least) && apart(most, p.most), "{refused}");
            }
        }
    }
}
