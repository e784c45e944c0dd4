//! A result as JSON, and values that JSON cannot represent.

use crate::read::refusal::Refusal;
use crate::read::saved;
use serde::Serialize;
use slipsoak_engine::document::Saved;
use slipsoak_engine::fleet::Fleet;
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::Run;
use slipsoak_plots::page::lines::{steered, steers};

/// Refuses a result with a number that JSON cannot represent, because it would be lost.
pub(crate) fn whole(saved: &mut Saved) -> Result<(), Refusal> {
    if let Saved::Record(record) = saved {
        return record.runs.iter().try_for_each(finite);
    }
    // Each clutch was read back when it was journalled, and there may be very many.
    let clutches: Vec<_> = fleets(saved).map(|fleet| std::mem::take(&mut fleet.outcomes)).collect();
    let found = read_back(saved);
    fleets(saved).zip(clutches).for_each(|(fleet, own)| fleet.outcomes = own);
    found
}

fn fleets(saved: &mut Saved) -> impl Iterator<Item = &mut Fleet> {
    let report = if let Saved::Fleet(report) = saved { Some(report) } else { None };
    report.into_iter().flat_map(|report| &mut report.fleets)
}

/// A result as JSON.
pub fn result_json(saved: &Saved) -> String {
    match saved {
        Saved::Record(record) => harmless(record.to_json()),
        other => json(other),
    }
}

/// A value as JSON.
pub fn json<T: Serialize>(value: &T) -> String {
    harmless(serde_json::to_string(value))
}

/// A line of JSON, without what would affect a terminal.
fn harmless(text: serde_json::Result<String>) -> String {
    let text = text.unwrap_or_default() + "\n";
    if !steered(&text) {
        return text;
    }
    // Control characters occur only in texts, where JSON can escape them, so that none affects a terminal.
    let safe = |c: char| if steers(c) { format!("\\u{:04x}", c as u32) } else { c.to_string() };
    text.chars().map(safe).collect()
}

/// Refuses a result that differs when it is read back.
fn read_back(saved: &Saved) -> Result<(), Refusal> {
    let what = match saved::document(saved.kind(), &result_json(saved)) {
        Ok(read) if read == *saved => return Ok(()),
        Ok(_) => "where nothing may stand".to_owned(),
        Err(e) => e.to_string(),
    };
    Err(not_finite(saved.kind().meaning(), &what))
}

fn not_finite(of: &str, what: &str) -> Refusal {
    Refusal::new(format!("the result of `{of}` holds a number that is not finite ({what}); nothing was written"))
}

/// Looks at a run's numbers themselves: a record is large, and reading it back takes as long as the run.
fn finite(run: &Run) -> Result<(), Refusal> {
    let bad = |what: &str| Err(not_finite(&format!("{}, {}", run.variant, run.duty), what));
    let windows = [&run.windows.least, &run.windows.mean, &run.windows.most];
    let segments = run.segments.iter().map(|s| &s.extremes).chain([&run.overall]);
    let rows = run.close_up.iter().flat_map(|close| &close.rows);
    let sets = windows.into_iter().flatten().chain(rows).chain(segments.flat_map(|e| [&e.least, &e.mean, &e.most]));
    if let Some((index, _)) = sets.flat_map(|set| set.iter().enumerate()).find(|(_, value)| !value.is_finite()) {
        return bad(Channel::ALL.get(index).map_or("a channel", |channel| channel.name()));
    }
    let ledgers = run.ledgers.all();
    let whole = ledgers.iter().flat_map(|(_, l)| [l.residual, l.relative]).chain(run.parts.iter().map(|p| p.used));
    if whole.chain(run.parts.iter().filter_map(|p| p.life)).any(|v| !v.is_finite()) {
        return bad("a ledger or a part's use");
    }
    Ok(())
}
