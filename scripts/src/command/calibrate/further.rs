//! Why the data do not determine a constant, and what to measure.

use crate::read::refusal::Refusal;
use crate::read::units::{short, show};
use crate::study::study_error::StudyError;
use slipsoak_engine::calibrate::{Inseparable, Read, Source, Unexplained, Unreached, Unsolved, When};
use slipsoak_engine::parts::settings::{bushing, clutch, lining, washer};
use slipsoak_engine::parts::{Dimension, Group, Parameter, parameter};
use slipsoak_plots::words::measure::measured_by;
use slipsoak_plots::words::say::time;

/// The reason why nothing is learned, with what to measure.
pub(crate) fn refused(unsolved: Unsolved, sources: &[Source]) -> StudyError {
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
        Unsolved::Unreached(one) => unreached(&one, sources.get(one.duty)),
        Unsolved::Unexplained(one) => unexplained(&one, sources.get(one.duty)),
        Unsolved::AtItsEnd { path, dimension, value } => format!(
            "the data push {path} to {}, the end of what it can be: they contradict this machine under this duty; check their units, the duty and its name, and what else differed",
            show(value, dimension)
        ),
        Unsolved::Failure(failure) => return failure.into(),
        Unsolved::Unfitted(e) => e.to_string(),
    };
    Refusal::new(refused).into()
}

/// What to do about a reading at an age that the machine does not reach.
fn unreached(Unreached { read, reached, .. }: &Unreached, source: Option<&Source>) -> String {
    let age = |count: f64| match read.when {
        When::Running(_) => time(count),
        When::Launches(_) => format!("{} launches", short(count)),
    };
    let (When::Running(wanted) | When::Launches(wanted)) = read.when;
    let (file, duty) = source.map_or(("the table", "the duty"), |source| (&source.file, &source.duty));
    let (line, clutch) = (read.line, &read.clutch);
    format!(
        "{file}, line {line}: `{clutch}` was read after {}, but under the duty `{duty}` the machine runs for only {} and then stands: `slipsoak run` says why. If a part was renewed or oiled since, give the clutch a new name from there on and count from 0, or put that service into the duty; else leave line {line} out",
        age(wanted),
        age(*reached),
    )
}

/// What to do about a reading that no value of a constant explains.
fn unexplained(one: &Unexplained, source: Option<&Source>) -> String {
    let Unexplained { path, read, earlier, nearest, .. } = one;
    let shown = |value: f64| show(value, read.quantity.row().dimension);
    let at = |read: &Read| match read.when {
        When::Running(passed) => format!("{} after {}", shown(read.value), time(passed)),
        When::Launches(count) => format!("{} after {} launches", shown(read.value), short(count)),
    };
    let both = earlier.as_ref().map(|earlier| format!(" and {} (line {})", at(earlier), earlier.line));
    let explains = if both.is_some() { "explains both" } else { "explains it" };
    let (file, line, quantity) = (source.map_or("the table", |source| &source.file), read.line, read.quantity);
    format!(
        "{file}, line {line}, column `{quantity}`: `{}` shows {}{}, and no value of {path} {explains}: the nearest is {}. Measure it again, and check its unit, hours and duty; if the part was replaced or oiled, give the clutch a new name from there on; else leave line {line} out",
        read.clutch,
        at(read),
        both.unwrap_or_default(),
        shown(*nearest),
    )
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
