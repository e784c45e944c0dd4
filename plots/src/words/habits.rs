//! One machine under several duties, for example oiling habits: effects on its oil and its life.

use crate::sheet::axis::extent;
use crate::words::cautions::OILED;
use crate::words::compared::{about, alike, fill, life, longest_first, peak, quoted, share};
use crate::words::dose;
use crate::words::fault::{effect, leave_wrong_oils, most_over};
use crate::words::reading::{end, name};
use crate::words::say;
use crate::words::say::tenths_of_percent;
use crate::words::text::Words;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::{Channel, Supply};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run, Warned};
use slipsoak_engine::units::HOUR;
use std::collections::BTreeSet;

/// Difference of oil fills up to which they count as equal.
const SAME_FILL: f64 = 0.002;

/// Sentences on one machine under several duties. Duties are not a choice, so none is called best. Oiling habits are a
/// choice: if they differ more in oil than in wear, oil is reported.
pub(crate) fn under_several(record: &Record) -> Vec<Words> {
    let runs: Vec<&Run> = longest_first(&record.runs.iter().collect::<Vec<_>>());
    let faulty: Vec<&Run> = record.runs.iter().filter(|run| run.own_fault().is_some()).collect();
    let mut fills: Vec<(&Run, f64)> = record.runs.iter().filter_map(|run| Some((run, fill(run)?))).collect();
    leave_wrong_oils(&mut fills, |(run, _)| *run);
    fills.sort_by(|a, b| b.1.total_cmp(&a.1));
    let ratio = match (runs.first(), runs.last()) {
        (Some(long), Some(short)) if life(short) > 0.0 && life(long).is_finite() => life(long) / life(short),
        _ => 1.0,
    };
    let (full, dry) = (fills.first().map_or(1.0, |f| f.1), fills.last().map_or(1.0, |f| f.1));
    let oil = full - dry > SAME_FILL && (1.0 - dry) / (1.0 - full).max(1e-3) > ratio;
    let mut said = vec![];
    if !faulty.is_empty() {
        let faults: BTreeSet<Fault> = faulty.iter().filter_map(|run| run.own_fault()).collect();
        let mut words = Words::from("Not fit for ");
        for (k, given) in faults.iter().enumerate() {
            let among: Vec<&Run> = faulty.iter().copied().filter(|run| run.own_fault() == Some(*given)).collect();
            let names = quoted(&among, |run| run.duty.clone());
            // There is one machine, whatever the number of duties.
            words = words.plain(format!("{}{names}, where it ", if k == 0 { "" } else { "; nor for " }));
            words = words.plain(effect(*given, &among, true));
        }
        said.push(words.plain("."));
    }
    let short = too_short(record);
    if oil {
        said.push(most_oil(record, &fills, if short { &[] } else { &runs }));
    } else if !short {
        said.push(lives_under(&runs));
    }
    said.extend(short.then(|| not_ranked(record)));
    said.extend(grip_lost(record));
    // The fills of habits that are compared by them are said already.
    said.push(Words::from(if oil { hottest(record).join("; ") } else { hottest_and_driest(record) }).sentence());
    said
}

/// How often a run of habits may be carried on to the end of its life. Assumed.
const CARRIED: f64 = 10.0;

/// Whether one machine's duties differ in their oil, and are too short to rank by life: lives are carried on from the run, and no run
/// gets to where its oil is due for service, or it is carried on too far.
pub(crate) fn too_short(record: &Record) -> bool {
    let oiled = |run: &Run| [Supply::Drops, Supply::Grease].map(|one| run.supplies.get(&one).copied().unwrap_or(0.0));
    let Some((first, rest)) = record.runs.split_first() else { return false };
    let habits =
        rest.iter().all(|run| run.variant == first.variant) && rest.iter().any(|run| oiled(run) != oiled(first));
    let carried = |run: &Run| end(run).filter(|end| end.calendar > run.duration);
    let far = |run: &Run| carried(run).is_some_and(|end| end.running > CARRIED * run.running_time);
    habits
        && record.runs.iter().any(|run| carried(run).is_some())
        && (record.runs.iter().any(far) || !record.runs.iter().any(came_due))
}

/// Running time from which habits are carried on, in words: that of the longest run.
pub(crate) fn run_for(record: &Record) -> String {
    say::time(record.runs.iter().map(|run| run.running_time).fold(0.0, f64::max))
}

/// Whether the oil of a run reaches where its service is due.
fn came_due(run: &Run) -> bool {
    let level = run.setting(&settings::limits::oil_service);
    run.horizon.as_ref().is_some_and(|horizon| horizon.service_due.is_some())
        || fill(run).zip(level).is_some_and(|(fill, level)| fill <= level)
}

/// Length to which shorter duties are to be repeated, s. Assumed.
const REPEATED: f64 = 2000.0 * HOUR;

/// Whether duties of that length or longer are so well oiled that no oil of theirs is due for service.
pub(crate) fn never_due(record: &Record) -> bool {
    record.runs.iter().any(|run| run.duration >= REPEATED) && !record.runs.iter().any(came_due)
}

/// Why habits are not ranked by life, and what to do for that.
fn not_ranked(record: &Record) -> Words {
    let running = run_for(record);
    Words::from(if never_due(record) {
        format!(
            "Under none of these habits did the oil reach its service within {running} of running, so that they are not ranked by life."
        )
    } else if record.runs.iter().any(|run| run.duration >= REPEATED) {
        format!(
            "{running} of running does not show which habit lasts longest, since parts wear out more than ten times later: repeat the duty for longer."
        )
    } else {
        format!(
            "So short a run, {running} of running, does not show which habit lasts longest: repeat the duty, `duty(…).repeated(2000.hours)`."
        )
    })
}

/// The duty under which oil takes most of the lining's grip, and how much; none where it hardly takes any.
fn grip_lost(record: &Record) -> Option<Words> {
    let lost = |run: &Run| run.grip.map(|left| left.map(|share| 1.0 - share));
    let all = record.runs.iter().filter_map(|run| Some((run, lost(run)?)));
    let (run, [most, end]) = all.max_by(|a, b| a.1[0].total_cmp(&b.1[0])).filter(|(_, lost)| lost[0] > 1.0 - OILED)?;
    let words = Words::from(format!("Under “{}” oil on the lining takes up to ", run.duty)).strong(say::percent(most));
    Some(words.plain(format!(
        " of its grip, {} at the end: an oiled clutch slips, heats and may not hold.",
        say::percent(end)
    )))
}

/// Life under each duty, the longest first.
fn lives_under(runs: &[&Run]) -> Words {
    let (Some(long), Some(short)) = (runs.first(), runs.last()) else { return Words::default() };
    let (Some(most), Some(least)) = (end(long), end(short)) else {
        return match end(short) {
            Some(least) => {
                let words = Words::from(format!("Under “{}” it lasts ", short.duty)).strong(about(&least, false));
                words.plain(format!(", until {}; under “{}” no life is known.", least.what(), long.duty))
            }
            None => "No part wears measurably in these duties.".into(),
        };
    };
    if alike(most.running, least.running) {
        return Words::from("It lasts alike under all duties, ")
            .strong(about(&least, false))
            .plain(format!(", until {}.", least.what()));
    }
    let near: Vec<&Run> = runs.iter().copied().filter(|run| alike(life(run), most.running)).collect();
    let under = quoted(&near, |run| run.duty.clone());
    let words = Words::from(format!("Under {under} it lasts ")).strong(about(&most, false));
    let until = format!(", until {}", most.what());
    let end = if most.part == least.part { String::new() } else { format!(", when {}", least.what()) };
    words.plain(format!(
        "{until}; under “{}” {}{end}, {} of that.",
        short.duty,
        say::lasts(least.running),
        share(least.running / most.running)
    ))
}

/// Ratio of lives up to which habits differ little in wear.
const LITTLE: f64 = 1.25;

/// Share of its dry friction to which oil may bring a lining under a habit that is named for what it keeps. Assumed.
const GRIP: f64 = 0.75;

/// The habit that keeps most oil, compared with the next and the reference.
fn most_oil(record: &Record, fills: &[(&Run, f64)], lives: &[&Run]) -> Words {
    // What takes the lining's grip is no habit to name for its oil, unless all do.
    let grips = |f: &&(&Run, f64)| f.0.grip.is_none_or(|[least, _]| least > GRIP);
    let Some(most) = fills.iter().find(grips).or(fills.first()) else { return Words::default() };
    let slips = !grips(&most);
    let near = fills.iter().filter(|f| (most.1 - f.1).abs() <= SAME_FILL && (slips || grips(f)));
    let near: Vec<&Run> = near.map(|f| f.0).collect();
    let next = fills.iter().find(|f| most.1 - f.1 > SAME_FILL);
    // A larger dose leaves the bushing fuller, and more of it on the ground.
    let cost = next.filter(|_| near.len() == 1).and_then(|next| dose::cost(most.0, next.0));
    let verb = match (near.len(), fills.len()) {
        _ if cost.is_some() => "leaves the bushing fuller: ",
        (1, 2) => "keeps more oil: ",
        (1, _) => "keeps most oil: ",
        _ => "keep most oil, alike: ",
    };
    let words = Words::from(quoted(&near, |run| run.duty.clone())).plain(format!(" {verb}"));
    let mut words = words.strong(tenths_of_percent(most.1)).plain(" of a full bushing at the end");
    if let Some(next) = next {
        words = words.plain(format!(", against {} with “{}”", tenths_of_percent(next.1), next.0.duty));
        if let Some(first) = record.runs.first()
            && first.duty != next.0.duty
            && let Some(own) = fills.iter().find(|f| f.0.duty == first.duty && most.1 - f.1 > SAME_FILL)
        {
            words = words.plain(format!(" and {} with “{}”", tenths_of_percent(own.1), first.duty));
        }
    }
    if let Some(cost) = cost {
        words = words.plain(format!(", but {cost}"));
    }
    match (lives.first().and_then(|run| end(run)), lives.last().and_then(|run| end(run))) {
        (Some(long), Some(short)) if long.running > LITTLE * short.running => words.plain(format!(
            "; under “{}” {} after {} of running, under “{}” {} after {}.",
            lives[0].duty,
            long.what(),
            say::lasts(long.running),
            lives[lives.len() - 1].duty,
            short.what(),
            say::lasts(short.running)
        )),
        (Some(long), Some(short)) if !alike(long.running, short.running) => words.plain(format!(
            "; wear differs little: {} after {} of running.",
            short.what(),
            say::times(short.running, long.running)
        )),
        (Some(long), Some(short)) if say::lasts(long.running) != say::lasts(short.running) => words.plain(format!(
            "; wear hardly differs: {} after {} of running.",
            short.what(),
            say::times(short.running, long.running)
        )),
        (Some(long), _) => words.plain(format!(
            "; wear does not differ: {} after {} of running.",
            long.what(),
            say::lasts(long.running)
        )),
        _ => words.plain("."),
    }
}

/// The part that exceeds its limit by most, and the highest lining temperature with its limit.
fn hottest(record: &Record) -> Vec<String> {
    let several = record.runs.len() > 1;
    let lining = |run: &Run| peak(run, Channel::LiningSurface);
    let hottest = |a: &&Run, b: &&Run| lining(a).unwrap_or(0.0).total_cmp(&lining(b).unwrap_or(0.0));
    let Some(hot) = record.runs.iter().max_by(hottest) else { return vec![] };
    let reaches = |part: &str, peak: f64, run: &Run| {
        let which = if several { format!(" (“{}”)", name(record, run)) } else { String::new() };
        format!("{part} reaches {}{which}", say::temperature(peak))
    };
    let mut said = vec![];
    // The part that exceeds its limit by most comes first.
    let over = record.runs.iter().filter_map(|run| Some((run, most_over(run)?)));
    let worst = over.max_by(|a, b| (a.1.2 - a.1.3).total_cmp(&(b.1.2 - b.1.3)));
    if let Some((run, (_, part, value, limit))) = worst.filter(|(_, (kind, ..))| *kind != Warned::Lining) {
        said.push(format!("the {}, above its limit of {}", reaches(part, value, run), say::temperature(limit)));
    }
    if let (Some(hottest), Some(limit)) = (lining(hot), hot.setting(&settings::limits::lining_most)) {
        let side = if hottest > limit { "above" } else { "below" };
        let steady =
            hot.setting(&settings::limits::lining_steady).filter(|steady| hottest > *steady && hottest <= limit);
        let steady = steady.map_or_else(String::new, |steady| {
            format!("above its continuous limit of {} and ", say::temperature(steady))
        });
        let lining = reaches("lining", hottest, hot);
        said.push(format!("the {lining}, {steady}{side} its limit of {}", say::temperature(limit)));
    }
    said
}

/// As [`hottest`], and the remaining oil.
pub(crate) fn hottest_and_driest(record: &Record) -> String {
    let mut said = hottest(record);
    let fills: Vec<f64> = record.runs.iter().filter_map(fill).collect();
    if !fills.is_empty() {
        let (dry, full) = extent(fills);
        let left = if full - dry > SAME_FILL {
            format!("{} to {}", tenths_of_percent(dry), tenths_of_percent(full))
        } else {
            tenths_of_percent(dry)
        };
        said.push(format!("at the end the bushing's pores hold {left} of their oil"));
    }
    said.join("; ")
}
