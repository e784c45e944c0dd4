//! Destinations of the frictional heat: stored in parts, convected, radiated, conducted to the motor.

use crate::figures::reading::{rows_that_fit, shown};
use crate::sheet::prelude::*;
use crate::words::reading::name;
use slipsoak_engine::names::Entry;
use slipsoak_engine::record::{Ledger, Record, Run};

/// Entries that share a stream: its name, its colour, its name when the flow is reversed, and the entries.
type Row = (&'static str, usize, &'static str, &'static [Entry]);

const IN: [Row; 2] = [("slip", 0, "", &[Entry::SlipHeat]), ("bearing", 2, "", &[Entry::BearingHeat])];

const OUT: [Row; 9] = [
    ("stored: lining", 0, "lining cooled", &[Entry::InLining]),
    ("stored: drum", 0, "drum cooled", &[Entry::InDrumWall, Entry::InWeb, Entry::InSprocket]),
    ("stored: bushing", 0, "bushing cooled", &[Entry::InBushing, Entry::InWasher]),
    ("stored: inner parts", 0, "inner parts cooled", &[Entry::InShoes, Entry::InCarrier, Entry::InShaft]),
    ("air: band", 1, "air: band", &[Entry::BandToTheAir]),
    ("air: web, sprocket", 1, "air: web", &[Entry::WebAndSprocketToTheAir]),
    ("air: inner parts", 6, "air: inner parts", &[Entry::ShoesAndCarrierToTheAir]),
    ("radiated", 5, "radiation received", &[Entry::Radiated]),
    ("to motor", 4, "from motor", &[Entry::ThroughTheShaft]),
];

/// Share of all heat below which a stream is added to the rest.
const LEAST: f64 = 2e-4;

/// Heat balance of the clutch over a run, kJ.
fn flow(record: &Record, run: &Run) -> Flow {
    let ledger = &run.ledgers.clutch;
    let (mut inward, mut outward): (Vec<Stream>, Vec<Stream>) = (vec![], vec![]);
    let stream = |name: &str, amount: f64, ink: Ink| Stream { name: name.to_owned(), amount, ink };
    for (words, order, _, entries) in IN {
        inward.push(stream(words, sum(ledger, entries), colour(order)));
    }
    for (words, order, reversed, entries) in OUT {
        let amount = sum(ledger, entries);
        if amount >= 0.0 {
            outward.push(stream(words, amount, colour(order)));
        } else {
            inward.push(stream(reversed, -amount, colour(order)));
        }
    }
    let all: f64 = inward.iter().map(|s| s.amount).sum();
    for side in [&mut inward, &mut outward] {
        side.retain(|s| s.amount.is_finite() && s.amount > LEAST * all);
    }
    // Streams thinner than a pixel, and the residue of skipping, so that both sides have the same sum.
    let rest = inward.iter().map(|s| s.amount).sum::<f64>() - outward.iter().map(|s| s.amount).sum::<f64>();
    let side = if rest > 0.0 { &mut outward } else { &mut inward };
    if rest.abs() > 0.005 {
        side.push(stream("other", rest.abs(), QUIET));
    }
    Flow {
        heading: name(record, run),
        inward,
        outward,
        empty: "no heat of rubbing, or the record does not tell its way",
    }
}

/// Sum of entries of a ledger, kJ.
fn sum(ledger: &Ledger, entries: &[Entry]) -> f64 {
    let of = |entry: &Entry| {
        [&ledger.inward, &ledger.held, &ledger.outward].iter().find_map(|side| side.get(entry)).copied().unwrap_or(0.0)
    };
    entries.iter().map(of).filter(|v| v.is_finite()).sum::<f64>() / 1e3
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let across = look.columns(record.runs.len() > 1);
    let all: Vec<Flow> = record.runs.iter().map(|run| flow(record, run)).collect();
    let (most, high) = tallest(&all);
    let chosen = shown(record, across * rows_that_fit(HEAD + FOOT, high));
    let rows = chosen.rows(across) as f64;
    let note = "Heat of rubbing in lining, bushing and washer, over the whole run; widths in proportion, kJ and share. Inner parts: shoes, carrier, shaft.";
    let describe = "One flow for each run: at the left the heat of the slipping lining and of bushing and washer, kJ; at the right what the parts keep, what the air takes from each surface, what is radiated and what goes through the shaft to the motor.";
    chosen.sheet(look, HEAD + high * rows + FOOT, ["Where the heat goes", note, describe], |sheet| {
        let body = Frame { bottom: HEAD + high * rows, ..sheet.body() };
        chosen.panels(sheet, body, across, |k, _, frame| {
            let flow = &all[k];
            let whole = flow.sum();
            let words = |kj: f64, shared| {
                let share = if shared { format!(" · {:.0} %", 100.0 * kj / whole) } else { String::new() };
                format!("{}{share}", energy(kj, whole))
            };
            flow.draw(sheet, frame, WIDEST / most, words)
        })
    })
}

/// An energy in kJ, or in MJ if the sum is large.
fn energy(kj: f64, all: f64) -> String {
    match all {
        ..20.0 => format!("{} kJ", number(kj, 0.01)),
        20.0..200.0 => format!("{} kJ", number(kj, 0.1)),
        200.0..2e4 => format!("{} kJ", number(kj, 1.0)),
        _ => format!("{} MJ", number(kj / 1e3, 0.1)),
    }
}
