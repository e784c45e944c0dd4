//! Oil flows of a run: from oil applied and from pores, film and washer to its losses.

use crate::figures::reading::booked;
use crate::sheet::prelude::*;
use slipsoak_engine::names::{Entry, Supply};
use slipsoak_engine::record::Run;

/// kg to mg.
const MG: f64 = 1e6;
/// Amounts below this are displayed as zero, mg.
const LEAST_SHOWN: f64 = 0.05;

/// Reservoirs of oil: name when they gain, name when they lose, colour, and their entries at the start and at the end.
const HOLDERS: [(&str, &str, usize, Option<Entry>, Entry); 5] = [
    ("into pores", "from pores", hues::BUSHING, Some(Entry::InPoresAtTheStart), Entry::InPores),
    ("into film", "from film", hues::OIL, Some(Entry::InFilmAtTheStart), Entry::InFilm),
    ("into washer", "from washer", hues::WASHER, Some(Entry::InWasherAtTheStart), Entry::InWasher),
    ("left as grease", "", hues::OIL, None, Entry::InGrease),
    ("on the lining", "", hues::LINING, None, Entry::OnLining),
];
const LOSSES: [(&str, usize, Entry); 5] = [
    ("thrown off", hues::LINING, Entry::Flung),
    ("end leakage", hues::OUTSIDE, Entry::Leaked),
    ("run off at rest", hues::OUTSIDE, Entry::RunOff),
    ("evaporated", hues::OUTSIDE, Entry::Evaporated),
    ("old parts", hues::SHOES, Entry::RemovedWithParts),
];

/// Oil of each stream of a run, mg.
pub fn amounts(run: &Run) -> Vec<f64> {
    let mg = |entry: Entry| MG * booked(&run.ledgers.oil, entry);
    let held = HOLDERS.iter().map(|(_, _, _, start, end)| mg(*end) - start.map_or(0.0, mg));
    held.chain(LOSSES.iter().map(|(_, _, entry)| mg(*entry))).chain([mg(Entry::PutOn)]).collect()
}

/// Oil flows of a run, mg.
pub fn flow(run: &Run, heading: String) -> Flow {
    let oil = &run.ledgers.oil;
    let mg = |entry: Entry| (MG * booked(oil, entry)).max(0.0);
    let drops = run.supplies.get(&Supply::Drops).copied().unwrap_or(0.0);
    let put_on = if drops > 0.0 { format!("{} drops", number(drops, 1.0)) } else { "put on".to_owned() };
    let supplies = [(put_on, hues::OIL, Entry::PutOn), ("new parts".to_owned(), hues::SHOES, Entry::InNewParts)];
    let supplied = supplies.into_iter().map(|(name, order, entry)| ("", name, order, -mg(entry)));
    let held = HOLDERS
        .into_iter()
        .map(|(gains, loses, order, start, end)| (gains, loses.to_owned(), order, mg(end) - start.map_or(0.0, mg)));
    let lost = LOSSES.into_iter().map(|(name, order, entry)| (name, String::new(), order, mg(entry)));
    Flow::of(heading, supplied.chain(held).chain(lost), LEAST_SHOWN, "no oil moved")
}

/// A mass in mg, or in g if it is large.
pub fn weight(mg: f64) -> String {
    match mg {
        ..9.95 => format!("{} mg", number(mg, 0.1)),
        9.95..9999.5 => format!("{} mg", number(mg, 1.0)),
        _ => format!("{} g", number(mg / 1e3, 0.01)),
    }
}
