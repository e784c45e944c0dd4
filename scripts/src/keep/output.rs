//! A result as JSON, and values that JSON cannot represent.

use crate::read::refusal::Refusal;
use crate::read::saved;
use serde::Serialize;
use slipsoak_engine::document::Saved;
use slipsoak_engine::fleet::Fleet;
use slipsoak_plots::page::lines::steers;

/// Refuses a result with a number that JSON cannot represent, because it would be lost.
pub(crate) fn whole(saved: &mut Saved) -> Result<(), Refusal> {
    if let Saved::Record(record) = saved {
        return record.runs.iter().try_for_each(|run| {
            let of = format!("{}, {}", run.variant, run.duty);
            read_back(serde_json::from_str(&json(run)), run, &of)
        });
    }
    // Each clutch was read back when it was journalled, and there may be very many.
    let clutches: Vec<_> = fleets(saved).map(|fleet| std::mem::take(&mut fleet.outcomes)).collect();
    let found = read_back(saved::document(saved.kind(), &json(saved)), saved, saved.kind().meaning());
    fleets(saved).zip(clutches).for_each(|(fleet, own)| fleet.outcomes = own);
    found
}

fn fleets(saved: &mut Saved) -> impl Iterator<Item = &mut Fleet> {
    let report = if let Saved::Fleet(report) = saved { Some(report) } else { None };
    report.into_iter().flat_map(|report| &mut report.fleets)
}

/// A result as JSON, readable by people too.
pub fn json<T: Serialize>(value: &T) -> String {
    let text = serde_json::to_string(value).unwrap_or_default() + "\n";
    if !text.contains(steers) {
        return text;
    }
    // Control characters occur only in texts, where JSON can escape them, so that none affects a terminal.
    let safe = |c: char| if steers(c) { format!("\\u{:04x}", c as u32) } else { c.to_string() };
    text.chars().map(safe).collect()
}

/// Refuses a value that differs when it is read back.
fn read_back<T: PartialEq>(read: serde_json::Result<T>, own: &T, of: &str) -> Result<(), Refusal> {
    let what = match read {
        Ok(read) if read == *own => return Ok(()),
        Ok(_) => "where nothing may stand".to_owned(),
        Err(e) => e.to_string(),
    };
    Err(Refusal::new(format!("the result of `{of}` holds a number that is not finite ({what}); nothing was written")))
}
