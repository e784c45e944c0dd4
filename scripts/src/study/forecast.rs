//! About how long a study will take: a moment of its first duty is simulated, and the rest told by the number of its segments.

use crate::language::plan::Pair;
use crate::language::ride::Entry;
use crate::study::Study;
use crate::study::request::Request;
use crate::study::study_error::StudyError;
use slipsoak_engine::duty::Segment;
use slipsoak_engine::simulate::{Options, Simulation};
use std::time::{Duration, Instant};

/// Time that the measurement itself may take.
const PATIENCE: Duration = Duration::from_millis(200);
/// Blocks of a life that are simulated, the others being skipped: usual numbers at both ends.
const SIMULATED: (f64, f64) = (25.0, 400.0);

/// The pace of a simulation.
struct Pace {
    /// processor time of a segment, s
    each: f64,
    /// simulated time of a segment, s
    passes: f64,
}

/// Time that all runs take on the threads of this machine, from and to, s; none where a duty reads the ride, or where nothing
/// could be simulated.
pub fn lasts(request: &Request<'_>) -> Result<Option<(f64, f64)>, StudyError> {
    request.plan(&mut |_| (), |planned| {
        let (interpreter, pairs) = (&planned.interpreter, &planned.plan.pairs);
        let items = match super::of(request, planned, (1, 1))? {
            Study::Runs(_) => pairs.len() as u64,
            Study::Long(study) => study.frame().count(),
        };
        let threads = std::thread::available_parallelism().map_or(1, usize::from).min(items as usize);
        let (mut least, mut most, mut pace) = (0.0, 0.0, None);
        for pair in pairs {
            let Some(entries) = interpreter.record(pair)? else { return Ok(None) };
            if pace.is_none() {
                pace = measured(pair, &entries);
            }
            let Some(Pace { each, passes }) = pace else { return Ok(None) };
            let count = entries.len() as f64;
            let (few, many) = pair.duty.until.map_or((1.0, 1.0), |until| {
                let all = (until / (count * passes)).ceil().max(1.0);
                (all.min(SIMULATED.0), all.min(SIMULATED.1))
            });
            (least, most) = (least + count * each * few, most + count * each * many);
        }
        let all = items as f64 / pairs.len().max(1) as f64 / threads.max(1) as f64;
        Ok((!pairs.is_empty()).then_some((least * all, most * all)))
    })
}

/// The pace of a pair's first segments.
fn measured(pair: &Pair, entries: &[Entry]) -> Option<Pace> {
    let mut simulation = Simulation::new(pair.variant.machine.clone(), Options::default()).ok()?;
    let (start, mut done) = (Instant::now(), 0.0);
    for (segment, _) in entries {
        // A failure is told when the study runs.
        simulation.perform(segment).ok()?;
        done += if matches!(segment, Segment::Service(_)) { 0.0 } else { 1.0 };
        if start.elapsed() > PATIENCE {
            break;
        }
    }
    let share = entries.iter().filter(|(segment, _)| !matches!(segment, Segment::Service(_))).count() as f64;
    let riding = share / entries.len() as f64;
    let pace = |total: f64| total / done * riding;
    (done > 0.0 && simulation.clock() > 0.0)
        .then(|| Pace { each: pace(start.elapsed().as_secs_f64()), passes: pace(simulation.clock()) })
}
