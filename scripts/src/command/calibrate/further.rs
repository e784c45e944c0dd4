//! Why the data do not determine a constant, and what to measure.

use crate::read::refusal::Refusal;
use crate::read::units::show;
use crate::study::study_error::StudyError;
use slipsoak_engine::calibrate::{Inseparable, Unsolved};
use slipsoak_engine::parts::settings::{bushing, clutch, lining, washer};
use slipsoak_engine::parts::{Dimension, Group, Parameter, parameter};
use slipsoak_plots::words::measure::measured_by;

/// The reason why nothing is learned, with what to measure.
pub(crate) fn refused(unsolved: Unsolved) -> StudyError {
    let refused = match unsolved {
        Unsolved::Inseparable(e) => {
            let further = match &e {
                Inseparable::Alike { one, other, .. } => further(one, other).to_owned(),
                Inseparable::Silent { constant, .. } => {
                    let by = parameter(constant).and_then(measured_by);
                    let by = by.unwrap_or("readings of a part or node that it moves");
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
fn further(one: &str, other: &str) -> &'static str {
    let pair = [one, other].map(parameter);
    let both = |a: &'static Parameter, b| [a, b].into_iter().all(|p| pair.contains(&Some(p)));
    let all = |is: fn(&'static Parameter) -> bool| pair.into_iter().all(|p| p.is_some_and(is));
    let wear = |p: &Parameter| p.group == Group::Bushing && p.dimension == Dimension::WearConstant;
    if both(&lining::wear, &lining::wear_slope) {
        "inspect linings of a second duty too, whose lining runs 40 K hotter or cooler (name it in a column `duty`), or fit only lining.wear"
    } else if both(&lining::wear, &clutch::relaxation) {
        "read the lining's thickness, or the pull of a shoe in a column `spring`, at the same inspections as the engagement speed"
    } else if both(&washer::wear_oiled, &washer::wear_dry) || all(wear) {
        "inspect clutches that ran dry (name their duty in a column `duty`), or fit only one of them"
    } else if all(|p| FRICTION.contains(&p)) {
        "spin the drum down at two temperatures 30 K apart or more (column `warm`), oiled, and once washed dry, or fit only one of them"
    } else if all(|p| p.group == Group::Heat) {
        "log a second node, on the other side of that link, or a cooling with the motor off"
    } else {
        "measure something that only one of them moves, or the same under another duty, or leave one out with --fit"
    }
}

/// Constants of the bushing's friction.
static FRICTION: [&Parameter; 4] =
    [&bushing::friction_oiled, &bushing::friction_dry, &bushing::friction_scored, &bushing::mixed_number];
