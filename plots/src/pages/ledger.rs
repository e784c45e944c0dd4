//! Ledgers as tables: inputs, stored amounts, outputs, and residuals.

use crate::page::{Block, Cell, Group, Head, Row, Table};
use crate::words::number::{column, figures, power};
use crate::words::reading::name;
use slipsoak_engine::names::{Book, Entry};
use slipsoak_engine::record::{Ledger, Record, Run};
use std::collections::{BTreeMap, BTreeSet};

/// Largest number of runs side by side in one table.
pub const BESIDE: usize = 7;

/// Caption of each ledger.
const CAPTIONS: [(Book, &str); 5] = [
    (Book::Mechanics, "Work of the motor"),
    (Book::Chain, "Work at the vehicle"),
    (Book::Heat, "Heat"),
    (Book::Oil, "Oil"),
    (Book::Wear, "Worn volume, computed two ways: force × distance (in), depth × area (stored)"),
];

/// One side of a ledger.
type Side = fn(&Ledger) -> &BTreeMap<Entry, f64>;
const SIDES: [(&str, Side); 3] = [("in", |l| &l.inward), ("stored", |l| &l.held), ("out", |l| &l.outward)];

/// A convenient unit for the amounts of a ledger: its name, and its size in SI units.
fn unit(si: &str, largest: f64) -> (&'static str, f64) {
    match si {
        "kg" => ("mg", 1e-6),
        "m³" => ("mm³", 1e-9),
        _ if largest >= 1e7 => ("MJ", 1e6),
        _ if largest >= 1e4 => ("kJ", 1e3),
        _ => ("J", 1.0),
    }
}

/// Runs side by side on a terminal, and the share of the largest entry below which entries are summed there.
const ON_TERMINAL: usize = 3;
const LEAST: f64 = 0.005;

/// Allowed share of the largest entry from which a ledger holds next to nothing.
const LITTLE: f64 = 0.01;

/// An entry by the terms of the trade.
fn called(entry: Entry) -> &'static str {
    if entry == Entry::SlipHeat { "slip energy" } else { entry.name() }
}

/// Caption of the oil's ledger without what was lost before the first oiling.
const SINCE: &str = "Oil from the first oiling on, or from the start where none is put on";

/// A ledger of each run.
fn by(book: Book) -> impl Fn(&Run) -> &Ledger + Copy {
    move |run| run.ledgers.of(book)
}

/// Every ledger of every run.
pub fn ledgers(record: &Record) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (book, caption) in CAPTIONS {
        for start in (0..record.runs.len()).step_by(BESIDE) {
            let end = record.runs.len().min(start + BESIDE);
            blocks.push(Block::Table(table(record, by(book), caption, start..end)));
        }
    }
    let since = record.runs.iter().any(|run| run.oil_since.is_some());
    for start in (0..record.runs.len()).step_by(BESIDE).filter(|_| since) {
        let end = record.runs.len().min(start + BESIDE);
        blocks.push(Block::Table(table(record, Run::oil_ledger, SINCE, start..end)));
    }
    blocks
}

/// Heat of the clutch and oil of every run, small entries summed, and how well each ledger closes: for a terminal.
pub fn in_brief(record: &Record) -> Vec<Block> {
    let mut blocks = Vec::new();
    for start in (0..record.runs.len()).step_by(ON_TERMINAL) {
        let shown = start..record.runs.len().min(start + ON_TERMINAL);
        for (book, caption) in [(Book::Clutch, "Heat of the clutch"), (Book::Oil, "Oil")] {
            blocks.push(Block::Table(entries(record, by(book), caption, shown.clone(), LEAST)));
        }
        if record.runs[shown.clone()].iter().any(|run| run.oil_since.is_some()) {
            blocks.push(Block::Table(entries(record, Run::oil_ledger, SINCE, shown.clone(), LEAST)));
        }
        blocks.push(Block::Table(closings(record, shown)));
    }
    blocks
}

/// Imbalance of each ledger of some runs.
fn closings(record: &Record, shown: std::ops::Range<usize>) -> Table {
    let row = |(book, caption): &(Book, &str)| {
        let short = caption.split(',').next().unwrap_or(caption);
        let each =
            record.runs[shown.clone()].iter().map(|run| Cell::Number(power(run.ledgers.of(*book).relative, 1.0)));
        Row::from(std::iter::once(short.into()).chain(each))
    };
    let caption = "What each ledger leaves open, over its largest entry";
    let heads = std::iter::once(Head::words("ledger")).chain(heads(record, shown.clone()));
    let allowed =
        record.runs[shown.clone()].iter().flat_map(|run| CAPTIONS.map(|(book, _)| run.ledgers.of(book).allowed));
    Table::new(caption, heads, CAPTIONS.iter().map(row)).note(refused(allowed))
}

/// When a run fails. A ledger that holds next to nothing, as of a machine that hardly moves, is not judged by its largest entry.
fn refused(allowed: impl Iterator<Item = f64>) -> String {
    let (judged, empty): (Vec<f64>, Vec<f64>) = allowed.partition(|share| *share < LITTLE);
    let most = judged.into_iter().reduce(f64::max);
    let fails =
        most.map(|most| format!("A run fails whose imbalance exceeds {} of the largest entry.", power(most, 1.0)));
    let passes = (!empty.is_empty()).then(|| "A ledger that holds next to nothing may miss more of it.".to_owned());
    fails.into_iter().chain(passes).collect::<Vec<_>>().join(" ")
}

/// A column for each run.
fn heads(record: &Record, shown: std::ops::Range<usize>) -> impl Iterator<Item = Head> {
    let runs = record.runs[shown.clone()].iter().zip(shown);
    runs.map(|(run, k)| Head { of: Some(k), ..Head::of(&name(record, run), "") })
}

/// A ledger of some runs, with its imbalance.
fn table(record: &Record, of: impl Fn(&Run) -> &Ledger + Copy, caption: &str, shown: std::ops::Range<usize>) -> Table {
    let mut table = entries(record, of, caption, shown.clone(), 0.0);
    let books = || record.runs[shown.clone()].iter().map(of);
    let missed = books().map(|l| Cell::Number(power(l.relative, 1.0)));
    let rows = vec![Row::from(std::iter::once("relative to the largest entry".into()).chain(missed))];
    table.groups.push(Group { name: "imbalance".to_owned(), rows });
    table.note(refused(books().map(|ledger| ledger.allowed)))
}

/// Entries of a ledger of some runs by its sides; those under a share of the largest are summed.
fn entries(
    record: &Record,
    of: impl Fn(&Run) -> &Ledger,
    caption: &str,
    shown: std::ops::Range<usize>,
    least: f64,
) -> Table {
    let books: Vec<&Ledger> = record.runs[shown.clone()].iter().map(of).collect();
    let all = books.iter().flat_map(|l| SIDES.iter().flat_map(move |side| side.1(l).values()));
    let largest = all.fold(0.0_f64, |m, v| m.max(v.abs()));
    let (unit, scale) = unit(books.first().map_or("", |ledger| &ledger.unit), largest);
    let digits = if least > 0.0 { 4 } else { 5 };
    let row = |entry: &str, values: &[f64], least: bool| {
        // Rounded so that the largest entry of the table has so many digits; a tooltip shows the rest.
        let mut all: Vec<f64> = values.iter().map(|v| v / scale).collect();
        all.push(largest / scale);
        let mut shown = column(&all, digits);
        if least {
            shown.iter_mut().zip(&all).filter(|(_, v)| v.abs() < 9.95).for_each(|(shown, v)| *shown = figures(*v, 2));
        }
        let cells = values.iter().zip(shown).map(|(v, shown)| Cell::Rounded(shown, format!("{} {unit}", v / scale)));
        Row::from(std::iter::once(entry.into()).chain(cells))
    };
    let mut groups = Vec::new();
    for (heading, side) in SIDES {
        let names: BTreeSet<Entry> = books.iter().flat_map(|l| side(l).keys().copied()).collect();
        let (mut rows, mut rest) = (Vec::new(), vec![0.0; books.len()]);
        for entry in names {
            let values: Vec<f64> = books.iter().map(|l| side(l).get(&entry).copied().unwrap_or(0.0)).collect();
            // What the end leakage takes is never among the others: the oil's life depends on it, and nobody has measured it.
            if entry == Entry::Leaked || values.iter().any(|v| v.abs() > least * largest) {
                rows.push(row(called(entry), &values, least > 0.0 && entry == Entry::Leaked));
            } else {
                rest.iter_mut().zip(values).for_each(|(rest, value)| *rest += value);
            }
        }
        if rest.iter().any(|v| v.abs() > 1e-4 * largest) {
            rows.push(row("other entries", &rest, false));
        }
        if !rows.is_empty() {
            groups.push(Group { name: heading.to_owned(), rows });
        }
    }
    let heads = std::iter::once(Head::words("entry")).chain(heads(record, shown));
    Table::grouped(format!("{caption}, {unit}"), heads, groups)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fails_a_run_is_said_of_ledgers_that_hold_something() {
        let fails = "A run fails whose imbalance exceeds 4\u{a0}×\u{a0}10⁻⁴ of the largest entry.";
        assert_eq!(refused([4e-4, 3e-6].into_iter()), fails);
        let said = refused([4e-4, 1.0].into_iter());
        assert_eq!(said, format!("{fails} A ledger that holds next to nothing may miss more of it."));
    }
}
