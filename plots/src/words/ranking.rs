//! Ranking of variants: which one to fit and by how much it is better, which ones not to fit and why.
//!
//! Variants are ranked under each duty; duties are never ranked. A variant that drags, overheats or wears out within
//! the hour is not called best without saying so in the same sentence.

use crate::words::compared::{
    ALIKE, about, alike, beside, by_duty, grouped, kind, kind_of_variants, life, longest_first, quoted, share,
};
use crate::words::fault::does;
use crate::words::ground;
use crate::words::number::figures;
use crate::words::reading::end;
use crate::words::say;
use crate::words::text::{Words, listed};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::record::{Record, Run, Warned};
use std::collections::BTreeSet;

/// The variant to choose: under the single duty, or under each and then overall.
pub(crate) fn between(record: &Record) -> Vec<Words> {
    let duties = by_duty(record);
    let faulty: Vec<&Run> = record.runs.iter().filter(|run| run.fault().is_some()).collect();
    let mut said = vec![every(record)];
    if faulty.len() == record.runs.len() {
        let [one, _] = kind(record);
        said = vec![format!("No {one} fits").into()];
    }
    if let [(_, runs)] = duties.as_slice() {
        let lead = said.pop().unwrap_or_default();
        let lead = if lead.is_empty() { lead } else { lead.plain(".") };
        let only = runs.iter().filter(|run| run.fault().is_none()).count() == 1;
        let tempting = tempting(runs);
        let of = if only || faulty.is_empty() { "" } else { "Of those that fit, " };
        // The longest-lived was already mentioned if it must not be fitted.
        let rest: Vec<&Run> = match longest_first(runs).first() {
            Some(longest) if !tempting.is_empty() => {
                faulty.iter().copied().filter(|run| !std::ptr::eq(*run, *longest)).collect()
            }
            _ => faulty,
        };
        let unfit = Words::from(unfit(record, &rest, tempting));
        let best = ground::of_runs(runs)
            .into_iter()
            .fold(best(record, runs, "", of), |best, said| best.plain(format!(" {said}")));
        said.extend(if best.is_empty() { [lead, unfit, best] } else { [best, unfit, lead] });
        said.retain(|words| !words.is_empty());
        return said;
    }
    let lead = said.pop().unwrap_or_default();
    let lead = if lead.is_empty() { lead } else { lead.plain(".") };
    // A variant that drags under one duty is not recommended for another while any other fits that.
    let each = duties.iter().map(|(duty, all)| {
        let sound: Vec<&Run> = all.iter().copied().filter(|run| !drags(record, run)).collect();
        let runs = if sound.iter().any(|run| run.fault().is_none()) { &sound } else { all };
        let best = best(record, runs, &format!("Under “{duty}”, "), "");
        ground::of_runs(runs).into_iter().fold(best, |best, said| best.plain(format!(" {said}")))
    });
    let each: Vec<Words> = each.collect();
    said.push(in_all(record, &duties));
    said.extend(each);
    said.extend([unfit(record, &faulty, String::new()).into(), lead]);
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
    let limits = if shared.len() == 1 { "a limit" } else { "limits" };
    format!("Every {one}, also what fits, exceeds {limits} for long use ({})", listed(&shared)).into()
}

/// Warning if a variant that must not be fitted has the longest life.
fn tempting(runs: &[&Run]) -> String {
    let all = longest_first(runs);
    let (Some(longest), Some(next)) = (all.first(), all.iter().find(|run| run.fault().is_none())) else {
        return String::new();
    };
    match (longest.fault(), end(longest)) {
        (Some(fault), Some(end)) if !alike(life(longest), life(next)) => {
            let (name, time, but) = (&longest.variant, say::lasts(end.running), does(fault, &[longest]));
            format!("Do not fit “{name}” ({time}, but {but})")
        }
        _ => String::new(),
    }
}

/// The best of the fit runs of one duty, compared with the next and the reference.
fn best(record: &Record, runs: &[&Run], under: &str, of: &str) -> Words {
    let fit: Vec<&Run> = longest_first(runs).into_iter().filter(|run| run.fault().is_none()).collect();
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
    let burns = best.warned(Warned::LetGo).map(|w| {
        format!(
            "its clutch burns if ridden so ({}\u{a0}W of slip for 10 s or longer: let go of the throttle)",
            figures(w.value, 2)
        )
    });
    let slips = best.warned(Warned::HeldSpeed).filter(|_| burns.is_none());
    let slips = slips.map(|_| "it slips at the speed held".to_owned());
    let dry = best.warned(Warned::Dry).map(|w| format!("its oil is spent after {}", say::time(w.value)));
    let limits: Vec<String> = warned.into_iter().map(str::to_owned).collect();
    let limits = (!limits.is_empty()).then(|| format!("over limits ({})", listed(&limits)));
    let doubts: Vec<String> = burns.into_iter().chain(limits).chain(slips).chain(dry).collect();
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

/// Whether a variant is seen to drag at idle under any duty. What springs relax by is that of their own duty.
fn drags(record: &Record, run: &Run) -> bool {
    record.runs.iter().any(|other| other.variant == run.variant && other.own_fault() == Some(Fault::Drags))
}

/// The variant that is best, or nearly so, under every duty.
fn in_all(record: &Record, duties: &[(&str, Vec<&Run>)]) -> Words {
    let [one, _] = kind_of_variants(record);
    let mut worst: Vec<(&str, f64)> = vec![];
    for run in &duties[0].1 {
        let mut least = 1.0_f64;
        for (_, runs) in duties {
            let fits = |run: &&&Run| run.fault().is_none() && !drags(record, run);
            let best = runs.iter().filter(fits).map(|r| life(r)).fold(0.0, f64::max);
            let own = runs.iter().find(|r| r.variant == run.variant);
            let share = own
                .filter(fits)
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

/// The variants that must not be fitted, and why, after the clause on the longest-lived; empty if all may be.
fn unfit(record: &Record, faulty: &[&Run], begun: String) -> String {
    let faults: BTreeSet<Fault> = faulty.iter().filter_map(|run| run.fault()).collect();
    let [one, _] = kind_of_variants(record);
    let mut said = begun;
    for given in faults {
        let runs: Vec<&Run> = faulty.iter().copied().filter(|run| run.fault() == Some(given)).collect();
        let groups = grouped(record, &runs, &format!("any {one}"));
        let groups = groups.unwrap_or_else(|| vec![(quoted(&runs, |run| run.variant.clone()), runs.clone())]);
        // How near to the idle they come depends on the duty.
        let groups = match given {
            Fault::Near | Fault::Settles => groups,
            _ => vec![(groups.into_iter().map(|group| group.0).collect::<Vec<_>>().join(", "), runs)],
        };
        for (names, runs) in groups {
            let start = if said.is_empty() { "Do not fit " } else { ", " };
            said = format!("{said}{start}{names} ({})", does(given, &runs));
        }
    }
    if said.is_empty() { said } else { said + "." }
}
