//! What would help where no machine of a study may be used so.

use crate::words::cautions;
use crate::words::compared::{by_duty, kind_of_variants};
use crate::words::fault::{OWN_IDLE, begins_overdue, new_set, unfit};
use crate::words::reading::new_part;
use crate::words::say::{self, turns};
use crate::words::text::{Words, listed};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::finding::Spent;
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Warned};
use slipsoak_engine::units::RPM;
use std::collections::BTreeSet;

/// What would help against slip where no spring does.
macro_rules! less_slip {
    () => {
        "less slip (shorter gearing, less load, fewer stops), more cooling, or a larger clutch."
    };
}

/// The same as a sentence.
pub(crate) const LESS_SLIP: &str = concat!("What would help: ", less_slip!());

/// A lower idle, as a remedy.
const LOWER_IDLE: &str = "a lower idle as far as the motor's maker allows";

/// Who says which spring is far enough from the idle.
const WHICH: &str = "`slipsoak choose` says which spring stays clear of the idle.";

/// The oil to use in place of one that stays on the lining.
const PLAIN_OIL: &str =
    "a straight petroleum oil, such as SAE 30, in place of the one with PTFE, silicone or a friction modifier";

/// Least difference between a spring that is too near to the idle and one that is too hot between which one may fit, rad/s.
const ROOM: f64 = 100.0 * RPM;

/// What would help, if every machine of a study has a fault, or every one under some of its duties; else empty, and where a run was
/// stopped by its heat, of which the answer says it already.
pub(crate) fn remedies(record: &Record) -> Words {
    if record.runs.iter().any(|run| run.halt.is_some()) {
        return Words::default();
    }
    let all: Vec<&Run> = record.runs.iter().collect();
    let duties = by_duty(record);
    if duties.len() < 2 || all.iter().all(|run| run.variant == all[0].variant) {
        return helps(record, &all).map_or_else(Words::default, |what| format!("What would help: {what}").into());
    }
    let mut said: Vec<(String, Vec<String>)> = vec![];
    for (duty, runs) in &duties {
        let Some(what) = helps(record, runs) else { continue };
        let named = format!("“{duty}”");
        match said.iter_mut().find(|(known, _)| *known == what) {
            Some((_, duties)) => duties.push(named),
            None => said.push((what, vec![named])),
        }
    }
    let sentence = |(what, under): (String, Vec<String>)| match under.len() {
        all if all == duties.len() => format!("What would help: {what}"),
        _ => format!("What would help under {}: {what}", listed(&under)),
    };
    said.into_iter().map(sentence).collect::<Vec<_>>().join(" ").into()
}

/// What would help, if each of these runs has a fault.
fn helps(record: &Record, runs: &[&Run]) -> Option<String> {
    let faults = runs.iter().map(|run| unfit(record, run)).collect::<Option<Vec<Fault>>>()?;
    let oil = runs.iter().any(|run| run.warned(Warned::Additive).is_some());
    let faults: Vec<Fault> = faults.into_iter().filter(|fault| *fault != Fault::Additive).collect();
    Some(match (oil, faults.is_empty()) {
        (true, true) => format!("{PLAIN_OIL}."),
        (true, false) => format!("{} Use {PLAIN_OIL} too.", against(record, runs, &faults)),
        (false, _) => against(record, runs, &faults),
    })
}

/// Whether a fault is that of a spring near to the idle.
const fn idles(fault: Fault) -> bool {
    matches!(fault, Fault::Drags | Fault::Near | Fault::Settles)
}

/// What would help against these faults.
fn against(record: &Record, runs: &[&Run], faults: &[Fault]) -> String {
    const OF_USE: [(Fault, &str, &str); 5] = [
        (Fault::Stalls, "Where the motor stalls by itself: ", OWN_IDLE),
        (Fault::BushingDrives, "Where the bushing moves it off: ", cautions::DRIVES),
        (Fault::RunsAway, "Where it runs away: ", "the brakes, used on every slope; no clutch holds a machine there"),
        (Fault::Overspeed, "Downhill: ", "the brakes, used on every descent; no spring changes it"),
        (Fault::TooSlow, "Where starts fail: ", "more throttle, other gearing, less load, or a stronger motor"),
    ];
    // A motor that the clutch stalls is another matter.
    let by_clutch = |run: &&Run| run.own_fault() == Some(Fault::Stalls) && !run.stalls_by_itself();
    let stalled = runs.iter().any(by_clutch);
    let of_use: Vec<_> =
        OF_USE.into_iter().filter(|of| faults.contains(&of.0) && !(stalled && of.0 == Fault::Stalls)).collect();
    let own: Vec<Fault> = faults.iter().copied().filter(|fault| of_use.iter().all(|of| of.0 != *fault)).collect();
    let mut said: Vec<String> = (!own.is_empty()).then(|| of_clutch(record, runs, &own)).into_iter().collect();
    for (_, place, what) in of_use {
        said.push(format!("{}{what}.", if said.is_empty() { "" } else { place }));
    }
    said.join(" ")
}

/// What would help against these faults of clutch, springs and oil.
fn of_clutch(record: &Record, runs: &[&Run], faults: &[Fault]) -> String {
    match faults.iter().filter(|fault| idles(**fault)).count() {
        0 if let Some(parts) = runs.iter().map(|run| spent(run)).collect::<Option<BTreeSet<String>>>() => {
            format!("{}.", listed(&parts.into_iter().collect::<Vec<_>>()))
        }
        0 if runs.iter().all(|run| lacks_oil(run)) => "oil. A bushing without it grabs its shaft, however cool it runs: fill it before it is ridden (`slipsoak oiling` says when and how).".to_owned(),
        0 if runs.iter().any(|run| begins_low(run)) => format!("oil first. Fill the bushing before it is ridden, since it begins below the fill at which service is due, and ask `slipsoak oiling` how often. Then {}", slip(runs)),
        0 if faults.iter().any(|fault| matches!(fault, Fault::Grabs | Fault::Dry)) => {
            format!("{} Oiling the bushing far more often helps too: `slipsoak oiling` says how often.", slip(runs))
        }
        0 => slip(runs),
        all if all == faults.len() => same_set(runs).map_or_else(
            || format!("a spring that engages at a higher speed (`slipsoak choose` says which, or that the use is too hard for any), or {LOWER_IDLE}."),
            str::to_owned,
        ),
        _ if kind_of_variants(record)[0] == "spring" => between(record, runs),
        _ => format!("{} {WHICH}", less_slip!()),
    }
}

/// A part of a run's machine that is worn out before it is ridden, and ends it early.
fn spent(run: &Run) -> Option<String> {
    let first = run.first_worn()?.part;
    let all = Spent::all(|p| run.setting(p));
    all.iter().find(|spent| spent.part == first && run.own_fault() == Some(Fault::Early)).map(new_part)
}

/// What would help where soft springs are too near to the idle and hard ones have other faults: a spring between them, if there is room
/// for one that keeps the margin which the hardest near one lacks.
fn between(record: &Record, runs: &[&Run]) -> String {
    let engages = |run: &Run| run.setting(&settings::clutch::engagement);
    let near = |run: &&&Run| unfit(record, run).is_some_and(idles);
    let clear = |run: &Run| Some(engages(run)? + run.too_near().map_or(0.0, |(_, over, needed)| needed - over));
    let soft = runs.iter().filter(near).filter_map(|run| Some((engages(run)?, clear(run)?)));
    let soft = soft.max_by(|a, b| a.0.total_cmp(&b.0));
    let hard = runs.iter().filter(|run| !near(run)).filter_map(|run| engages(run)).reduce(f64::min);
    match soft.zip(hard) {
        // The hardest that is near engages above one that is not: more than the springs makes the difference.
        Some(((soft, _), hard)) if hard <= soft => format!("{} {WHICH}", slip(runs)),
        Some(((soft, clear), hard)) if hard - soft < ROOM || hard <= clear => {
            let (low, high) = (turns(soft), turns(hard));
            let low = low.trim_end_matches("\u{a0}rpm");
            format!(
                "{LOWER_IDLE}; {} No spring between {low} and {high} is likely to fit: what stays clear of this idle does not stand this use.",
                slip(runs)
            )
        }
        _ => "a spring between these (`slipsoak choose` says which, or that the use is too hard for any).".to_owned(),
    }
}

/// Whether a bushing that ends for want of oil begins with less of it than that at which its service is due.
fn begins_low(run: &Run) -> bool {
    matches!(run.own_fault(), Some(Fault::Dry | Fault::Grabs | Fault::Early)) && begins_overdue(run)
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
fn same_set(runs: &[&Run]) -> Option<&'static str> {
    let spare = runs.iter().map(|run| new_set(run)).collect::<Option<Vec<_>>>()?;
    let clear = |k: usize| spare.iter().all(|margins| margins[k] >= 0.0);
    match [clear(0), clear(1)] {
        [true, _] => Some("a whole new set of the same springs, which stays clear of the idle."),
        [false, true] => Some(
            "a whole new set of springs. `slipsoak choose` says whether one that engages at the same speed stays clear of the idle.",
        ),
        _ => None,
    }
}

/// Remedies against slip: the speed that is held, if that causes it in every run.
fn slip(runs: &[&Run]) -> String {
    let held = runs.iter().map(|run| run.warned(Warned::HeldSpeed)).collect::<Option<Vec<_>>>();
    let Some(held) = held.filter(|held| !held.is_empty()) else { return less_slip!().to_owned() };
    let most = held.iter().map(|warned| warned.value).fold(0.0, f64::max);
    let lock = held.iter().map(|warned| warned.limit).fold(f64::INFINITY, f64::min);
    let (most, lock) = (say::road_speed(most), say::road_speed(lock));
    format!(
        "shorter gearing, since at the speed that is held, {most}, the clutch slips all the time, below lock-up at {lock}; then less load, fewer stops, more cooling, or a larger clutch."
    )
}
