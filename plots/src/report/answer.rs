//! The answer of a study: what to fit and by how much it is better, what not to fit and why, and how sure that is.
//!
//! Variants are ranked under each duty, never duties against each other. One that drags, overheats or is worn out within the hour
//! is not called best without that in the same sentence.

use super::Words;
use super::fault::{EARLY, Fault, does, fault, own};
use super::leaning::{off, sentence};
use super::number::percent;
use super::words::{listed, together};
use crate::reading::{End, end, name, setting};
use crate::warned::{DOUBTS, doubt};
use slipsoak_engine::record::{Record, Run, Warned};
use slipsoak_engine::say;

/// Lives whose longest is within this factor of their shortest are alike.
const ALIKE: f64 = 1.05;
/// Fills that lie this close together are alike.
const SAME_FILL: f64 = 0.002;
/// Rise of the bushing over the last quarter of a run from which on it counts as not yet warm, K.
const WARMING: f64 = 3.0;
/// Names in a sentence before the rest are only counted.
const NAMED: usize = 4;

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

/// What the runs of a record are called: one and several.
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

/// Whether the machines differ in their springs alone.
fn springs(record: &Record) -> bool {
    let Some(first) = record.runs.first() else { return false };
    let settings = |run: &Run| -> Vec<(String, f64)> {
        let rest = run.settings.iter().filter(|s| s.path != "clutch.engagement");
        rest.map(|s| (s.path.clone(), s.value)).collect()
    };
    let engages = |run: &Run| setting(run, "clutch.engagement");
    let differ = record.runs.iter().any(|run| engages(run) != engages(first));
    differ && record.runs.iter().all(|run| settings(run) == settings(first))
}

/// Limits that a run exceeds without being unfit for it, in words.
fn beside(run: &Run) -> Vec<&'static str> {
    let kinds = [
        (Warned::Bushing, "bushing"),
        (Warned::Washer, "washer"),
        (Warned::DryWasher, "dry washer"),
        (Warned::Springs, "spring wire"),
    ];
    kinds.into_iter().filter(|(kind, _)| run.warned(*kind).is_some()).map(|(_, words)| words).collect()
}

/// Two to four sentences; none for a record without runs.
pub fn answer(record: &Record) -> Vec<Words> {
    let mut said = verdict(record);
    if let Some(first) = record.runs.first() {
        said.push(basis(record, first));
    }
    said
}

/// The answer without how sure it is.
pub fn verdict(record: &Record) -> Vec<Words> {
    let Some(first) = record.runs.first() else { return vec![] };
    let mut variants: Vec<&str> = record.runs.iter().map(|r| r.variant.as_str()).collect();
    variants.sort_unstable();
    variants.dedup();
    let said = match (record.runs.len(), variants.len()) {
        (1, _) => alone(record, first),
        (_, 1) => under_several(record),
        _ => between(record),
    };
    said.into_iter().filter(|words| !words.is_empty()).collect()
}

/// How long a life is, as the answer says it.
fn about(end: &End<'_>, with_part: bool) -> String {
    let range = off(end.part).map(|f| say::times(end.running / f, end.running * f));
    let part = with_part.then(|| if end.part == "washer charring" { "washer chars" } else { end.part }.to_owned());
    let beside: Vec<String> = range.into_iter().chain(part).collect();
    let life = end.life();
    match (beside.is_empty(), life.strip_suffix(')')) {
        (true, _) => format!("about {life}"),
        (false, None) => format!("about {life} ({})", beside.join(", ")),
        (false, Some(open)) => format!("about {open}; {})", beside.join(", ")),
    }
}

/// One run: how long it lasts, or why it must not be ridden so; how hot and how dry.
fn alone(record: &Record, run: &Run) -> Vec<Words> {
    let mut said = vec![];
    if let Some(fault) = own(run) {
        let words = Words::from("Not fit for this duty: it ").and(does(fault, &[run], record)).plain(".");
        said.push(words);
    }
    match end(run) {
        Some(end) if end.running >= EARLY => {
            said.push(Words::from("It lasts ").strong(about(&end, false)).plain(format!(", until {}.", end.what())));
        }
        None if own(run).is_none() => said.push("No part wears measurably in this duty.".into()),
        _ => {}
    }
    said.push(hottest_and_driest(record));
    said
}

/// The runs of each duty, in order.
fn by_duty(record: &Record) -> Vec<(&str, Vec<&Run>)> {
    let mut all: Vec<(&str, Vec<&Run>)> = vec![];
    for run in &record.runs {
        match all.iter_mut().find(|known| known.0 == run.duty) {
            Some(known) => known.1.push(run),
            None => all.push((&run.duty, vec![run])),
        }
    }
    all
}

/// Variants in quotes, each once, at most a few by name.
fn quoted(runs: &[&Run], of: impl Fn(&Run) -> String) -> String {
    let mut names: Vec<String> = vec![];
    for run in runs {
        let name = format!("“{}”", of(run));
        if !names.contains(&name) {
            names.push(name);
        }
    }
    if let Some(names) =
        together(&names.iter().map(|name| name.trim_matches(['“', '”']).to_owned()).collect::<Vec<_>>())
    {
        return names;
    }
    if names.len() > NAMED {
        let more = names.len() + 1 - NAMED;
        names.truncate(NAMED - 1);
        names.push(format!("{more} more"));
    }
    listed(&names)
}

/// A run's life, of running, s; without end where nothing wears.
fn life(run: &Run) -> f64 {
    end(run).map_or(f64::INFINITY, |end| end.running)
}

/// Runs from the longest-lived.
fn longest_first<'a>(runs: &[&'a Run]) -> Vec<&'a Run> {
    let mut sorted: Vec<&Run> = runs.to_vec();
    sorted.sort_by(|a, b| life(b).total_cmp(&life(a)));
    sorted
}

/// A share of the best, in hundredths; two figures where it is small.
fn share(of: f64) -> String {
    if of < 0.095 { format!("{}\u{a0}%", say::figures(100.0 * of, 2)) } else { say::percent(of) }
}

/// Whether two lives are the same within what can be told.
fn alike(a: f64, b: f64) -> bool {
    a.max(b) <= ALIKE * a.min(b) || (a.is_infinite() && b.is_infinite())
}

/// Which variant to take: under the one duty, or under each and then in all.
fn between(record: &Record) -> Vec<Words> {
    let duties = by_duty(record);
    let faulty: Vec<&Run> = record.runs.iter().filter(|run| fault(run).is_some()).collect();
    let mut said = vec![every(record)];
    if faulty.len() == record.runs.len() {
        let [one, _] = kind(record);
        said = vec![format!("No {one} fits: each drags at idle, overheats or fails within the hour").into()];
    }
    if let [(_, runs)] = duties.as_slice() {
        let lead = said.pop().unwrap_or_default();
        let lead = if lead.is_empty() { lead } else { lead.plain(".") };
        let only = runs.iter().filter(|run| fault(run).is_none()).count() == 1;
        let tempting = tempting(record, runs);
        let of = if only || faulty.is_empty() { "" } else { "Of those that fit, " };
        // Said of the longest-lived already, where it must not be fitted.
        let rest: Vec<&Run> = match longest_first(runs).first() {
            Some(longest) if !tempting.is_empty() => {
                faulty.iter().copied().filter(|run| !std::ptr::eq(*run, *longest)).collect()
            }
            _ => faulty,
        };
        let unfit = unfit(record, &rest, tempting);
        let best = best(record, runs, "", of);
        said.extend(if best.is_empty() { [lead, unfit, best] } else { [best, unfit, lead] });
        said.retain(|words| !words.is_empty());
        return said;
    }
    if let Some(lead) = said.first_mut().filter(|lead| !lead.is_empty()) {
        *lead = std::mem::take(lead).plain(".");
    }
    // What drags under one duty is not fitted for another.
    let each = duties.iter().map(|(duty, runs)| {
        let runs: Vec<&Run> = runs.iter().copied().filter(|run| !drags(record, run)).collect();
        best(record, &runs, &format!("Under “{duty}”, "), "")
    });
    said.extend(each);
    said.push(in_all(record, &duties));
    said.push(unfit(record, &faulty, Words::default()));
    said.retain(|words| !words.is_empty());
    said
}

/// Limits that every run exceeds.
fn every(record: &Record) -> Words {
    let first: Vec<&str> = record.runs.first().map_or_else(Vec::new, beside);
    let shared: Vec<String> = first
        .into_iter()
        .filter(|limit| record.runs.iter().all(|run| beside(run).contains(limit)))
        .map(str::to_owned)
        .collect();
    if shared.is_empty() {
        return Words::default();
    }
    let [one, _] = kind(record);
    format!("Every {one} exceeds limits ({})", listed(&shared)).into()
}

/// Where one that must not be fitted would last longest, that it must not.
fn tempting(record: &Record, runs: &[&Run]) -> Words {
    let all = longest_first(runs);
    let (Some(longest), Some(next)) = (all.first(), all.iter().find(|run| fault(run).is_none())) else {
        return Words::default();
    };
    match (fault(longest), end(longest)) {
        (Some(fault), Some(end)) if !alike(life(longest), life(next)) => {
            let start = format!("Do not fit “{}” ({}, but ", longest.variant, say::time(end.running));
            Words::from(start).and(does(fault, &[longest], record)).plain(")")
        }
        _ => Words::default(),
    }
}

/// The best of some runs of one duty that are fit, held against the next and the reference.
fn best(record: &Record, runs: &[&Run], under: &str, of: &str) -> Words {
    let fit: Vec<&Run> = longest_first(runs).into_iter().filter(|run| fault(run).is_none()).collect();
    let Some(best) = fit.first() else {
        if under.is_empty() {
            return Words::default();
        }
        let [one, _] = kind_of_variants(record);
        return format!("{under}no {one} fits.").into();
    };
    let start = if under.is_empty() { of } else { under };
    let reference = record.reference.as_ref().or_else(|| record.runs.first().map(|run| &run.variant));
    let is_reference = |run: &Run| reference == Some(&run.variant);
    let Some(end) = end(best) else {
        return Words::from(start.to_owned()).plain(format!("“{}” wears no part measurably.", best.variant));
    };
    let group: Vec<&Run> = fit.iter().copied().filter(|run| alike(life(run), life(best))).collect();
    let only = fit.len() == 1 && runs.len() > 1;
    let mut words = Words::from(if only { under } else { start });
    let warned: Vec<&str> = {
        let shared = |limit: &&str| record.runs.iter().all(|run| beside(run).contains(limit));
        beside(best).into_iter().filter(|limit| !shared(limit)).collect()
    };
    let slips = best.warned(Warned::HeldSpeed).is_some().then(|| "it slips at the speed held".to_owned());
    let dry = best.warned(Warned::Dry).map(|w| format!("its oil is spent after {}", say::time(w.value)));
    let limits: Vec<String> = warned.into_iter().map(str::to_owned).collect();
    let limits = (!limits.is_empty()).then(|| format!("over limits ({})", listed(&limits)));
    let doubts: Vec<String> = limits.into_iter().chain(slips).chain(dry).collect();
    let though = if doubts.is_empty() { String::new() } else { format!(", though {}", listed(&doubts)) };
    if group.len() > 1 {
        words = words.plain(format!("{} last alike, ", quoted(&group, |run| run.variant.clone())));
        words = words.strong(about(&end, true));
    } else {
        words = words.plain(format!("“{}” ", best.variant)).plain(match (only, runs.len()) {
            (true, _) => "alone fits, and lasts ",
            (_, 2) => "lasts longer, ",
            _ => "lasts longest, ",
        });
        words = words.strong(about(&end, true));
    }
    words = words.plain(though);
    let share = |run: &Run| share(life(run) / life(best));
    let next = fit.iter().find(|run| !group.iter().any(|g| std::ptr::eq(*g, **run)));
    if let Some(next) = next {
        let role = if is_reference(next) { "the next and the reference, " } else { "the next, " };
        words = words.plain(format!("; “{}”, {role}{} of that", next.variant, share(next)));
    }
    let reference = fit.iter().find(|run| {
        is_reference(run)
            && !next.is_some_and(|n| std::ptr::eq(*n, **run))
            && !group.iter().any(|g| std::ptr::eq(*g, **run))
    });
    if let Some(reference) = reference {
        words = words.plain(format!(", “{}”, the reference, {}", reference.variant, share(reference)));
    }
    words.plain(".")
}

/// Whether a variant drags at idle under any duty.
fn drags(record: &Record, run: &Run) -> bool {
    let idles = |other: &Run| matches!(fault(other), Some(Fault::Drags | Fault::Near | Fault::Settles));
    record.runs.iter().any(|other| other.variant == run.variant && idles(other))
}

/// What the variants are called, whatever the duties.
fn kind_of_variants(record: &Record) -> [&'static str; 2] {
    if springs(record) { ["spring", "springs"] } else { ["machine", "machines"] }
}

/// The variant that is best, or nearly, under every duty.
fn in_all(record: &Record, duties: &[(&str, Vec<&Run>)]) -> Words {
    let [one, _] = kind_of_variants(record);
    let mut worst: Vec<(&str, f64)> = vec![];
    for run in &duties[0].1 {
        let mut least = 1.0_f64;
        for (_, runs) in duties {
            let best =
                runs.iter().filter(|r| fault(r).is_none() && !drags(record, r)).map(|r| life(r)).fold(0.0, f64::max);
            let own = runs.iter().find(|r| r.variant == run.variant);
            let share = own
                .filter(|r| fault(r).is_none() && !drags(record, r))
                .map_or(0.0, |r| if best.is_infinite() && life(r).is_infinite() { 1.0 } else { life(r) / best });
            least = least.min(share);
        }
        worst.push((&run.variant, least));
    }
    worst.sort_by(|a, b| b.1.total_cmp(&a.1));
    match worst.first() {
        Some((name, share)) if *share * ALIKE >= 1.0 => {
            Words::from("Under all duties ").strong(format!("“{name}”")).plain(" is best or as good as the best.")
        }
        Some((name, share)) if *share > 0.0 => Words::from(format!("No {one} is best under all duties; "))
            .strong(format!("“{name}”"))
            .plain(format!(" is nearest: under none does it last less than {} of the best.", self::share(*share))),
        _ => format!("No {one} fits under all duties.").into(),
    }
}

/// Those that must not be fitted, and why, after what was said of the one that tempts.
fn unfit(record: &Record, faulty: &[&Run], begun: Words) -> Words {
    let mut faults: Vec<Fault> = faulty.iter().filter_map(|run| fault(run)).collect();
    faults.sort_unstable();
    faults.dedup();
    let several = by_duty(record).len() > 1;
    let mut words = begun;
    for given in &faults {
        let runs: Vec<&Run> = faulty.iter().copied().filter(|run| fault(run) == Some(*given)).collect();
        let whole = !several || matches!(given, Fault::Drags | Fault::Near | Fault::Settles);
        let mut runs = runs;
        if whole {
            let mut seen: Vec<&str> = vec![];
            runs.retain(|run| {
                !seen.contains(&run.variant.as_str()) && {
                    seen.push(&run.variant);
                    true
                }
            });
        }
        let names = quoted(&runs, |run| if whole { run.variant.clone() } else { name(record, run) });
        let start = if words.is_empty() { "Do not fit " } else { ", " };
        words = words.plain(format!("{start}{names} (")).and(does(*given, &runs, record)).plain(")");
    }
    if words.is_empty() { words } else { words.plain(".") }
}

/// One machine under several duties: what each does to it. Duties are no choice, so that none is called best, but habits of
/// oiling are: where they differ in oil more than in wear, the oil is told.
fn under_several(record: &Record) -> Vec<Words> {
    let runs: Vec<&Run> = longest_first(&record.runs.iter().collect::<Vec<_>>());
    let faulty: Vec<&Run> = record.runs.iter().filter(|run| own(run).is_some()).collect();
    let mut fills: Vec<(&Run, f64)> = record.runs.iter().filter_map(|run| Some((run, fill(record, run)?))).collect();
    fills.sort_by(|a, b| b.1.total_cmp(&a.1));
    let ratio = match (runs.first(), runs.last()) {
        (Some(long), Some(short)) if life(short) > 0.0 && life(long).is_finite() => life(long) / life(short),
        _ => 1.0,
    };
    let (full, dry) = (fills.first().map_or(1.0, |f| f.1), fills.last().map_or(1.0, |f| f.1));
    let oil = full - dry > SAME_FILL && (1.0 - dry) / (1.0 - full).max(1e-3) > ratio;
    let mut said = vec![];
    if !faulty.is_empty() {
        let mut faults: Vec<Fault> = faulty.iter().filter_map(|run| own(run)).collect();
        faults.sort_unstable();
        faults.dedup();
        let mut words = Words::from("Not fit for ");
        for (k, given) in faults.iter().enumerate() {
            let among: Vec<&Run> = faulty.iter().copied().filter(|run| own(run) == Some(*given)).collect();
            let names = quoted(&among, |run| run.duty.clone());
            // One machine, whatever the number of duties.
            words = words.plain(format!("{}{names}, where it ", if k == 0 { "" } else { "; nor for " }));
            words = words.and(does(*given, &among[..1], record));
        }
        said.push(words.plain("."));
    }
    said.push(if oil { most_oil(record, &fills, &runs) } else { lives_under(&runs) });
    said.push(hottest_and_driest(record));
    said
}

/// Lives under each duty, the longest first.
fn lives_under(runs: &[&Run]) -> Words {
    let (Some(long), Some(short)) = (runs.first(), runs.last()) else { return Words::default() };
    let (Some(most), Some(least)) = (end(long), end(short)) else {
        return match end(short) {
            Some(least) => {
                let words = Words::from(format!("Under “{}” it lasts ", short.duty)).strong(about(&least, false));
                words.plain(format!(", until {}; under “{}” no life can be told.", least.what(), long.duty))
            }
            None => "No part wears measurably in these duties.".into(),
        };
    };
    if alike(most.running, least.running) {
        return Words::from("It lasts alike under all duties, ")
            .strong(about(&least, false))
            .plain(format!(", until {}.", least.what()));
    }
    let words = Words::from(format!("Under “{}” it lasts ", long.duty)).strong(about(&most, false));
    let until = format!(", until {}", most.what());
    let end = if most.part == least.part { String::new() } else { format!(", when {}", least.what()) };
    words.plain(format!(
        "{until}; under “{}” {}{end}, {} of that.",
        short.duty,
        say::time(least.running),
        share(least.running / most.running)
    ))
}

/// Which habit keeps most oil, against the next and the reference.
fn most_oil(record: &Record, fills: &[(&Run, f64)], lives: &[&Run]) -> Words {
    let Some(most) = fills.first() else { return Words::default() };
    let near: Vec<&Run> = fills.iter().filter(|f| most.1 - f.1 <= SAME_FILL).map(|f| f.0).collect();
    let verb = match (near.len(), fills.len()) {
        (1, 2) => "keeps more oil: ",
        (1, _) => "keeps most oil: ",
        _ => "keep most oil, alike: ",
    };
    let words = Words::from(quoted(&near, |run| run.duty.clone())).plain(format!(" {verb}"));
    let mut words = words.strong(percent(most.1)).plain(" of a full bushing at the end");
    if let Some(next) = fills.iter().find(|f| most.1 - f.1 > SAME_FILL) {
        words = words.plain(format!(", against {} with “{}”", percent(next.1), next.0.duty));
        if let Some(first) = record.runs.first()
            && first.duty != next.0.duty
            && let Some(own) = fills.iter().find(|f| f.0.duty == first.duty && most.1 - f.1 > SAME_FILL)
        {
            words = words.plain(format!(" and {} with “{}”, the first compared", percent(own.1), first.duty));
        }
    }
    match (lives.first().and_then(|run| end(run)), lives.last().and_then(|run| end(run))) {
        (Some(long), Some(short)) if !alike(long.running, short.running) => words.plain(format!(
            "; wear differs little: {} after {} of running.",
            short.what(),
            say::times(short.running, long.running)
        )),
        (Some(long), _) => words.plain(format!(
            "; wear does not differ: {} after {} of running.",
            long.what(),
            say::time(long.running)
        )),
        _ => words.plain("."),
    }
}

/// The hottest lining against its limit, and the oil that is left.
fn hottest_and_driest(record: &Record) -> Words {
    let several = record.runs.len() > 1;
    let hottest = |a: &&Run, b: &&Run| {
        let of = |run: &Run| peak(record, run, "lining surface").unwrap_or(0.0);
        of(a).total_cmp(&of(b))
    };
    let Some(hot) = record.runs.iter().max_by(hottest) else { return Words::default() };
    let mut words = Words::default();
    if let (Some(hottest), Some(limit)) = (peak(record, hot, "lining surface"), setting(hot, "limits.lining_most")) {
        words = words.plain("The lining reaches ").temperature(hottest);
        if several {
            words = words.plain(format!(" (“{}”)", name(record, hot)));
        }
        words = words.plain(if hottest > limit { ", above its limit of " } else { ", below its limit of " });
        words = words.temperature(limit);
    }
    let fills: Vec<f64> = record.runs.iter().filter_map(|run| fill(record, run)).collect();
    let (dry, full) = fills.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), f| (low.min(*f), high.max(*f)));
    let left = if full - dry > SAME_FILL { format!("{} to {}", percent(dry), percent(full)) } else { percent(dry) };
    if fills.is_empty() {
        return words.plain(".");
    }
    let due = record.runs.first().and_then(|run| run.horizon.as_ref()).filter(|_| !several);
    let due = due.and_then(|h| h.service_running.or(h.service_due));
    let due = due.map_or_else(String::new, |t| format!("; its service was due after {} of running", say::time(t)));
    words.plain(format!("; at the end the bushing holds {left} of its oil{due}."))
}

/// What the numbers were computed from and depend on.
fn basis(record: &Record, first: &Run) -> Words {
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
    let extrapolated = from(record, first);
    let fit = record.runs.iter().filter(|run| fault(run).is_none() || record.runs.len() == 1);
    let ends: Vec<&str> = fit.filter_map(|run| Some(end(run)?.part)).collect();
    words.plain(extrapolated).and(sentence(record, &ends))
}

/// From how much of the duty lives are extrapolated; nothing where they were simulated to their end.
pub fn from(record: &Record, first: &Run) -> String {
    let beyond = |run: &&Run| end(run).is_some_and(|end| end.calendar > run.duration);
    if !record.runs.iter().any(|run| beyond(&run)) {
        return String::new();
    }
    let cold = if record.runs.iter().any(|run| warming(record, run)) { ", not yet warm" } else { "" };
    let simulated = if first.running_time > 0.9 * first.duration {
        format!("{} of duty", say::time(first.duration))
    } else {
        say::life(first.running_time, first.duration)
    };
    format!("Lives, oil apart, from {simulated}{cold}. ")
}

/// Whether the bushing still became warmer over the last quarter of a run.
fn warming(record: &Record, run: &Run) -> bool {
    let at = |share: f64| {
        let index = run.windows.end.iter().position(|end| *end >= share * run.duration)?;
        channel(record, run.windows.mean.get(index)?, "bushing")
    };
    let at_work = run.horizon.is_none() && run.running_time > 0.9 * run.duration;
    at_work && at(0.98).zip(at(0.75)).is_some_and(|(end, before)| end - before > WARMING)
}
