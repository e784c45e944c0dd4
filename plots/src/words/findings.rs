//! What the figures of a study say, in one short sentence each: made from the same data.

use crate::words::compared::{alike, by_duty, kind_of_variants, life, longest_first, peak, quoted};
use crate::words::fault::{in_brief, unfit};
use crate::words::habits::{never_due, run_for, too_short};
use crate::words::reading::{end, name, reference};
use crate::words::say;
use crate::words::text::listed;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::{Channel, distinct};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Warned};
use slipsoak_engine::units::in_rpm;

/// The longest-lived of these runs whose machine may be fitted.
pub(crate) fn longest_that_fits<'a>(record: &Record, runs: &[&'a Run]) -> Option<&'a Run> {
    longest_first(runs).into_iter().find(|run| end(run).is_some() && unfit(record, run).is_none())
}

/// Machines of a record without repetition.
fn machines(record: &Record) -> usize {
    distinct(record.runs.iter().map(|run| run.variant.as_str())).len()
}

/// Which run lasts longest, and how long.
pub(crate) fn longest(record: &Record) -> String {
    let lasts = |run: &Run| end(run).map_or_else(String::new, |end| say::lasts(end.running));
    let about = |run: &Run| end(run).map_or_else(String::new, |end| say::about(end.running));
    let all: Vec<&Run> = record.runs.iter().collect();
    if let [run] = all[..] {
        return end(run).map_or_else(
            || "No part wears measurably".to_owned(),
            |end| match unfit(record, run) {
                Some(fault) => format!("It is unfit ({}); it lasts {}", in_brief(fault), say::about(end.running)),
                None => format!("It lasts {}, until {}", say::about(end.running), end.what()),
            },
        );
    }
    if too_short(record) && never_due(record) {
        return format!("Under no habit did the oil reach its service within {} of running", run_for(record));
    }
    if too_short(record) {
        return format!("Too short to rank habits of oiling by life: {} of running", run_for(record));
    }
    if machines(record) == 1 {
        let sorted: Vec<&Run> = longest_first(&all).into_iter().filter(|run| end(run).is_some()).collect();
        let (Some(long), Some(short)) = (sorted.first(), sorted.last()) else {
            return "No part wears measurably under any duty".to_owned();
        };
        let faults: Vec<Option<Fault>> = all.iter().map(|run| unfit(record, run)).collect();
        let unfit = match faults[0].filter(|first| faults.iter().all(|fault| *fault == Some(*first))) {
            Some(fault) => format!(", but it is unfit ({})", in_brief(fault)),
            None => String::new(),
        };
        if alike(life(long), life(short)) {
            let duties = if all.len() == 2 { "both".to_owned() } else { format!("all {}", all.len()) };
            let (low, high) = (end(short), end(long));
            let lives = low.zip(high).map_or_else(String::new, |(low, high)| say::times(low.running, high.running));
            return format!("Under {duties} duties it lasts alike, {lives}{unfit}");
        }
        let (long_name, short_name) = (name(record, long), name(record, short));
        return format!("It lasts {} under “{short_name}”, {} under “{long_name}”{unfit}", lasts(short), lasts(long));
    }
    let [one, many] = kind_of_variants(record);
    let duties = by_duty(record);
    let best: Vec<Option<&Run>> = duties.iter().map(|(_, runs)| longest_that_fits(record, runs)).collect();
    let known: Vec<&Run> = best.iter().flatten().copied().collect();
    let Some(first) = known.first() else {
        return format!("None of the {} {many} fits", machines(record));
    };
    if duties.len() > 1 {
        let all_fit = |machine: &str| {
            all.iter()
                .filter(|run| run.variant == machine)
                .all(|run| end(run).is_some() && unfit(record, run).is_none())
        };
        if !all.iter().any(|run| all_fit(&run.variant)) {
            return format!("No {one} fits under all {} duties", duties.len());
        }
        let same = best.iter().all(|run| run.is_some_and(|run| run.variant == first.variant));
        return if same {
            format!("Under each of {} duties “{}” lasts longest of the {many} that fit", duties.len(), first.variant)
        } else {
            format!("No {one} is best under all {} duties", duties.len())
        };
    }
    let group: Vec<&Run> =
        all.iter().copied().filter(|run| unfit(record, run).is_none() && alike(life(run), life(first))).collect();
    if group.len() > 1 {
        return format!("{} last alike, {}", quoted(&group, |run| name(record, run)), about(first));
    }
    if all.iter().filter(|run| unfit(record, run).is_none()).count() == 1 {
        return format!("Only “{}” fits; it lasts {}", name(record, first), about(first));
    }
    let usual = all.iter().copied().find(|run| reference(record, run) && !std::ptr::eq(*run, *first));
    let against = usual.filter(|run| end(run).is_some()).map_or_else(String::new, |run| {
        let but = unfit(record, run).map_or("", |_| " but is unfit");
        format!(", “{}” {}{but}", name(record, run), lasts(run))
    });
    format!("Of the {many} that fit “{}” lasts longest, {}{against}", name(record, first), about(first))
}

/// Difference of two peaks that is none, K.
const SAME: f64 = 3.0;

/// Which machine keeps the lining coolest, or under which duty it is hottest, and how many linings and bushings exceed their limits.
pub(crate) fn coolest(record: &Record) -> String {
    let hot = |run: &Run| peak(run, Channel::LiningSurface).unwrap_or(f64::INFINITY);
    let all = record.runs.len();
    let lining = |run: &&Run| run.setting(&settings::limits::lining_most).is_some_and(|limit| hot(run) > limit);
    let linings = record.runs.iter().filter(lining).count();
    let bushings = record.runs.iter().filter(|run| run.warned(Warned::Bushing).is_some()).count();
    let steady = |run: &&Run| run.setting(&settings::limits::lining_steady).is_some_and(|limit| hot(run) > limit);
    // A lining that is as hot only in launches wears faster, and is not unfit.
    let steady = match record.runs.iter().filter(steady).count() {
        0 => String::new(),
        some if some == all => " (all the continuous one)".to_owned(),
        some => format!(" ({some} of {all} the continuous one)"),
    };
    let beyond = match (linings, bushings) {
        (0, 0) if steady.is_empty() => "no lining and no bushing exceeds its limit".to_owned(),
        (0, 0) => format!("no lining exceeds its limit{steady}, and no bushing"),
        (0, 1) => format!("no lining exceeds its limit{steady}, 1 of {all} bushings does"),
        (0, many) => format!("no lining exceeds its limit{steady}, {many} of {all} bushings do"),
        (1, 0) => format!("1 of {all} linings exceeds its limit, no bushing does"),
        (many, 0) => format!("{many} of {all} linings exceed their limit, no bushing does"),
        (many, more) => format!("{many} of {all} linings and {more} of {all} bushings exceed their limits"),
    };
    let by_heat = |a: &&Run, b: &&Run| hot(a).total_cmp(&hot(b));
    if machines(record) == 1 {
        let hottest = record.runs.iter().max_by(by_heat);
        let coolest = record.runs.iter().map(hot).fold(f64::INFINITY, f64::min);
        if record.runs.len() > 1 && hottest.is_some_and(|run| hot(run) - coolest < SAME) {
            return format!("The lining grows as hot under each; {beyond}");
        }
        return hottest.map_or_else(String::new, |run| {
            format!("The lining grows hottest under “{}”; {beyond}", name(record, run))
        });
    }
    let each = by_duty(record).into_iter().filter_map(|(_, runs)| runs.into_iter().min_by(by_heat));
    match distinct(each.map(|run| run.variant.as_str())).as_slice() {
        [one] => {
            let fault = record.runs.iter().filter(|run| run.variant == *one).find_map(|run| unfit(record, run));
            let but = fault.map_or_else(String::new, |fault| format!(", which does not fit ({})", in_brief(fault)));
            format!("The lining stays coolest with “{one}”{but}; {beyond}")
        }
        _ => format!("The duty decides with which of them the lining stays coolest; {beyond}"),
    }
}

/// Where heat goes, in the order of its groups.
pub(crate) const HEAT: [&str; 4] = ["stays in the parts", "leaves by the air", "is radiated", "goes to the motor"];

/// Which way takes most of the heat, from each run's shares of the ways of [`HEAT`]; where it is not one way in all, in how many runs
/// each does.
pub(crate) fn heat(shares: &[[f64; 4]]) -> String {
    let greatest = |run: &[f64; 4]| (0..4).max_by(|a, b| run[*a].total_cmp(&run[*b])).filter(|way| run[*way] > 0.0);
    let ways: Vec<usize> = shares.iter().filter_map(greatest).collect();
    let mut led: Vec<(usize, usize)> = distinct(ways.iter().copied())
        .into_iter()
        .map(|way| (ways.iter().filter(|w| **w == way).count(), way))
        .collect();
    led.sort_by_key(|(runs, _)| std::cmp::Reverse(*runs));
    let Some((_, way)) = led.first().copied() else { return "Without friction no heat flows".to_owned() };
    if led.len() > 1 {
        let each = led.iter().map(|(runs, way)| format!("{} in {runs}", HEAT[*way])).collect::<Vec<_>>();
        return format!("The largest share of the heat {} of {} runs", listed(&each), ways.len());
    }
    let of = shares.iter().map(|run| (100.0 * run[way]).round());
    let (low, high) = of.fold((f64::INFINITY, 0.0_f64), |(low, high), share| (low.min(share), high.max(share)));
    let share = if low < high { format!("{low} to {high}") } else { format!("{high}") };
    format!("Most of the heat, {share}\u{a0}%, {}", HEAT[way])
}

/// How far from the nominal idle the clutches engage when new.
pub(crate) fn engaging(record: &Record) -> Option<String> {
    let over = |run: &Run| Some(in_rpm(run.engages()? - run.setting(&settings::motor::idle)?).round());
    let all = record.runs.iter().map(over).collect::<Option<Vec<f64>>>()?;
    let (low, high) = (all.iter().copied().reduce(f64::min)?, all.iter().copied().reduce(f64::max)?);
    let at = |over: f64, idle: &str| match over {
        0.0 => format!("at {idle}"),
        ..0.0 => format!("{:.0}\u{a0}rpm below {idle}", -over),
        _ => format!("{over:.0}\u{a0}rpm above {idle}"),
    };
    let idle = "the nominal idle";
    Some(match machines(record) {
        1 if low == high => format!("New, it engages {}", at(low, idle)),
        _ if low == high => format!("New, all engage {}", at(low, idle)),
        _ => format!("New, the clutches engage from {} to {}", at(low, idle), at(high, "it")),
    })
}
