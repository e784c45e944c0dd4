//! What figures of parts say, in one short sentence each: peaks, what rest does, what wears out first, the gap.

use crate::words::compared::{fill, peak};
use crate::words::dose;
use crate::words::fault::leave_wrong_oils;
use crate::words::number::{figures, number};
use crate::words::reading::{end, endless, ends, name};
use crate::words::say;
use crate::words::text::listed;
use slipsoak_engine::names::{Channel, MomentOf, Part};
use slipsoak_engine::numerics::along;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::THOU;
use std::cmp::Reverse;

/// Least and greatest of some values; none of none.
fn range(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values.filter(|value| value.is_finite()).fold(None, |range, value| {
        let (low, high) = range.unwrap_or((value, value));
        Some((f64::min(low, value), f64::max(high, value)))
    })
}

/// In how many of some runs, for a sentence on all of them: nothing of a single one.
fn among(some: usize, all: usize) -> String {
    match (some, all) {
        (1, 1) => String::new(),
        (2, 2) => " in both runs".to_owned(),
        (some, all) if some == all => format!(" in all {all} runs"),
        (some, all) => format!(" in {some} of {all} runs"),
    }
}

/// How hot the lining gets, beside its limit.
pub(crate) fn hottest(record: &Record) -> String {
    let hot = |run: &Run| peak(run, Channel::LiningSurface);
    let Some((low, high)) = range(record.runs.iter().filter_map(hot)) else {
        return "Temperatures of the parts".to_owned();
    };
    let limit = |run: &Run| run.setting(&settings::limits::lining_most);
    let over = |run: &&Run| hot(run).zip(limit(run)).is_some_and(|(hot, limit)| hot > limit);
    let (over, all) = (record.runs.iter().filter(over).count(), record.runs.len());
    let common = range(record.runs.iter().filter_map(limit)).filter(|(low, high)| low == high);
    let its = common.map_or_else(|| "its limit".to_owned(), |(at, _)| format!("its limit of {}", say::temperature(at)));
    let beside = match over {
        0 if record.runs.iter().all(|run| limit(run).is_none()) => String::new(),
        0 => format!(", within {its}"),
        some => format!(", over {its}{}", among(some, all)),
    };
    format!("The lining peaks at {}{beside}", say::temperatures(low, high))
}

/// What the rest after the stop does to the bushing.
pub(crate) fn rested(record: &Record) -> String {
    let rise = |run: &Run| {
        let at = |what: &[MomentOf]| {
            let all = run.moments.iter().filter(|moment| what.contains(&moment.what));
            range(all.map(|moment| Channel::Bushing.of(&moment.values))).map(|range| range.1)
        };
        Some(at(&[MomentOf::After2Min, MomentOf::After30Min])? - at(&[MomentOf::MotorOff])?)
    };
    match range(record.runs.iter().filter_map(rise)) {
        None => hottest(record),
        Some((_, high)) if high <= 0.0 => "After the stop the bushing gets no warmer".to_owned(),
        // So little may show as one degree, or as none.
        Some((_, high)) if high < 1.0 => "After the stop the bushing hardly gets warmer".to_owned(),
        Some((low, high)) => format!("After the stop the bushing warms by {}", say::warmer(low.max(0.0), high)),
    }
}

/// Which part is at its limit first, and in how many runs.
pub(crate) fn first_worn(record: &Record) -> String {
    let first = |run: &Run| end(run).map(|end| end.part);
    let all = record.runs.len();
    let mut parts: Vec<(Part, usize)> = vec![];
    for part in record.runs.iter().filter_map(first) {
        match parts.iter_mut().find(|known| known.0 == part) {
            Some(known) => known.1 += 1,
            None => parts.push((part, 1)),
        }
    }
    parts.sort_by_key(|(_, count)| Reverse(*count));
    let said: Vec<String> = parts
        .iter()
        .enumerate()
        .map(|(k, (part, count))| match k {
            0 => format!("{} first{}", ends(*part), among(*count, all)),
            _ => format!("in {count} {}", ends(*part)),
        })
        .collect();
    let missing: Vec<&Run> = record.runs.iter().filter(|run| end(run).is_none()).collect();
    let without = |what: &str| missing.iter().filter(|run| endless(run) == what).count();
    let rest = match (without("beyond the model"), missing.len()) {
        (_, 0) => String::new(),
        (beyond, some) if beyond == some => format!("{some} beyond the model"),
        (_, some) => format!("none in {some}"),
    };
    match (said.is_empty(), rest.is_empty()) {
        (true, _) if rest.ends_with("model") => {
            if all == 1 { "The run is beyond the model: no life" } else { "All runs are beyond the model: no lives" }
                .to_owned()
        }
        (true, _) => "No part wears measurably".to_owned(),
        (false, true) => capital(&said.join(", ")),
        (false, false) => capital(&format!("{}, {rest}", said.join(", "))),
    }
}

/// Running time until the first part is worn out, or of the run if none is, s.
pub(crate) fn until(run: &Run) -> f64 {
    let lasted = range(run.windows.running.iter().copied()).map_or(0.0, |range| range.1).max(1.0);
    end(run).map_or(lasted, |end| end.running).max(lasted)
}

/// Wear of the washer and, once it is gone, of the bushing's face, after some running time, m: as simulated, then at the rate
/// of the later half.
pub(crate) fn face_worn(run: &Run, after: f64) -> f64 {
    let rows = run.windows.running.iter().copied().zip(run.windows.most.iter().map(|row| Channel::WasherWear.of(row)));
    let course: Vec<(f64, f64)> = rows.filter(|p| p.0.is_finite() && p.1.is_finite()).collect();
    let Some((last, half)) = course.last().zip(course.get(course.len() / 2)) else { return 0.0 };
    let rate = if last.0 > half.0 { (last.1 - half.1).max(0.0) / (last.0 - half.0) } else { last.1 / last.0.max(1.0) };
    if after < last.0 { along(&course, after) } else { last.1 + rate * (after - last.0) }
}

/// What wear takes from the gap under the cover until the first part is worn out, as far as its constant is known.
pub(crate) fn gap(record: &Record) -> String {
    let size = |run: &Run| Some(run.setting(&settings::cover::proud)? + run.setting(&settings::washer::thickness)?);
    let worn = |run: &Run| (size(run).is_some()).then(|| face_worn(run, until(run))).filter(|worn| worn.is_finite());
    let most = record.runs.iter().filter_map(|run| Some((worn(run)?, size(run)?, run)));
    let Some((taken, gap, run)) = most.max_by(|a, b| a.0.total_cmp(&b.0)) else {
        return "Gap under the cover".to_owned();
    };
    let whole = format!("{} mm ({} thou)", number(1e3 * gap, 0.01), number(gap / THOU, 1.0));
    if 1e6 * taken < 0.5 {
        return format!("Wear leaves the gap of {whole} as it is");
    }
    let several = record.runs.len() > 1;
    let when = match (record.runs.iter().any(|run| end(run).is_some()), several) {
        (false, _) => "In the time simulated",
        (true, false) => "Until the first part is worn out,",
        (true, true) => "Until each run's first part is worn out,",
    };
    let mm = |metres: f64| figures(1e3 * metres.min(gap), 2);
    let worst = run.life_factor(Part::Washer).unwrap_or(1.0) * taken;
    let washer = run.setting(&settings::washer::thickness).filter(|washer| worst > *washer);
    let through =
        washer.map_or_else(String::new, |washer| format!(", of which the washer is {} mm", number(1e3 * washer, 0.01)));
    // How much, and what follows where the range reaches too far.
    let (range, open) = match run.life_factor(Part::Washer) {
        Some(_) if taken >= gap => {
            let known = Part::Washer.constant().is_some_and(|p| run.knows(p).is_some());
            (String::new(), format!(", if its {} constant holds", if known { "learned" } else { "assumed" }))
        }
        Some(factor) if factor * taken >= gap => (format!(" ({} mm to all)", mm(taken / factor)), String::new()),
        Some(factor) => {
            let least = record.runs.iter().filter_map(|run| run.setting(&settings::limits::cover_gap)).reduce(f64::max);
            let (least_taken, most_taken) = (mm(taken / factor), mm(taken * factor));
            let touches = least.filter(|least| gap - taken >= *least && gap - factor * taken < *least);
            let short = touches.map_or("", |_| "; at the upper end less is left than is required");
            (format!(" ({least_taken} to {most_taken} mm)"), short.to_owned())
        }
        None => (String::new(), String::new()),
    };
    let up_to = if several { "up to " } else { "" };
    let part = if taken < gap { format!("about {} mm", mm(taken)) } else { "all".to_owned() };
    format!("{when} wear takes {up_to}{part}{range} of the gap of {whole}{through}{open}")
}

/// Oil fill from which a bushing counts as full.
const FULL: f64 = 0.995;

/// Where the drops put on end.
pub(crate) fn drops(record: &Record, kept: &[(usize, f64)]) -> String {
    // A full bushing takes none.
    let share = |share: f64| if share < 0.005 { "hardly any".to_owned() } else { say::percent(share) };
    let mut sorted = kept.to_vec();
    leave_wrong_oils(&mut sorted, |(k, _)| &record.runs[*k]);
    sorted.sort_by(|a, b| b.1.total_cmp(&a.1));
    let full = record.runs.iter().filter_map(fill).all(|fill| fill >= FULL);
    if let Some(said) = larger_dose(record, &sorted) {
        return said;
    }
    match sorted[..] {
        // Which habit is kept most of then depends only on when the duty ends.
        [(_, most), .., (_, least)] if full => {
            let kept =
                if share(most) == share(least) { share(most) } else { format!("{} to {}", share(least), share(most)) };
            format!("The bushing is full each time: it keeps {kept} of the oil put on")
        }
        [] => match range(record.runs.iter().filter_map(fill)) {
            Some((low, high)) if share(low) != share(high) => {
                format!(
                    "No oil is put on; at the end the bushing holds {} to {}",
                    share(low).trim_end_matches(['%', '\u{a0}']),
                    share(high)
                )
            }
            Some((low, _)) => format!("No oil is put on; at the end the bushing holds {}", share(low)),
            None => "No oil is put on".to_owned(),
        },
        // A bushing that was nearly full gave up more than the drops brought: no share of them can be said to stay.
        [(_, most), ..] if share(most) == share(0.0) => fills(record),
        [(_, one)] => format!("Of the oil put on, {} stays", share(one)),
        [(_, most), .., (_, least)] if share(most) == share(least) => {
            format!("Of the oil put on, {} stays each time", share(most))
        }
        [(_, most), .., (_, least)] => {
            let with = |of: f64| with_that(record, &sorted, |one| share(one) == share(of));
            format!(
                "Of the oil put on, {} stays with {}, {} with {}",
                share(most),
                with(most),
                share(least),
                with(least)
            )
        }
    }
}

/// The habit with the fullest bushing, if that is by a larger dose of which less stays than of the smaller one.
fn larger_dose(record: &Record, kept: &[(usize, f64)]) -> Option<String> {
    let all = kept.iter().filter_map(|(k, kept)| Some((&record.runs[*k], *kept, fill(&record.runs[*k])?)));
    let mut sorted: Vec<(&Run, f64, f64)> = all.collect();
    sorted.sort_by(|a, b| b.2.total_cmp(&a.2));
    let (most, next) = (sorted.first()?, sorted.get(1)?);
    let [high, low] = [most, next].map(|one| say::tenths_of_percent(one.2));
    let cost = dose::cost(most.0, next.0).filter(|_| most.1 < next.1 && high != low)?;
    let [larger, smaller] = [most, next].map(|one| name(record, one.0));
    Some(format!("“{larger}” leaves the bushing fuller, {high} against {low} with “{smaller}”, but {cost}"))
}

/// The runs that have a value like this, of which none is named as the better.
fn with_that(record: &Record, all: &[(usize, f64)], alike: impl Fn(f64) -> bool) -> String {
    let names = all.iter().filter(|one| alike(one.1)).map(|(k, _)| format!("“{}”", name(record, &record.runs[*k])));
    let names: Vec<String> = names.collect();
    if names.len() > 2 { format!("{} of {} runs", names.len(), all.len()) } else { listed(&names) }
}

/// What the bushing holds at the end, the most and the least of the runs, but for those with a wrong oil.
fn fills(record: &Record) -> String {
    let all = record.runs.iter().enumerate().filter_map(|(k, run)| Some((k, fill(run)?)));
    let mut sorted: Vec<(usize, f64)> = all.collect();
    leave_wrong_oils(&mut sorted, |(k, _)| &record.runs[*k]);
    sorted.sort_by(|a, b| b.1.total_cmp(&a.1));
    let said = |share: f64| format!("{}\u{a0}%", figures(100.0 * share, 3));
    let with = |of: f64| with_that(record, &sorted, |one| said(one) == said(of));
    match sorted[..] {
        [] => "Oil of the bushing".to_owned(),
        [(_, most), .., (_, least)] if said(most) != said(least) => format!(
            "At the end the pores hold {} with {}, {} with {}",
            said(most),
            with(most),
            said(least),
            with(least)
        ),
        [(_, one), ..] => format!("At the end the pores hold {}", said(one)),
    }
}

/// With a capital.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
