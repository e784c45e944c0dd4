//! Lives of a small fleet before and after a calibration.

use crate::command::calibrate::subject::Subject;
use crate::diagnose::{Script, Trouble};
use crate::language::interpreter::{Interpreter, Limits};
use crate::language::plan::{Pair, Variant};
use crate::read::calibration;
use crate::study::runs::pool;
use rayon::prelude::*;
use slipsoak_engine::calibrate::{Calibration, Forecast};
use slipsoak_engine::fleet::{Outcome, Uncertain, sample};
use slipsoak_engine::statistics::{Bounds, percentile};
use std::collections::BTreeMap;

/// Lives of a small fleet under the script's first repeated duty, before and after; `tried` is called for each.
pub(crate) fn forecast(
    (script, settings): (&Script, &BTreeMap<String, f64>),
    subject: &Subject,
    calibration: &Calibration,
    (clutches, seed): (u64, u64),
    threads: Option<u16>,
    tried: &(dyn Fn() + Sync),
) -> Result<Forecast, Trouble> {
    let (duty, _) = subject.duty(script, ("--forecast", None), true)?;
    let after = calibration::applied(&subject.variant, calibration);
    let limits = Limits::default();
    let lives = |variant: &Variant| -> Result<[Bounds; 3], Trouble> {
        let uncertain: Vec<Uncertain> = variant.uncertain();
        let planned = || -> Result<(Interpreter<'_>, Pair), Trouble> {
            let interpreter = Interpreter::new(script, settings, limits.clone())?;
            let plan = interpreter.plan()?;
            let pair = plan.pairs.into_iter().find(|p| p.duty.name == duty).ok_or_else(|| Trouble::nothing(script))?;
            Ok((interpreter, pair))
        };
        let ends: Result<Vec<Option<f64>>, Trouble> = pool(threads)?.install(|| {
            (0..clutches)
                .into_par_iter()
                .map_init(planned, |own, clutch| {
                    let (interpreter, pair) = own.as_ref().map_err(Clone::clone)?;
                    let mut pair = pair.clone();
                    pair.variant.machine = sample(&variant.machine, &uncertain, seed, clutch);
                    let run = interpreter.perform_unrecorded(&pair).map_err(|e| e.of(format!("clutch {clutch}")))?;
                    tried();
                    Ok(Outcome::of_run(clutch, &run, pair.duty.until.unwrap_or(0.0)).end)
                })
                .collect()
        });
        let ends = ends?;
        Ok([0.1, 0.5, 0.9].map(|share| percentile(&ends, share, 0.9)))
    };
    let until = subject.duties.iter().find(|d| d.0 == duty).and_then(|d| d.2);
    let (before, after) = (lives(&subject.variant)?, lives(&after)?);
    Ok(Forecast { duty: duty.clone(), clutches, horizon: until.unwrap_or(0.0), before, after })
}
