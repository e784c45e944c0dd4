//! The answer of a study in three sentences: what is best and worst and by how much, how hot and how dry it gets, and what all
//! that hangs on.

use super::Words;
use super::leaning::{off, sentence};
use super::number::{about, percent, three, time, times};
use super::words::listed;
use crate::reading::{ended_by, name, setting};
use slipsoak_engine::record::{Record, Run};

/// Lives whose longest is within this factor of their shortest are alike.
const ALIKE: f64 = 1.05;
/// Fills that lie this close together are alike.
const SAME_FILL: f64 = 0.002;

/// A run with its name in quotes and one quantity.
type Ranked<'a> = Vec<(&'a Run, String, f64)>;

/// A channel's value in a row of all channels.
pub fn channel(record: &Record, row: &[f64], name: &str) -> Option<f64> {
    record.channels.iter().position(|c| c.name == name).and_then(|k| row.get(k)).copied().filter(|v| v.is_finite())
}

/// Oil fill of the bushing at the end of a run.
pub fn fill(record: &Record, run: &Run) -> Option<f64> {
    channel(record, run.windows.mean.last()?, "oil fill")
}

/// Greatest temperature of a channel, K.
pub fn peak(record: &Record, run: &Run, name: &str) -> Option<f64> {
    channel(record, &run.overall.most, name)
}

/// Whether a part was followed to its limit, not only carried on at its rate.
fn followed(run: &Run, hours: f64) -> bool {
    hours * 3600.0 <= run.duration
}

/// Runs from the least to the greatest of a quantity.
fn ranked(record: &Record, of: impl Fn(&Run) -> Option<f64>) -> Ranked<'_> {
    let called = |r| format!("“{}”", name(record, r));
    let mut all: Ranked = record.runs.iter().filter_map(|r| Some((r, called(r), of(r)?))).collect();
    all.sort_by(|a, b| a.2.total_cmp(&b.2));
    all
}

/// What the runs of a record are called: one and several.
pub fn kind(record: &Record) -> [&'static str; 2] {
    let Some(first) = record.runs.first() else { return ["run", "runs"] };
    let same = |of: fn(&Run) -> &String| record.runs.iter().all(|r| of(r) == of(first));
    match (same(|r| &r.variant), same(|r| &r.duty)) {
        (false, true) => ["machine", "machines"],
        (true, false) => ["duty", "duties"],
        _ => ["run", "runs"],
    }
}

/// Three sentences; none for a record without runs.
pub fn answer(record: &Record) -> Vec<Words> {
    let Some(first) = record.runs.first() else { return vec![] };
    let ends: Vec<&str> = record.runs.iter().filter_map(|r| Some(ended_by(r)?.0)).collect();
    let verdict = if record.runs.len() == 1 { lasts(first) } else { compared(record) };
    vec![verdict, hottest_and_driest(record), sentence(record, &ends)]
}

/// How long one run lasts.
fn lasts(run: &Run) -> Words {
    let Some((part, hours)) = ended_by(run) else { return "No part wears measurably in this duty.".into() };
    let words = Words::from(format!("The {part} ends it after ")).strong(time(hours)).plain(" of this duty");
    words.plain(format!("{}{}.", carried_on(run, hours), range(part, hours)))
}

/// In brackets, how far a life may be off.
fn range(part: &str, hours: f64) -> String {
    off(part).map_or_else(String::new, |f| format!(" ({})", times(hours / f, hours * f)))
}

/// Said where a life is longer than the run.
fn carried_on(run: &Run, hours: f64) -> String {
    if followed(run, hours) {
        String::new()
    } else {
        format!(", at the rate of these {}", about(run.duration / 3600.0))
    }
}

/// What is best and worst: in life, or where lives say less, in oil.
fn compared(record: &Record) -> Words {
    let lives = ranked(record, |r| ended_by(r).map(|e| e.1));
    let fills = ranked(record, |r| fill(record, r));
    let ratio = |all: &Ranked| all.last().zip(all.first()).map_or(1.0, |(most, least)| most.2 / least.2.max(1e-9));
    let (dry, full) = (fills.first().map_or(1.0, |f| f.2), fills.last().map_or(1.0, |f| f.2));
    let oil_tells = full - dry > SAME_FILL && (1.0 - dry) / (1.0 - full).max(1e-3) > ratio(&lives);
    let [_, several] = kind(record);
    if oil_tells { most_oil(record, &fills, &lives, several) } else { longest(&lives, several, record.runs.len()) }
}

fn longest(lives: &Ranked, several: &str, runs: usize) -> Words {
    let (Some(worst), Some(best)) = (lives.first(), lives.last()) else {
        return format!("Of {runs} {several}, none wears a part measurably.").into();
    };
    let part = |run: &Run| ended_by(run).map_or_else(String::new, |e| e.0.to_owned());
    let (best_part, worst_part) = (part(best.0), part(worst.0));
    let head = format!("Of {runs} {several}, ");
    if best.2 < ALIKE * worst.2 {
        let words = Words::from(head).plain("none stands out: all last ").strong(times(worst.2, best.2));
        return words.plain(format!(" until the {best_part} ends it{}.", carried_on(best.0, best.2)));
    }
    let words = Words::from(head).strong(best.1.clone()).plain(" lasts longest: ").strong(time(best.2));
    let words = words.plain(format!("{} until the {best_part} ends it", range(&best_part, best.2)));
    let times_as_long = best.2 / worst.2;
    let words = words.plain(format!(", {} times as long as ", three(times_as_long))).strong(worst.1.clone());
    let ends = if worst_part == best_part { String::new() } else { format!(", which its {worst_part} ends") };
    let carried = if followed(best.0, best.2) && followed(worst.0, worst.2) {
        String::new()
    } else {
        format!("; hours are carried on at the rate of {} of duty", about(best.0.duration / 3600.0))
    };
    words.plain(format!(" with {}{ends}{carried}.", time(worst.2)))
}

fn most_oil(record: &Record, fills: &Ranked, lives: &Ranked, several: &str) -> Words {
    let (Some(least), Some(most)) = (fills.first(), fills.last()) else { return Words::default() };
    let near = |f: &&(&Run, String, f64)| most.2 - f.2 <= SAME_FILL;
    let names: Vec<String> = fills.iter().rev().filter(near).map(|f| f.1.clone()).collect();
    let words = Words::from(format!("Of {} {several}, ", record.runs.len())).strong(listed(&names));
    let words = words.plain(if names.len() == 1 { " keeps most oil: " } else { " keep most oil, alike: " });
    let words = words.strong(percent(most.2)).plain(" of a full bushing at the end, against ");
    let words = words.strong(percent(least.2)).plain(" with ").strong(least.1.clone());
    match (lives.first(), lives.last()) {
        (Some(worst), Some(best)) if best.2 < ALIKE * worst.2 => words.plain(format!(
            ", the least; wear does not tell them apart: {} until a part is at its limit.",
            time(worst.2)
        )),
        (Some(worst), Some(best)) => words.plain(format!(
            ", the least; wear tells them apart less, with {} until a part is at its limit.",
            times(worst.2, best.2)
        )),
        _ => words.plain(", the least."),
    }
}

/// The hottest lining against its limit, and the oil that is left.
fn hottest_and_driest(record: &Record) -> Words {
    let several = record.runs.len() > 1;
    let linings = ranked(record, |r| peak(record, r, "lining surface"));
    let fills = ranked(record, |r| fill(record, r));
    let mut words = Words::default();
    if let Some((run, name, hottest)) = linings.last() {
        words = words.plain("The hottest lining");
        let coolest = linings.first().map_or(*hottest, |l| l.2);
        if several && hottest - coolest > 1.0 {
            words = words.plain(", with ").strong(name.clone()).plain(",");
        }
        words = words.plain(" comes to ").temperature(*hottest);
        if let Some(limit) = setting(run, "limits.lining_most") {
            words = if *hottest > limit { words.strong(", over") } else { words.plain(", under") };
            words = words.plain(" its limit of ").temperature(limit);
        }
    }
    match (fills.first(), fills.last()) {
        (Some(dry), Some(full)) if several && full.2 - dry.2 > SAME_FILL => words.plain(format!(
            "; at the end the bushing holds {} ({}) to {} ({}) of its oil.",
            percent(dry.2),
            dry.1,
            percent(full.2),
            full.1
        )),
        (Some(dry), _) => {
            let due = dry.0.horizon.as_ref().and_then(|h| h.service_due).filter(|_| !several);
            let due = due.map_or_else(String::new, |t| format!(", and its service was due after {}", time(t / 3600.0)));
            words.plain(format!("; at the end the bushing holds {} of its oil{due}.", percent(dry.2)))
        }
        _ => words.plain("."),
    }
}
