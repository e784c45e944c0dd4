//! What figures read of a record: its check, curves over time and their scales.

use crate::sheet::prelude::*;
use crate::words::reading::fahrenheit;
use slipsoak_engine::names::{Channel, Entry};
use slipsoak_engine::record::{Ledger, Record, Run};
use slipsoak_engine::units::HOUR;

/// Fails for an empty record, or if its rows lack channels.
pub fn check(record: &Record) -> Result<(), DrawError> {
    if record.runs.is_empty() || record.runs.iter().any(|run| run.windows.end.is_empty()) {
        return Err(DrawError::Empty);
    }
    let places = Channel::ALL.iter().zip(record.channels.iter().map(|c| Some(c.name)).chain(std::iter::repeat(None)));
    if let Some((channel, _)) = places.into_iter().find(|(channel, there)| Some(**channel) != *there) {
        return Err(DrawError::Channel(channel.name().to_owned()));
    }
    let whole = |run: &Run| {
        let (w, all) = (&run.windows, &run.overall);
        let rows = [&w.least, &w.mean, &w.most].into_iter().all(|rows| rows.len() == w.end.len());
        let wide = |row: &Vec<f64>| row.len() == Channel::COUNT;
        rows && w.least.iter().chain(&w.mean).chain(&w.most).chain([&all.least, &all.mean, &all.most]).all(wide)
    };
    if let Some(run) = record.runs.iter().find(|run| !whole(run)) {
        return Err(DrawError::Ragged(run.variant.clone()));
    }
    // The last window ends with the run, apart from rounding.
    let ordered = |run: &Run| {
        run.windows.spans().all(|(start, end)| end > start)
            && !run.windows.end.last().is_some_and(|last| *last > run.duration * (1.0 + 1e-9) + 1e-6)
    };
    match record.runs.iter().find(|run| !ordered(run)) {
        Some(run) => Err(DrawError::Disordered(run.variant.clone())),
        None => Ok(()),
    }
}

/// Number of rows of this height, px, on a sheet before its letters are smaller than 6 pt in print on A4: the page's
/// text is 182 mm wide and a figure at most 215 mm high; 12.5 px of a sheet of 960 px are 6.7 pt at full width.
pub fn rows_that_fit(over: f64, row: f64) -> usize {
    ((TALLEST - over) / row).floor().max(1.0) as usize
}

/// Largest height of a sheet of 960 px, px, apart from some lines of notes.
const TALLEST: f64 = 1200.0;

/// A channel's row of every window over time, at the middle of the window, or over the whole of an only one; `per`: seconds per
/// unit of time.
pub fn curve(run: &Run, rows: &[Vec<f64>], column: usize, per: f64, unit: fn(f64) -> f64) -> Vec<Place> {
    if let ([row], Some((start, end))) = (rows, run.windows.spans().next()) {
        return [start, end].map(|time| (time / per, unit(row[column]))).to_vec();
    }
    run.windows.spans().zip(rows).map(|((start, end), row)| (0.5 * (start + end) / per, unit(row[column]))).collect()
}

/// An entry of a ledger, SI; zero if it is missing or not finite.
pub fn booked(ledger: &Ledger, entry: Entry) -> f64 {
    let sides = [&ledger.inward, &ledger.held, &ledger.outward];
    sides.iter().find_map(|side| side.get(&entry)).copied().filter(|amount| amount.is_finite()).unwrap_or(0.0)
}

/// Label in °F of a tick in °C.
pub fn in_fahrenheit(celsius: f64) -> String {
    number(fahrenheit(celsius), 1.0)
}

/// Unit of time for an axis of this many seconds: its seconds and its name.
pub fn clock(longest: f64) -> (f64, &'static str) {
    if longest <= 7200.0 {
        (60.0, "minutes")
    } else if longest <= 5.0 * 86400.0 {
        (HOUR, "hours")
    } else {
        (86400.0, "days")
    }
}
