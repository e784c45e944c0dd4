//! Destinations of the frictional heat: stored in parts, convected, radiated, conducted to the motor.

use crate::figures::chosen::shown;
use crate::figures::reading::{booked, rows_that_fit};
use crate::sheet::prelude::*;
use crate::words::findings;
use crate::words::reading::name;
use slipsoak_engine::names::Entry;
use slipsoak_engine::record::{Record, Run};

/// Share of the heat below which a stream is left to “other”.
const LEAST: f64 = 0.01;

/// Entries that share a stream: its name, its colour, its name when the flow is reversed, and the entries.
type Row = (&'static str, usize, &'static str, &'static [Entry]);

const ROWS: [Row; 9] = [
    ("in lining", hues::LINING, "lining cooled", &[Entry::InLining]),
    ("in drum", hues::DRUM, "drum cooled", &[Entry::InDrumWall, Entry::InWeb, Entry::InSprocket]),
    ("in bushing", hues::BUSHING, "bushing cooled", &[Entry::InBushing, Entry::InWasher]),
    ("in inner parts", hues::SHOES, "inner parts cooled", &[Entry::InShoes, Entry::InCarrier, Entry::InShaft]),
    ("air: rim", hues::OUTSIDE, "air: rim", &[Entry::BandToTheAir]),
    ("air: web", hues::OUTSIDE, "air: web", &[Entry::WebAndSprocketToTheAir]),
    ("air: inner parts", hues::OUTSIDE, "air: inner parts", &[Entry::ShoesAndCarrierToTheAir]),
    ("radiated", hues::OUTSIDE, "radiation received", &[Entry::Radiated]),
    ("to motor", hues::MOTOR, "from motor", &[Entry::ThroughTheShaft]),
];

/// Heat of entries of a run's ledger, kJ.
fn heat(run: &Run, entries: &[Entry]) -> f64 {
    entries.iter().map(|entry| booked(&run.ledgers.clutch, *entry)).sum::<f64>() / 1e3
}

/// Heat of each stream of a run, kJ.
fn amounts(run: &Run) -> Vec<f64> {
    ROWS.iter().map(|row| heat(run, row.3)).collect()
}

/// Shares of a run's heat by the ways that a finding names.
fn shares(run: &Run) -> Option<[f64; 4]> {
    let out: Vec<f64> = amounts(run).into_iter().map(|kj| kj.max(0.0)).collect();
    let whole: f64 = out.iter().sum();
    let share = |rows: &[f64]| rows.iter().sum::<f64>() / whole;
    (whole > 0.0).then(|| [share(&out[..4]), share(&out[4..7]), share(&out[7..8]), share(&out[8..])])
}

/// Heat balance of the clutch over a run, kJ.
fn flow(called: String, run: &Run) -> Flow {
    let kj = |entries: &[Entry]| heat(run, entries);
    let heat = [
        ("", "slip", hues::LINING, -kj(&[Entry::SlipHeat])),
        ("", "bushing", hues::BUSHING, -kj(&[Entry::BearingHeat])),
    ];
    let out = ROWS.map(|(words, order, reversed, entries)| (words, reversed, order, kj(entries)));
    let empty = "no friction heat, or the record does not tell where it goes";
    let whole: f64 = amounts(run).into_iter().map(|kj| kj.max(0.0)).sum();
    Flow::of(called, heat.into_iter().chain(out), (LEAST * whole).max(0.005), empty)
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let across = look.columns(record.runs.len() > 1);
    let biggest = record.runs.iter().flat_map(amounts).fold(1e-9, |most, kj| f64::max(most, kj.abs()));
    let all: Vec<Flow> = record.runs.iter().map(|run| flow(name(record, run), run)).collect();
    let (most, high) = tallest(&all);
    let chosen = shown(record, look, across * rows_that_fit(HEAD + FOOT, high), amounts, 0.005 * biggest);
    let rows = chosen.rows(across) as f64;
    let note = "Friction heat in lining, bushing and washer, over the whole run; widths in proportion, kJ and share. In a part: stored there at the end. Below 1 %: in “other”. Inner parts: shoes, carrier, shaft. Web: with sprocket.";
    let describe = "One flow for each run: at the left the heat of the slipping lining and of bushing and washer, kJ; at the right what the parts keep, what the air takes from each surface, what is radiated and what goes through the shaft to the motor.";
    let heading = findings::heat(&record.runs.iter().filter_map(shares).collect::<Vec<_>>());
    let heading = match chosen.part() {
        all if all.is_empty() => heading,
        some => format!("{heading}{some} shown"),
    };
    let note = look.note(record, &format!("{note}{}", chosen.sentence()));
    sheet(look, HEAD + high * rows + FOOT, [&heading, &note, describe], |sheet| {
        let body = Frame { bottom: HEAD + high * rows, ..sheet.body() };
        chosen.panels(sheet, body, across, |k, run, frame| {
            let flow = flow(chosen.name(k), run);
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
