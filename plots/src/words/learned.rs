//! What a calibration learned, in place of what is assumed.

use crate::words::compared::quoted;
use crate::words::number::figures;
use crate::words::reading::name;
use crate::words::text::listed;
use slipsoak_engine::fleet::Known;
use slipsoak_engine::parts::{Parameter, parameter};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::sweep::Sweep;

/// Each learned constant with what the calibration left open of it; none if none was.
pub(crate) fn learned(known: &[Known]) -> Option<String> {
    learned_of(known, "")
}

fn learned_of(known: &[Known], whose: &str) -> Option<String> {
    let one = |known: &Known| {
        let name = parameter(&known.path)?.name;
        Some(format!("{name} (÷ or × {})", figures(known.factor, 2)))
    };
    let each: Vec<String> = known.iter().filter_map(one).collect();
    (!each.is_empty()).then(|| format!("Learned from measurements{whose}: {}", listed(&each)))
}

/// What wear constants are of which these were learned.
pub const fn constants(known: &[Known]) -> &'static str {
    if known.is_empty() { "assumed" } else { "learned and assumed" }
}

/// The constants to which lives are in inverse proportion that were learned of any of some machines, each with the widest factor.
fn of_lives<'a>(all: impl Iterator<Item = &'a [Known]>) -> Vec<Known> {
    let mut found: Vec<Known> = vec![];
    for one in all.flatten().filter(|one| one.of_life()) {
        match found.iter_mut().find(|other| other.path == one.path) {
            Some(other) => other.factor = other.factor.max(one.factor),
            None => found.push(one.clone()),
        }
    }
    found
}

/// The learned wear constants of a study's machines.
pub(crate) fn of_record(record: &Record) -> Vec<Known> {
    of_lives(record.runs.iter().map(|run| run.learned.as_slice()))
}

/// The learned wear constants of a sweep's machines.
pub(crate) fn of_sweep(sweep: &Sweep) -> Vec<Known> {
    of_lives(sweep.rows.iter().map(|row| row.summary.learned.as_slice()))
}

/// Whether what was learned is the same for all runs.
pub(crate) fn alike(record: &Record) -> bool {
    record.runs.windows(2).all(|pair| pair[0].learned == pair[1].learned)
}

/// Where the wear rates of a study are from, in a sentence.
pub(crate) fn wear_rates(record: &Record) -> String {
    let calibrated: Vec<&Run> = record.runs.iter().filter(|run| run.learned.iter().any(Known::of_life)).collect();
    let whose = if calibrated.len() < record.runs.len() {
        format!(" of {}", quoted(&calibrated, |run| name(record, run)))
    } else {
        String::new()
    };
    learned_of(&of_record(record), &whose)
        .map_or_else(|| "Wear rates assumed.".to_owned(), |learned| format!("{learned}; other wear rates assumed."))
}

/// How far a constant of a study is open: as it was learned, or else as is assumed.
pub(crate) fn open(record: &Record, p: &Parameter, assumed: Option<String>) -> Option<String> {
    let known = record.runs.iter().filter_map(|run| run.knows(p)).reduce(f64::max);
    let all = record.runs.iter().all(|run| run.knows(p).is_some());
    match (known.map(|factor| format!("÷ or × {}", figures(factor, 2))), assumed) {
        (Some(known), Some(assumed)) if !all => Some(format!("{assumed}; where learned, {known}")),
        (Some(known), _) => Some(format!("{known}, learned")),
        (None, assumed) => assumed,
    }
}
