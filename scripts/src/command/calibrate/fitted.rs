//! The fitted constants, and the calibration document.

use crate::command::arguments;
use crate::command::calibrate::error::CalibrationError;
use crate::command::calibrate::further::further;
use crate::command::calibrate::subject::Subject;
use crate::read::units::show;
use slipsoak_engine::calibrate::{Calibration, Inseparable, Problem, Solution, Source, Unsolved};
use slipsoak_engine::document::{Head, Is};

/// Fits the constants. If the data do not determine them, the error says what to measure.
pub(crate) fn solved(problem: &Problem, asked: &arguments::Calibrate) -> Result<Solution, CalibrationError> {
    problem.solve(asked.searches, asked.seed).map_err(|e| match e {
        Unsolved::Inseparable(e) => {
            let advice = match &e {
                Inseparable::Alike { one, other, .. } => further(one, other),
                Inseparable::Silent { constant, .. } => {
                    format!("readings of a part or node that {constant} moves, later or more of them; or leave it out with --fit")
                }
            };
            CalibrationError::Inseparable(e, advice)
        }
        Unsolved::AtItsEnd { path, dimension, value } => {
            CalibrationError::AtItsEnd { path: path.to_owned(), value: show(value, dimension) }
        }
        Unsolved::Failure(failure) => failure.into(),
        Unsolved::Unfitted(e) => CalibrationError::Unfitted(e.to_string()),
    })
}

/// The calibration: learned constants with their script, machine and data.
pub(crate) fn calibration(solution: &Solution, head: Head, subject: &Subject, data: Vec<Source>) -> Calibration {
    Calibration {
        kind: Is::default(),
        head,
        machine: subject.variant.name.clone(),
        data,
        constants: solution.constants.clone(),
        correlation: solution.correlation.clone(),
        running_in: solution.running_in.clone(),
        quality: solution.quality.clone(),
    }
}
