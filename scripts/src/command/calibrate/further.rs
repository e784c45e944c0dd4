//! Why the data do not determine a constant, and what to measure.

use crate::read::refusal::Refusal;
use crate::read::units::show;
use crate::study::study_error::StudyError;
use slipsoak_engine::calibrate::{Inseparable, Unsolved};
use slipsoak_plots::words::measure::measured_by;

/// The reason why nothing is learned, with what to measure.
pub(crate) fn refused(unsolved: Unsolved) -> StudyError {
    let refused = match unsolved {
        Unsolved::Inseparable(e) => {
            let further = match &e {
                Inseparable::Alike { one, other, .. } => further(one, other),
                Inseparable::Silent { constant, .. } => {
                    let by = measured_by(constant).unwrap_or("readings of a part or node that it moves");
                    format!("{by}; later or more readings of the same may do; or leave it out with --fit")
                }
            };
            format!("{e}. What to measure: {further}")
        }
        Unsolved::AtItsEnd { path, dimension, value } => format!(
            "the data push {path} to {}, the end of what it can be: they contradict this machine under this duty; check their units, the duty and its name, and what else differed",
            show(value, dimension)
        ),
        Unsolved::Failure(failure) => return failure.into(),
        Unsolved::Unfitted(e) => e.to_string(),
    };
    Refusal::new(refused).into()
}

/// The further measurement that would separate two constants.
fn further(one: &str, other: &str) -> String {
    let both = |a: &str, b: &str| [one, other].contains(&a) && [one, other].contains(&b);
    let friction = |path: &str| path.starts_with("bushing.friction") || path == "bushing.mixed_number";
    let heat = |path: &str| path.starts_with("heat.");
    if both("lining.wear", "lining.wear_slope") {
        "inspect linings of a second duty too, whose lining runs 40 K hotter or cooler (name it in a column `duty`), or fit only lining.wear".into()
    } else if both("lining.wear", "clutch.relaxation") {
        "read the lining's thickness, or the pull of a shoe in a column `spring`, at the same inspections as the engagement speed".into()
    } else if both("washer.wear_oiled", "washer.wear_dry")
        || one.starts_with("bushing.wear") && other.starts_with("bushing.wear")
    {
        "inspect clutches that ran dry (name their duty in a column `duty`), or fit only one of them".into()
    } else if friction(one) && friction(other) {
        "spin the drum down at two temperatures 30 K apart or more (column `warm`), oiled, and once washed dry, or fit only one of them".into()
    } else if heat(one) && heat(other) {
        "log a second node, on the other side of that link, or a cooling with the motor off".into()
    } else {
        "measure something that only one of them moves, or the same under another duty, or leave one out with --fit"
            .into()
    }
}
