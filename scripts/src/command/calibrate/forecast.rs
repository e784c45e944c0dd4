//! Lives of a small fleet before and after a calibration.

use crate::command::calibrate::subject::Subject;
use crate::language::calibrated::applied;
use crate::language::plan::Variant;
use crate::language::script_error::ScriptError;
use crate::study::request::{Planned, Request, pool};
use crate::study::study_error::StudyError;
use slipsoak_engine::calibrate::{Calibration, Forecast};
use slipsoak_engine::fleet::{Outcome, sample};
use slipsoak_engine::simulate::Options;
use slipsoak_engine::statistics::{Bounds, percentile};
use std::ops::ControlFlow;

/// Lives of a small fleet under the script's first repeated duty, before and after; `tried` is called for each.
pub(crate) fn forecast(
    request: &Request<'_>,
    subject: &Subject,
    calibration: &Calibration,
    (clutches, seed): (u64, u64),
    threads: Option<u16>,
    tried: &(dyn Fn() + Sync),
) -> Result<Forecast, StudyError> {
    let (duty, _) = subject.duty(request.script, ("--forecast", None), true)?;
    let after = applied(&subject.variant, calibration);
    let pool = pool(threads)?;
    let items: Vec<u64> = (0..clutches).collect();
    let lives = |variant: &Variant| -> Result<[Bounds; 3], StudyError> {
        let uncertain = variant.uncertain();
        let live = |Planned { interpreter, plan }: &Planned<'_>, clutch: u64| {
            let nothing = || ScriptError::nothing(request.script);
            let mut pair = plan.pairs.iter().find(|p| p.duty.name == duty).ok_or_else(nothing)?.clone();
            pair.variant.machine = sample(&variant.machine, &uncertain, seed, clutch);
            let run = interpreter.perform(&pair, Options::UNRECORDED, &|_| {});
            let run = run.map_err(|e| StudyError::from(e).of(format!("clutch {clutch}")))?;
            tried();
            Ok(ControlFlow::Continue(Outcome::of_run(clutch, &run, pair.duty.until.unwrap_or(0.0)).end))
        };
        let ends = request.each(&pool, &items, live).map_err(|failed| failed.1)?;
        let ends: Vec<Option<f64>> = ends.into_iter().map(|(_, end)| end).collect();
        Ok([0.1, 0.5, 0.9].map(|share| percentile(&ends, share, 0.9)))
    };
    let until = subject.duties.iter().find(|d| d.0 == duty).and_then(|d| d.2);
    let (before, after) = (lives(&subject.variant)?, lives(&after)?);
    Ok(Forecast { duty: duty.clone(), clutches, horizon: until.unwrap_or(0.0), before, after })
}
