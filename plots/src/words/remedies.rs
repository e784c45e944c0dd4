//! What would help where no machine of a study may be used so.

use crate::words::compared::kind_of_variants;
use crate::words::fault::{new_set, unfit};
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Record, Run, Warned};

/// What would help against slip where no spring does.
pub(crate) const LESS_SLIP: &str =
    "What would help: less slip (shorter gearing, less load, fewer stops), more cooling, or a larger clutch.";

/// The oil to use in place of one that stays on the lining.
const PLAIN_OIL: &str =
    "a straight petroleum oil, such as SAE 30, in place of the one with PTFE, silicone or a friction modifier";

/// What would help, if every machine of a study has a fault; else empty, and where a run was stopped by its heat, of
/// which the answer says it already.
pub(crate) fn remedies(record: &Record) -> Words {
    let Some(faults) = record.runs.iter().map(|run| unfit(record, run)).collect::<Option<Vec<Fault>>>() else {
        return Words::default();
    };
    if record.runs.iter().any(|run| run.halt.is_some()) {
        return Words::default();
    }
    let oil = record.runs.iter().any(|run| run.warned(Warned::Additive).is_some());
    let faults: Vec<Fault> = faults.into_iter().filter(|fault| *fault != Fault::Additive).collect();
    match (oil, faults.is_empty()) {
        (true, true) => format!("What would help: {PLAIN_OIL}.").into(),
        (true, false) => against(record, &faults).plain(format!(" Use {PLAIN_OIL} too.")),
        (false, _) => against(record, &faults),
    }
}

/// What would help against these faults.
fn against(record: &Record, faults: &[Fault]) -> Words {
    let idles = |fault: &Fault| matches!(fault, Fault::Drags | Fault::Near | Fault::Settles);
    match faults.iter().filter(|fault| idles(fault)).count() {
        0 if record.runs.iter().all(lacks_oil) => "What would help: oil. A bushing without it grabs its shaft, however cool it runs: fill it before it is ridden (`slipsoak oiling` says when and how).".into(),
        0 if faults.contains(&Fault::Grabs) => slip(&record.runs).plain(" Oiling the bushing far more often helps too: `slipsoak oiling` says how often."),
        0 => slip(&record.runs),
        all if all == faults.len() => same_set(&record.runs).unwrap_or_else(|| {
            "What would help: a spring that engages at a higher speed (`slipsoak choose` says which, or that the use is too hard for any), or a lower idle as far as the motor's maker allows.".into()
        }),
        _ if kind_of_variants(record)[0] == "spring" => {
            "What would help: a spring between these (`slipsoak choose` says which, or that the use is too hard for any).".into()
        }
        _ => format!("{LESS_SLIP} `slipsoak choose` says which spring stays clear of the idle.").into(),
    }
}

/// Whether a run ends early for want of oil alone: nothing in it is too hot.
fn lacks_oil(run: &Run) -> bool {
    let hot = [Warned::Bushing, Warned::Lining, Warned::Bond].iter().any(|kind| run.warned(*kind).is_some());
    let grabs = run.first_worn().is_some_and(|first| first.part == Part::Seized);
    match run.own_fault() {
        Some(Fault::Dry) => !hot,
        Some(Fault::Early) => grabs && !hot,
        _ => false,
    }
}

/// A whole new set of the same springs, where it is the remedy in every run, or may be: with a weak or broken spring they get hotter
/// than such a set, and relax more.
fn same_set(runs: &[Run]) -> Option<Words> {
    let spare = runs.iter().map(new_set).collect::<Option<Vec<_>>>()?;
    let clear = |k: usize| spare.iter().all(|margins| margins[k] >= 0.0);
    let words = match [clear(0), clear(1)] {
        [true, _] => "What would help: a whole new set of the same springs, which stays clear of the idle.",
        [false, true] => {
            "What would help: a whole new set of springs. `slipsoak choose` says whether one that engages at the same speed stays clear of the idle."
        }
        _ => return None,
    };
    Some(words.into())
}

/// Remedies against slip: the speed that is held, if that causes it in every run.
fn slip(runs: &[Run]) -> Words {
    let held = runs.iter().map(|run| run.warned(Warned::HeldSpeed)).collect::<Option<Vec<_>>>();
    let Some(held) = held.filter(|held| !held.is_empty()) else { return LESS_SLIP.into() };
    let most = held.iter().map(|warned| warned.value).fold(0.0, f64::max);
    let lock = held.iter().map(|warned| warned.limit).fold(f64::INFINITY, f64::min);
    let (most, lock) = (say::road_speed(most), say::road_speed(lock));
    format!(
        "What would help: shorter gearing, since at the speed that is held, {most}, the clutch slips all the time, below lock-up at {lock}; then less load, fewer stops, more cooling, or a larger clutch."
    )
    .into()
}
