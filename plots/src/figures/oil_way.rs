//! Oil flows of a run: from oil applied and from pores, film and washer to its losses.

use crate::sheet::prelude::*;
use slipsoak_engine::names::Entry;
use slipsoak_engine::record::{Ledger, Run};

/// kg to mg.
const MG: f64 = 1e6;
/// Share of all moved oil below which a stream is added to the rest.
const LEAST: f64 = 2e-4;

/// Amounts below this are displayed as zero, mg.
const LEAST_SHOWN: f64 = 0.05;

/// Reservoirs of oil: name when they gain, name when they lose, colour, and their entries at the start and at the end.
const HOLDERS: [(&str, &str, usize, Option<Entry>, Entry); 5] = [
    ("into pores", "from pores", 1, Some(Entry::InPoresAtTheStart), Entry::InPores),
    ("into film", "from film", 6, Some(Entry::InFilmAtTheStart), Entry::InFilm),
    ("into washer", "from washer", 5, Some(Entry::InWasherAtTheStart), Entry::InWasher),
    ("left as grease", "", 7, None, Entry::InGrease),
    ("on the lining", "", 0, None, Entry::OnLining),
];
const LOSSES: [(&str, usize, Entry); 5] = [
    ("thrown off", 3, Entry::Flung),
    ("end leakage", 5, Entry::Leaked),
    ("run off at rest", 2, Entry::RunOff),
    ("evaporated", 4, Entry::Evaporated),
    ("old parts", 7, Entry::RemovedWithParts),
];

/// Oil flows of a run, mg.
pub fn flow(run: &Run, heading: String) -> Flow {
    let oil = &run.ledgers.oil;
    let (mut inward, mut outward): (Vec<Stream>, Vec<Stream>) = (vec![], vec![]);
    let stream = |name: String, amount: f64, order: usize| Stream { name, amount, ink: colour(order) };
    let drops = run.supplies.get("oil, drops").copied().unwrap_or(0.0);
    let put_on = if drops > 0.0 { format!("{} drops", number(drops, 1.0)) } else { "put on".to_owned() };
    inward.push(stream(put_on, entry(oil, Entry::PutOn), 0));
    inward.push(stream("new parts".to_owned(), entry(oil, Entry::InNewParts), 7));
    for (gains, loses, order, start, end) in HOLDERS {
        let change = entry(oil, end) - start.map_or(0.0, |start| entry(oil, start));
        let (side, words) = if change >= 0.0 { (&mut outward, gains) } else { (&mut inward, loses) };
        side.push(stream(words.to_owned(), change.abs(), order));
    }
    for (words, order, name) in LOSSES {
        outward.push(stream(words.to_owned(), entry(oil, name), order));
    }
    let all: f64 = outward.iter().map(|s| s.amount).sum();
    for side in [&mut inward, &mut outward] {
        side.retain(|s| s.amount > (LEAST * all).max(LEAST_SHOWN));
    }
    let rest = inward.iter().map(|s| s.amount).sum::<f64>() - outward.iter().map(|s| s.amount).sum::<f64>();
    let side = if rest > 0.0 { &mut outward } else { &mut inward };
    if rest.abs() > LEAST_SHOWN {
        side.push(Stream { name: "other".to_owned(), amount: rest.abs(), ink: QUIET });
    }
    Flow { heading, inward, outward, empty: "no oil moved" }
}

/// An entry of the ledger, mg; zero if it is missing or not finite.
fn entry(oil: &Ledger, name: Entry) -> f64 {
    let all = [&oil.inward, &oil.held, &oil.outward];
    let kg = all.iter().find_map(|side| side.get(&name)).copied().unwrap_or(0.0);
    if kg.is_finite() { (MG * kg).max(0.0) } else { 0.0 }
}

/// A mass in mg, or in g if it is large.
pub fn weight(mg: f64) -> String {
    match mg {
        ..9.95 => format!("{} mg", number(mg, 0.1)),
        9.95..9999.5 => format!("{} mg", number(mg, 1.0)),
        _ => format!("{} g", number(mg / 1e3, 0.01)),
    }
}
