//! What figures read of a record: its check, the runs shown, curves over time and their scales.

use crate::sheet::prelude::*;
use crate::words::reading::{end, fahrenheit};
use slipsoak_engine::names::{Channel, Entry, distinct};
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

/// The runs that a figure of this number of panels shows, each with its index.
pub struct Shown<'a> {
    record: &'a Record,
    /// index and run
    pub runs: Vec<(usize, &'a Run)>,
    /// reasons for their choice, beginning with the first compared
    known_as: Vec<String>,
}

impl Shown<'_> {
    /// Which of how many runs are shown, after a comma; empty if it is all.
    pub fn part(&self) -> String {
        let (some, all) = (self.runs.len(), self.record.runs.len());
        if some == all { String::new() } else { format!(", {some} of {all} runs") }
    }

    /// A sheet whose heading and note tell which runs are shown, followed by the caption.
    pub fn sheet(
        &self,
        look: &Look,
        height: f64,
        [heading, note, describe]: [&str; 3],
        paint: impl FnOnce(&Sheet<'_>) -> Result<(), DrawError>,
    ) -> Result<Drawing, DrawError> {
        let heading = format!("{heading}{}: {}", self.part(), look.asked(&self.record.head));
        let note = look.note(self.record, &format!("{note}{}", self.sentence()));
        sheet(look, height, [&heading, &note, describe], paint)
    }

    /// Draws a panel for each run in this number of columns of a frame.
    pub fn panels(
        &self,
        sheet: &Sheet<'_>,
        frame: Frame,
        columns: usize,
        panel: impl Fn(usize, &Run, Frame) -> Result<(), DrawError>,
    ) -> Result<(), DrawError> {
        let mut cells = self.runs.iter().zip(frame.split(self.rows(columns), columns));
        cells.try_for_each(|((k, run), cell)| sheet.of(Some(*k), || panel(*k, run, cell)))
    }

    /// Number of rows in this number of columns.
    pub fn rows(&self, columns: usize) -> usize {
        self.runs.len().div_ceil(columns)
    }

    /// A sentence on which runs are shown, if it is not all.
    pub fn sentence(&self) -> String {
        if self.part().is_empty() {
            return String::new();
        }
        format!(" Shown: {}; the others are in the table.", self.known_as.join(", "))
    }
}

/// The runs that a figure of panels shows: all, or as many as fit of the first, the longest-lived, the shortest-lived,
/// the one with the hottest lining, the longest- and shortest-lived of each duty, and the others in order.
pub fn shown(record: &Record, most: usize) -> Shown<'_> {
    let all = record.runs.len();
    let life = |k: &usize| end(&record.runs[*k]).map_or(f64::INFINITY, |end| end.running);
    let longest = |of: Vec<usize>| of.into_iter().rev().max_by(|a, b| life(a).total_cmp(&life(b)));
    let shortest = |of: Vec<usize>| of.into_iter().min_by(|a, b| life(a).total_cmp(&life(b)));
    let peak = |k: &usize| Channel::LiningSurface.of(&record.runs[*k].overall.most);
    let hottest = (0..all).rev().max_by(|a, b| peak(a).total_cmp(&peak(b)));
    let mut wanted = vec![Some(0), longest((0..all).collect()), shortest((0..all).collect()), hottest];
    let mut duties: Vec<&str> = record.runs.iter().map(|run| run.duty.as_str()).collect();
    duties.dedup();
    for pick in [&longest as &dyn Fn(Vec<usize>) -> Option<usize>, &shortest] {
        wanted.extend(duties.iter().map(|duty| pick((0..all).filter(|k| record.runs[*k].duty == *duty).collect())));
    }
    wanted.extend((0..all).map(Some));
    let known = ["the first compared", "the longest-lived", "the shortest-lived", "the hottest"];
    let named: Vec<(usize, &str)> = wanted.iter().zip(known).filter_map(|(k, name)| Some(((*k)?, name))).collect();
    let mut chosen = distinct(wanted.into_iter().flatten());
    chosen.truncate(most);
    let called = |k: &usize| {
        let mut names = named.iter().filter(|known| known.0 == *k).map(|known| known.1);
        let first = names.next()?;
        let more: Vec<&str> = names.collect();
        Some(if more.is_empty() { first.to_owned() } else { format!("{first} ({})", more.join(", ")) })
    };
    let mut known_as: Vec<String> = chosen.iter().filter_map(called).collect();
    if known_as.len() < chosen.len() {
        known_as.push("and what more fits".to_owned());
    }
    chosen.sort_unstable();
    Shown { runs: chosen.into_iter().map(|k| (k, &record.runs[k])).collect(), record, known_as }
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
