//! The answer of a study: a ranking of variants or the effect of habits, and its uncertainty.

use crate::words::assumed::sentence;
use crate::words::cautions::{Caution, of_record};
use crate::words::compared::{about, quoted};
use crate::words::fault::{does, new_set, unfit};
use crate::words::habits::{hottest_and_driest, never_due, too_short, under_several};
use crate::words::learned::wear_rates;
use crate::words::number::figures;
use crate::words::oil_first::oil_first;
use crate::words::ranking::between;
use crate::words::reading::{end, name};
use crate::words::remedies::remedies;
use crate::words::say::{self, temperature};
use crate::words::text::Words;
use crate::words::use_of_machine::{near_idle, weak_near_idle};
use crate::words::warming::{WARMING, chars_sooner, cold};
use crate::words::warnings::{DOUBTS, doubt, remedy, stopped, weak_spring};
use slipsoak_engine::fault::{EARLY, Fault};
use slipsoak_engine::names::Part;
use slipsoak_engine::record::{Halt, Record, Run, Warned};
use std::collections::BTreeSet;

/// Largest number of machines with a dragging shoe that the answer names.
const SHOES_NAMED: usize = 3;
/// Largest number of stopped runs that the answer names.
const STOPS_NAMED: usize = 3;

/// The recommendation or the life, in one to four sentences; empty for a record without runs.
pub fn answer(record: &Record) -> Vec<Words> {
    let Some(first) = record.runs.first() else { return vec![] };
    let variants: BTreeSet<&str> = record.runs.iter().map(|r| r.variant.as_str()).collect();
    let said = match (record.runs.len(), variants.len()) {
        (1, _) => alone(record, first),
        (_, 1) => under_several(record),
        _ => between(record),
    };
    let oil = oil_first(&record.runs.iter().collect::<Vec<_>>()).filter(|_| record.runs.len() > 1);
    let said =
        said.into_iter().chain(oil).chain([remedies(record)]).chain(nearest(record).filter(|_| variants.len() == 1));
    let fit = record.runs.iter().filter(|run| run.fault().is_none());
    let cold = cold(fit.map(|run| (run.duration, run.to_come())));
    let several = record.runs.len() > 1;
    let sound = record.runs.iter().filter(|run| unfit(record, run).is_none());
    let chars = chars_sooner(sound, |run| several.then(|| name(record, run)));
    let first = stops(record).into_iter().chain(weak_shoes(record)).chain(cold).chain(chars);
    first.chain(said).filter(|words| !words.is_empty()).collect()
}

/// That the springs are nearer to the idle than a choice allows, under the duty where they come nearest. What drags has been said
/// before; where a spring is weaker than a new set, that is the cause.
fn nearest(record: &Record) -> Option<Words> {
    let drags = |run: &Run| run.own_fault() == Some(Fault::Drags) || run.warned(Warned::WeakShoe).is_some();
    if record.runs.iter().any(drags) {
        return None;
    }
    let unknown = record.runs.iter().filter_map(Run::springs_unknown).max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((peak, limit)) = unknown {
        let [peak, limit] = [peak, limit].map(temperature);
        let said = format!(
            "The springs reach {peak}, beyond {limit}, to which their relaxation is known: how near to the idle they come is unknown. Ride with less slip, or cool the clutch better."
        );
        return Some(said.into());
    }
    let near = record.runs.iter().filter_map(|run| Some((run, run.near_idle()?)));
    let (run, near) = near.min_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
    let said = match new_set(run) {
        None => near_idle(near),
        Some([settled, _]) => weak_near_idle(near, settled >= 0.0),
    };
    Some(said.into())
}

/// Where runs were stopped by heat, a sentence for each of the first few, and what to do.
fn stops(record: &Record) -> Vec<Words> {
    let halted = record.runs.iter().filter_map(|run| Some((run, run.halt.as_ref()?)));
    let one = |(run, halt): (&Run, &Halt)| match record.runs.len() {
        1 => stopped(halt).capital().plain("."),
        _ => Words::from(format!("“{}”: ", name(record, run))).and(stopped(halt)).plain("."),
    };
    let mut said: Vec<Words> = halted.map(one).take(STOPS_NAMED).collect();
    if !said.is_empty() {
        said.push("Ride with less slip (a lower gear, less load, another spring), cool the drum better, or check the settings.".into());
    }
    said
}

/// What to do where one shoe drags by its spring, a sentence for each of the first few machines.
fn weak_shoes(record: &Record) -> Vec<Words> {
    let mut seen: Vec<&str> = vec![];
    let mut said = vec![];
    for run in &record.runs {
        let Some(warning) = run.warned(Warned::WeakShoe).filter(|_| !seen.contains(&run.variant.as_str())) else {
            continue;
        };
        seen.push(&run.variant);
        let whom = if record.runs.len() > 1 { format!("“{}”: ", run.variant) } else { String::new() };
        let heat = figures(warning.value, 2);
        let words = Words::from(format!("{whom}{}", remedy(warning.limit)));
        let why = format!(": one shoe drags at idle, {heat}\u{a0}W of heat; {}.", weak_spring(warning.limit));
        said.push(words.capital().plain(why));
    }
    said.truncate(SHOES_NAMED);
    said
}

/// Sentences on a single run: its life, or why it must not be ridden so; temperature and oil.
fn alone(record: &Record, run: &Run) -> Vec<Words> {
    let mut said = vec![];
    if let Some(fault) = run.own_fault() {
        said.push(format!("Not fit for this duty: it {}.", does(fault, &[run])).into());
    }
    let due = oil_first(&[run]);
    said.extend(due.clone());
    match end(run) {
        Some(end) if end.running >= EARLY => {
            let lasts = if due.is_some() { "As it is ridden it lasts " } else { "It lasts " };
            said.push(Words::from(lasts).strong(about(&end, false)).plain(format!(", until {}.", end.what())));
        }
        None if run.own_fault().is_none() => said.push("No part wears measurably in this duty.".into()),
        _ => {}
    }
    said.push(Words::from(hottest_and_driest(record)).sentence());
    said
}

/// Uncertainty of the answer: the data and assumptions on which the numbers depend.
pub fn sure(record: &Record) -> Words {
    let mut words = Words::default();
    for (_, said) in DOUBTS {
        let who: Vec<&Run> = record.runs.iter().filter(|run| doubt(run) == Some(said)).collect();
        if !who.is_empty() && record.runs.len() > 1 {
            words = words.plain(format!("{}: ", quoted(&who, |run| name(record, run))));
        }
        if !who.is_empty() {
            words = words.plain(format!("{said} "));
        }
    }
    let extrapolated = from(record);
    let fit = record.runs.iter().filter(|run| run.fault().is_none() || record.runs.len() == 1);
    let ends: Vec<Part> = fit.filter_map(|run| Some(end(run)?.part)).collect();
    words.plain(extrapolated).plain(in_full(record)).and(sentence(record, &ends))
}

/// Why no block of a repeated duty was skipped; empty if blocks may have been.
pub(crate) fn in_full(record: &Record) -> String {
    let reads = |run: &&Run| run.horizon.as_ref().is_some_and(|horizon| horizon.reads);
    let duties: BTreeSet<&str> = record.runs.iter().filter(reads).map(|run| run.duty.as_str()).collect();
    if duties.is_empty() {
        return String::new();
    }
    let named: Vec<String> = duties.into_iter().map(|duty| format!("“{duty}”")).collect();
    format!(
        "A duty that reads the ride ({}) may differ from block to block: all its blocks were simulated, none skipped. ",
        named.join(", ")
    )
}

/// The uncertainty and the applicable cautions in a few words, where there is no room for more.
pub fn brief(record: &Record) -> Words {
    let all = of_record(record);
    // Fire outranks vapour, and vapour outranks smoke.
    let outdone = |c: &Caution| match c {
        Caution::Smoke => all.contains(&Caution::Vapour) || all.contains(&Caution::Fire),
        Caution::Vapour => all.contains(&Caution::Fire),
        _ => false,
    };
    let applying = all.iter().filter(|c| !outdone(c)).map(|c| c.brief()).filter(|words| !words.is_empty());
    let applying: Vec<&str> = std::iter::once("motor off and cool first").chain(applying).collect();
    Words::from(format!("{}{}{} ", from(record), in_full(record), wear_rates(record)))
        .strong("Caution:")
        .plain(format!(" {}. More: --details.", applying.join("; ")))
}

/// Share of the duty from which lives are extrapolated; empty if they were simulated to their end.
fn from(record: &Record) -> String {
    // A run that was stopped has no life, and its duration says nothing of the others.
    let beyond = |run: &&Run| end(run).is_some_and(|end| end.calendar > run.duration);
    let by_duration = |a: &&Run, b: &&Run| a.duration.total_cmp(&b.duration);
    let runs = || record.runs.iter().filter(beyond);
    let Some((first, last)) = runs().min_by(by_duration).zip(runs().max_by(by_duration)) else { return String::new() };
    let cold = if record.runs.iter().any(|run| run.to_come() > WARMING) { ", not yet warm" } else { "" };
    let one = |run: &Run| {
        if run.running_time > 0.9 * run.duration {
            format!("{} of duty", say::time(run.duration))
        } else {
            say::life(run.running_time, run.duration)
        }
    };
    let simulated = if one(first) == one(last) {
        one(first)
    } else {
        let running = |run: &Run| run.running_time;
        let (short, long) = runs().map(running).fold((f64::INFINITY, 0.0), |(a, b), t| (t.min(a), t.max(b)));
        format!("{} of running", say::times(short, long))
    };
    let short = match too_short(record) {
        true if never_due(record) => ", by which habits are not ranked",
        true => ", too short to rank habits",
        false => "",
    };
    format!("Lives, oil apart, from {simulated}{cold}{short}. ")
}
