//! Findings of a sweep: what to choose, smallest margin over idle, limit of the lining's temperature.

mod advice;

use crate::words::compared::about;
use crate::words::failed::left_out;
use crate::words::learned::{learned, of_sweep};
use crate::words::number::figures;
use crate::words::reading::End;
use crate::words::say::{self, turns};
use crate::words::text::{Words, listed};
use crate::words::use_of_machine;
use slipsoak_engine::parts::{Parameter, in_words, settings};
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use slipsoak_engine::units::in_rpm;

/// Name of a combination, of these axes.
fn called(sweep: &Sweep, place: &[usize], of: impl Fn(usize) -> bool) -> String {
    let stops = sweep.axes.iter().zip(place).enumerate().filter(|(axis, _)| of(*axis));
    let name = |(_, (axis, stop)): (usize, (&Axis, &usize))| format!("{} {}", in_words(&axis.name), axis.labels[*stop]);
    stops.map(name).collect::<Vec<_>>().join(", ")
}

/// The main varied quantity, with its value in each row: the margin of engagement over idle if both are varied, else
/// the first setting. In the unit of its text.
struct Main {
    /// each value that occurs, ascending, with its text: "100 rpm above the idle"
    values: Vec<(f64, String)>,
    /// index into the values, for each row
    of: Vec<usize>,
}

/// Text of a margin over idle, rpm.
fn above(over: f64) -> String {
    match over {
        0.0 => "at the idle itself".to_owned(),
        ..0.0 => format!("{:.0}\u{a0}rpm below the idle", -over),
        _ => format!("{over:.0}\u{a0}rpm above the idle"),
    }
}

impl Main {
    fn of(sweep: &Sweep) -> Option<Self> {
        let axis = |p: &Parameter| sweep.axes.iter().position(|axis| axis.name == p.path && !axis.values.is_empty());
        let said: Vec<(f64, String)> =
            if let (Some(engages), Some(idles)) = (axis(&settings::clutch::engagement), axis(&settings::motor::idle)) {
                let at = |row: &Row, axis: usize| sweep.axes[axis].values[row.place[axis]];
                let over = |row| in_rpm(at(row, engages) - at(row, idles)).round();
                let words = |over: f64| if over == 0.0 { "the idle itself".to_owned() } else { above(over) };
                sweep.rows.iter().map(|row| (over(row), words(over(row)))).collect()
            } else {
                let main = sweep.axes.iter().position(|axis| axis.values.len() > 1)?;
                let axis = &sweep.axes[main];
                let at = |row: &Row| {
                    let stop = row.place[main];
                    (axis.values[stop], format!("{} {}", in_words(&axis.name), axis.labels[stop]))
                };
                sweep.rows.iter().map(at).collect()
            };
        let mut values = said.clone();
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        values.dedup_by(|a, b| a.0 == b.0);
        let of = said.iter().map(|(v, _)| values.iter().position(|(value, _)| value == v).unwrap_or(0)).collect();
        Some(Self { values, of })
    }
}

/// The words followed by a range of lining temperatures, K.
fn reaches(words: Words, (low, high): (f64, f64)) -> Words {
    if (high - low).abs() < 0.5 { words.temperature(high) } else { words.temperatures(low, high) }
}

/// Sentence on the margin over idle below which springs drag, on the safe side.
fn dragging(sweep: &Sweep) -> Option<Words> {
    let rows: Vec<(f64, &Summary)> = sweep
        .rows
        .iter()
        .map(|row| Some((in_rpm(row.summary.over_idle()?).round(), &row.summary)))
        .collect::<Option<_>>()?;
    let of = |drags: bool| rows.iter().filter(move |row| row.1.drags() == drags);
    let most = rows.iter().map(|row| row.0).fold(f64::NEG_INFINITY, f64::max);
    let least = rows.iter().map(|row| row.0).fold(f64::INFINITY, f64::min);
    let pair = |s: &Summary| match (s.engagement, s.idle) {
        (Some(engagement), Some(idle)) => format!(" ({} over an idle of {})", turns(engagement), turns(idle)),
        _ => String::new(),
    };
    if most <= least {
        return None;
    }
    let Some((over, worst)) = of(true).max_by(|a, b| a.0.total_cmp(&b.0)) else {
        let (over, nearest) = of(false).min_by(|a, b| a.0.total_cmp(&b.0))?;
        let words = Words::from("No combination drags at idle; the nearest to it engages ").strong(above(*over));
        return Some(words.plain(format!("{}. What engages nearer was not computed.", pair(nearest))));
    };
    let words = Words::from("The highest spring that drags at idle engages ").strong(above(*over));
    let words = words.plain(pair(worst));
    // Margin above which no combination drags.
    let clear = of(false).map(|row| row.0).filter(|clear| clear > over).reduce(f64::min);
    Some(match clear {
        Some(clear) => words
            .plain("; no combination that engages ")
            .strong(above(clear))
            .plain(" or higher drags. What engages between was not computed."),
        None => words.plain(": nothing computed engages further above it, and some that engage there drag."),
    })
}

/// Sentence on where the lining's limit is exceeded.
fn crossing(sweep: &Sweep) -> Option<Words> {
    let main = Main::of(sweep)?;
    let limits: Vec<f64> = sweep.rows.iter().map(|r| r.summary.lining_limit).collect::<Option<_>>()?;
    let limit = limits.iter().copied().fold(f64::INFINITY, f64::min);
    let peaks = |stop: usize| {
        let at = sweep.rows.iter().zip(&main.of).filter(move |(_, of)| **of == stop);
        at.map(|(row, _)| row.summary.lining_peak).fold((f64::INFINITY, 0.0_f64), |(l, h), p| (l.min(p), h.max(p)))
    };
    let good: Vec<bool> = (0..main.values.len())
        .map(|k| {
            sweep.rows.iter().zip(&main.of).zip(&limits).all(|((r, of), l)| *of != k || r.summary.lining_peak <= *l)
        })
        .collect();
    let (all_low, all_high) =
        (0..good.len()).map(peaks).fold((f64::INFINITY, 0.0_f64), |(l, h), p| (l.min(p.0), h.max(p.1)));
    if good.iter().all(|g| *g) {
        let words = Words::from("No combination exceeds the lining's limit of ").temperature(limit);
        return Some(words.plain(": the hottest lining reaches ").temperature(all_high).plain("."));
    }
    // The longest range at either end within which nothing exceeds the limit.
    let above = good.iter().rev().take_while(|g| **g).count();
    let below = good.iter().take_while(|g| **g).count();
    let last = good.len() - 1;
    if above == 0 && below == 0 {
        if let Some(k) = (0..=last).find(|k| good[*k]) {
            let words = Words::from("Only between the ends does no combination exceed the lining's limit of ");
            return Some(words.temperature(limit).plain(", as at ").strong(&main.values[k].1).plain("."));
        }
        let over = sweep.rows.iter().zip(&limits).filter(|(row, limit)| row.summary.lining_peak > **limit).count();
        if over < sweep.rows.len() {
            let words = Words::from(format!("In {over} of {} combinations", sweep.rows.len()));
            let words = words.plain(" the lining exceeds its limit of ").temperature(limit).plain(", at up to ");
            return Some(words.temperature(all_high).plain("."));
        }
        let words = Words::from("The lining exceeds its limit of ").temperature(limit);
        let words = words.plain(" in every combination: it reaches ");
        return Some(reaches(words, (all_low, all_high)).plain("."));
    }
    let (edge, worse, from) = if above >= below {
        (last + 1 - above, last - above, Words::from("From "))
    } else {
        (below - 1, below, Words::from("Up to "))
    };
    let on = if above >= below { " on" } else { "" };
    let words = from.strong(&main.values[edge].1).plain(format!("{on} no combination exceeds the lining's limit of "));
    let words = words.temperature(limit).plain("; at ").strong(&main.values[worse].1).plain(" the lining reaches ");
    Some(reaches(words, peaks(worse)).plain("."))
}

/// Answer of the sweep, the most important first, with what is left out and how uncertain it is.
pub fn answer(sweep: &Sweep) -> Vec<Words> {
    let mut said = found(sweep);
    said.extend(missing(sweep));
    said
}

/// How sure the answer is.
pub fn sure(sweep: &Sweep) -> String {
    let known = learned(&of_sweep(sweep));
    let wear = if known.is_some() { "learned, or assumed" } else { "assumed" };
    let known = known.map_or_else(String::new, |known| format!(" {known}."));
    format!(
        "Peaks of temperature depend on contacts that are assumed within a factor of two, lives on wear constants that are {wear} within a factor of three and more: what differs from cell to cell is surer than any cell.{known}"
    )
}

/// Findings of the sweep, the most important first.
pub fn found(sweep: &Sweep) -> Vec<Words> {
    let margin = advice::margin(sweep);
    let wrong = wrong_oil(sweep).into_iter();
    wrong
        .chain(advice::advice(sweep))
        .chain(margin)
        .chain(beyond(sweep))
        .chain(dragging(sweep))
        .chain(crossing(sweep))
        .collect()
}

/// Sentence on the combinations with an oil that stays on the lining; none if none has.
fn wrong_oil(sweep: &Sweep) -> Option<Words> {
    let wrong: Vec<&Row> = sweep.rows.iter().filter(|row| row.summary.wrong_oil()).collect();
    let whose = match wrong.len() {
        0 => return None,
        n if n == sweep.rows.len() => "this oil".to_owned(),
        n => {
            // The machines or duties that have it, or else how many combinations do.
            let named = |axis: usize| {
                let has = |stop: usize| wrong.iter().any(|row| row.place[axis] == stop);
                let whole = |row: &&Row| !has(row.place[axis]) || row.summary.wrong_oil();
                let names = sweep.axes[axis].labels.iter().enumerate().filter(|(stop, _)| has(*stop));
                let names: Vec<String> = names.map(|(_, label)| format!("“{label}”")).collect();
                (sweep.rows.iter().all(|row| whole(&row))).then(|| listed(&names))
            };
            let names = (0..sweep.axes.len()).filter(|axis| sweep.axes[*axis].values.is_empty()).find_map(named);
            names.map_or_else(|| format!("the oil of {n} combinations"), |names| format!("the oil of {names}"))
        }
    };
    Some(use_of_machine::wrong_oil(&whose, ""))
}

/// Sentence on the combinations that grow hotter than the model reaches; none if none does.
fn beyond(sweep: &Sweep) -> Option<Words> {
    let count = sweep.rows.iter().filter(|row| row.summary.beyond()).count();
    let (is, them) = if count == 1 { ("is", "it") } else { ("are", "them") };
    (count > 0).then(|| {
        format!(
            "{count} of {} combinations {is} beyond the model, with a part that is too hot for it: no life is given for {them}, and none is recommended.",
            sweep.rows.len()
        )
        .into()
    })
}

/// Life of a combination as text, running hours first, with its range.
pub fn lasts(summary: &Summary) -> Option<String> {
    let calendar = summary.life?;
    let (running, part) = (summary.running.unwrap_or(calendar), summary.ended_by?);
    Some(about(&End { part, running, calendar, range: summary.range }, false))
}

/// Sentence on the combinations that could not be computed; empty if all could.
pub fn missing(sweep: &Sweep) -> Option<Words> {
    left_out(&sweep.failed, (sweep.rows.len() + sweep.failed.len()) as u64, "combinations")
}

/// How many combinations exceed the lining's limit, and how many drag at idle.
pub(crate) fn overheated(sweep: &Sweep) -> String {
    let all = sweep.rows.len();
    let count = |of: fn(&Summary) -> bool| sweep.rows.iter().filter(|row| of(&row.summary)).count();
    let said = |count: usize, [one, many]: [&str; 2]| match count {
        0 => format!("none {one}"),
        1 => format!("1 {one}"),
        _ => format!("{count} {many}"),
    };
    let hot = said(count(too_hot), ["overheats the lining", "overheat the lining"]);
    let drag = said(count(Summary::drags), ["drags at idle", "drag at idle"]);
    let oil = match count(Summary::wrong_oil) {
        0 => String::new(),
        n => format!(", {} the wrong oil", said(n, ["has", "have"])),
    };
    format!("Of {all} combinations {hot}, {drag}{oil}")
}

/// Whether a combination exceeds the lining's limit.
pub(crate) fn too_hot(summary: &Summary) -> bool {
    summary.lining_limit.is_some_and(|limit| summary.lining_peak > limit)
}

/// From where to where the slip energy of a launch goes, in kJ.
pub(crate) fn energies(sweep: &Sweep) -> String {
    let all = || sweep.rows.iter().filter_map(|row| row.summary.slip_energy);
    let (low, high) = all().fold((f64::INFINITY, 0.0_f64), |(low, high), joules| (low.min(joules), high.max(joules)));
    if low > high {
        return "No combination has a launch".to_owned();
    }
    format!("The slip energy of a launch is {} to {}\u{a0}kJ", figures(low / 1e3, 2), figures(high / 1e3, 2))
}

/// From where to where the lives go of those that fit.
pub(crate) fn lives(sweep: &Sweep) -> String {
    let of = |fit: bool| sweep.rows.iter().map(|row| &row.summary).filter(move |s| s.fault().is_none() == fit);
    let (unfit, all) = (of(false).count(), sweep.rows.len());
    let said = |summaries: &mut dyn Iterator<Item = &Summary>| {
        let lives = summaries.filter_map(|s| s.running.or(s.life));
        let (low, high) = lives.fold((f64::INFINITY, 0.0_f64), |(low, high), life| (low.min(life), high.max(life)));
        if low > high {
            "and no part wears measurably".to_owned()
        } else {
            format!("with lives of {}", say::times(low, high))
        }
    };
    match unfit {
        0 => format!("All {all} combinations fit, {}", said(&mut of(true))),
        n if n == all => format!("None of {all} combinations fits, {}", said(&mut of(false))),
        n if n + 1 == all => format!("One of {all} combinations fits, {}", said(&mut of(true))),
        n => format!("{} of {all} combinations fit, {}", all - n, said(&mut of(true))),
    }
}
