//! The constants as fitted, and the calibration that is made of them.

use super::Unlearned;
use super::subject::Subject;
use crate::arguments;
use crate::diagnose::{Script, Trouble};
use crate::learning::{self, Lesson, NINETY_FIVE};
use crate::study::hash;
use crate::units::show;
use slipsoak_engine::calibrate::{
    Calibration, Effort, Fitted, Inseparable, Learned, Noise, Quality, Quantity, RunningIn, Source, Unfitted, fit,
    separate,
};
use slipsoak_engine::parts::Parameter;

/// What slopes by differences of simulated runs are exact to.
const ANGLE: f64 = 0.02;

/// Fits the constants; refuses where the data do not tell them, before and after.
pub(super) fn fitted(lesson: &Lesson, asked: &arguments::Calibrate) -> Result<Fitted, Trouble> {
    let constants = lesson.constants();
    let starts: Vec<f64> = constants.iter().map(|c| c.start).collect();
    // A running-in depth is no constant that anyone asks for: it may stay as uncertain as it was.
    let mut asked_for = constants.clone();
    asked_for.iter_mut().skip(lesson.sought.len()).for_each(|c| c.known = None);
    let separable = |at: &[f64]| {
        separate(&asked_for, &lesson.columns(at)?, ANGLE).map_err(|e| {
            let further = match &e {
                Inseparable::Alike { one, other, .. } => learning::further(one, other),
                Inseparable::Silent { constant, .. } => {
                    format!("readings of a part or node that {constant} moves, later or more of them; or leave it out with --fit")
                }
            };
            Trouble::from(Unlearned::Inseparable(e, further))
        })
    };
    separable(&starts)?;
    let effort = Effort { starts: asked.searches, seed: asked.seed, tolerance: 1e-6, patience: 12 };
    let fitted = fit(lesson, &constants, effort, Noise::Stated).map_err(|e| match e {
        Unfitted::Unpredicted(failure) => Trouble::from(failure),
        other => Unlearned::Unfitted(other.to_string()).into(),
    })?;
    for (p, value) in lesson.sought.iter().zip(&fitted.values) {
        if !(*value > p.least * 1.001 && *value < p.most * 0.999) {
            let value = show(value.clamp(p.least, p.most), p.dimension);
            return Err(Unlearned::AtItsEnd { path: p.path.to_owned(), value }.into());
        }
    }
    separable(&fitted.values)?;
    Ok(fitted)
}

/// The calibration: values with the errors of the fit and of having seen few clutches.
pub(super) fn calibration(
    lesson: &Lesson,
    (script, subject): (&Script, &Subject),
    data: Vec<Source>,
    (fitted, among): (&Fitted, &[(f64, f64)]),
    seed: u64,
) -> Calibration {
    let n = lesson.sought.len();
    // The mean of few clutches is not that of all.
    let error = |k: usize| fitted.errors[k].hypot(among[k].0 / among[k].1.sqrt());
    let correlation = |i: usize, j: usize| {
        let share = |k: usize| if i == j { 1.0 } else { fitted.errors[k] / error(k) };
        fitted.correlation[i][j] * share(i) * share(j)
    };
    let learned = |(k, p): (usize, &&'static Parameter)| {
        let before_factor = learning::learnable().find(|l| l.0 == p.path).map_or(1.0, |l| l.1);
        let factor = |deviation: f64| (NINETY_FIVE * deviation).exp();
        let (differ, error) = (among[k].0, error(k));
        Learned {
            path: p.path.to_owned(),
            unit: p.dimension.unit().to_owned(),
            before: (p.of)(&lesson.machine),
            before_factor,
            value: fitted.values[k],
            factor: factor(error),
            clutches_factor: factor(differ),
            spread: factor(error.hypot(differ)),
            from: sources_of(lesson, p.path),
        }
    };
    let running_in = lesson.running_in.iter().enumerate().map(|(j, q)| RunningIn {
        part: q.manner().name.to_owned(),
        depth: fitted.values[n + j],
        error: fitted.errors[n + j],
    });
    Calibration {
        program: concat!("slipsoak ", env!("CARGO_PKG_VERSION")).to_owned(),
        script: script.name.clone(),
        script_hash: hash(&script.text),
        machine: subject.variant.name.clone(),
        data,
        constants: lesson.sought.iter().enumerate().map(learned).collect(),
        correlation: (0..n).map(|i| (0..n).map(|j| correlation(i, j)).collect()).collect(),
        running_in: running_in.collect(),
        quality: Quality {
            sum: fitted.sum,
            freedom: fitted.freedom as u64,
            widened: fitted.widened,
            searches: fitted.starts,
            seed,
        },
    }
}

/// What was measured that moves a setting.
fn sources_of(lesson: &Lesson, path: &str) -> Vec<String> {
    let mut from: Vec<String> = vec![];
    for quantity in Quantity::ALL {
        let manner = quantity.manner();
        let part = path.split('.').next().unwrap_or_default();
        let own = manner.teaches == path || manner.teaches.split('.').next() == Some(part);
        if own && lesson.inspected.iter().flat_map(|g| &g.reads).any(|r| r.quantity == quantity) {
            from.push(manner.name.to_owned());
        }
    }
    if path.starts_with("heat.") {
        from.extend(lesson.logged.iter().flat_map(|l| &l.channels).map(|c| format!("{} (log)", c.node)));
    }
    from
}
