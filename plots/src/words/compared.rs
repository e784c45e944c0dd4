//! Differences between the runs of a study, and how they are compared.

use crate::words::number::figures;
use crate::words::reading::{End, end};
use crate::words::say;
use crate::words::text::{listed, together};
use slipsoak_engine::names::{Channel, distinct};
use slipsoak_engine::parts::{PARAMETERS, Parameter, settings};
use slipsoak_engine::record::{Record, Run, Warned};

/// Factor between two lives up to which they count as equal.
pub(crate) const ALIKE: f64 = 1.05;

/// Largest number of names in a sentence; further ones are only counted.
const NAMED: usize = 4;

/// A channel's value in a row of all channels.
pub fn channel(row: &[f64], channel: Channel) -> Option<f64> {
    Some(channel.of(row)).filter(|v| v.is_finite())
}

/// Oil fill at the end, at most full: a bushing below 20 °C holds a little more by mass, which is no news to a reader.
pub fn fill(run: &Run) -> Option<f64> {
    Some(channel(run.windows.mean.last()?, Channel::OilFill)?.min(1.0))
}

/// Greatest temperature of a channel, K.
pub fn peak(run: &Run, of: Channel) -> Option<f64> {
    channel(&run.overall.most, of)
}

/// Word for the runs of a record, singular and plural.
pub fn kind(record: &Record) -> [&'static str; 2] {
    let Some(first) = record.runs.first() else { return ["run", "runs"] };
    let same = |of: fn(&Run) -> &String| record.runs.iter().all(|r| of(r) == of(first));
    match (same(|r| &r.variant), same(|r| &r.duty)) {
        (false, true) if springs(record) => ["spring", "springs"],
        (false, true) => ["machine", "machines"],
        (true, false) => ["duty", "duties"],
        _ => ["run", "runs"],
    }
}

/// Whether the machines differ only in their springs; a duty may set what it likes.
fn springs(record: &Record) -> bool {
    let Some(first) = record.runs.first() else { return false };
    let beside = || record.runs.iter().filter(|run| run.duty == first.duty);
    let different = |p: &&Parameter| beside().any(|run| run.setting(p) != first.setting(p));
    PARAMETERS.iter().filter(different).eq([&settings::clutch::engagement])
}

/// Parts with a limit of temperature, by the warning that it is exceeded.
pub(crate) const LIMITED: [(Warned, &str); 5] = [
    (Warned::Lining, "lining"),
    (Warned::Bushing, "bushing"),
    (Warned::Washer, "washer"),
    (Warned::DryWasher, "dry washer"),
    (Warned::Springs, "spring wire"),
];

/// Names of limits that a run exceeds without being unfit.
pub(crate) fn beside(run: &Run) -> Vec<&'static str> {
    let load = [(Warned::BushingLoad, "load of the bushing")];
    let kinds = LIMITED.iter().chain(&load);
    let exceeded = kinds.filter(|(kind, _)| *kind != Warned::Lining && run.warned(*kind).is_some());
    exceeded.map(|(_, words)| *words).collect()
}

/// Runs grouped by duty, in order.
pub(crate) fn by_duty(record: &Record) -> Vec<(&str, Vec<&Run>)> {
    let under = |duty| (duty, record.runs.iter().filter(|run| run.duty == duty).collect());
    distinct(record.runs.iter().map(|run| run.duty.as_str())).into_iter().map(under).collect()
}

/// Names of variants in quotes, without repetition, only a few of them in full.
pub(crate) fn quoted(runs: &[&Run], of: impl Fn(&Run) -> String) -> String {
    let names = distinct(runs.iter().map(|run| of(run)));
    if let Some(names) = together(&names) {
        return names;
    }
    let mut names: Vec<String> = names.into_iter().map(|name| format!("“{name}”")).collect();
    if names.len() > NAMED {
        let more = names.len() + 1 - NAMED;
        names.truncate(NAMED - 1);
        names.push(format!("{more} more"));
    }
    listed(&names)
}

/// Some runs of several machines under several duties by duty, with this word for all of a duty: 1500 and 1600 rpm under “flat”,
/// all under “hill”. None if machines or duties are the same for all.
pub(crate) fn under_duties(record: &Record, runs: &[&Run], all: &str) -> Option<String> {
    let said: Vec<String> = grouped(record, runs, all)?.into_iter().map(|(who, _)| who).collect();
    Some(said.join(", "))
}

/// The same, each group of machines with its runs.
pub(crate) fn grouped<'a>(record: &Record, runs: &[&'a Run], all: &str) -> Option<Vec<(String, Vec<&'a Run>)>> {
    let duties = by_duty(record);
    let first = &record.runs.first()?.variant;
    if duties.len() < 2 || record.runs.iter().all(|run| run.variant == *first) {
        return None;
    }
    let mut groups: Vec<(String, Vec<String>, Vec<&Run>)> = vec![];
    for (duty, of_duty) in &duties {
        let given: Vec<&Run> = runs.iter().copied().filter(|run| run.duty == *duty).collect();
        if given.is_empty() {
            continue;
        }
        let whole = given.len() == of_duty.len() && given.len() > 1;
        let who = if whole { all.to_owned() } else { quoted(&given, |run| run.variant.clone()) };
        match groups.iter_mut().find(|(known, ..)| *known == who) {
            Some((_, duties, runs)) => {
                duties.push(format!("“{duty}”"));
                runs.extend(given);
            }
            None => groups.push((who, vec![format!("“{duty}”")], given)),
        }
    }
    let said = groups.into_iter().map(|(who, under, runs)| {
        let under = if under.len() == duties.len() { "all duties".to_owned() } else { listed(&under) };
        (format!("{who} under {under}"), runs)
    });
    Some(said.collect())
}

/// Life of a run, running time in s; infinite if nothing wears.
pub(crate) fn life(run: &Run) -> f64 {
    end(run).map_or(f64::INFINITY, |end| end.running)
}

/// Runs by life, the longest first.
pub(crate) fn longest_first<'a>(runs: &[&'a Run]) -> Vec<&'a Run> {
    let mut sorted: Vec<&Run> = runs.to_vec();
    sorted.sort_by(|a, b| life(b).total_cmp(&life(a)));
    sorted
}

/// A share of the best, in per cent; two digits if small.
pub(crate) fn share(of: f64) -> String {
    if of < 0.095 { format!("{}\u{a0}%", figures(100.0 * of, 2)) } else { say::percent(of) }
}

/// Whether two lives are equal within their uncertainty.
pub(crate) fn alike(a: f64, b: f64) -> bool {
    a.max(b) <= ALIKE * a.min(b) || (a.is_infinite() && b.is_infinite())
}

/// Word for the variants, independent of the duties.
pub(crate) fn kind_of_variants(record: &Record) -> [&'static str; 2] {
    if springs(record) { ["spring", "springs"] } else { ["machine", "machines"] }
}

/// Text of a life as in the answer.
pub(crate) fn about(end: &End, with_part: bool) -> String {
    let long = end.running > say::LONG;
    let range = end.range.map(
        |[least, most]| {
            if long { format!("{} or more", say::lasts(least)) } else { say::times(least, most) }
        },
    );
    // A life that no assumed constant changes has no range.
    let range = range.filter(|range| *range != say::time(end.running));
    let part = with_part.then(|| end.brief().to_owned());
    let beside: Vec<String> = range.into_iter().chain(part).collect();
    let life = if long { end.life() } else { format!("about {}", end.life()) };
    match (beside.is_empty(), life.strip_suffix(')')) {
        (true, _) => life,
        (false, None) => format!("{life} ({})", beside.join(", ")),
        (false, Some(open)) => format!("{open}; {})", beside.join(", ")),
    }
}
