//! Ledgers as tables: inputs, stored amounts, outputs, and residuals.

use crate::page::{Block, Cell, Group, Head, Row, Table};
use crate::words::number::{column, power};
use crate::words::reading::name;
use slipsoak_engine::names::{Book, Entry};
use slipsoak_engine::record::{Ledger, Record};
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
fn unit(book: Book, largest: f64) -> (&'static str, f64) {
    match book {
        Book::Oil => ("mg", 1e-6),
        Book::Wear => ("mm³", 1e-9),
        _ if largest >= 1e7 => ("MJ", 1e6),
        _ if largest >= 1e4 => ("kJ", 1e3),
        _ => ("J", 1.0),
    }
}

/// Every ledger of every run.
pub fn ledgers(record: &Record) -> Vec<Block> {
    let mut blocks = Vec::new();
    for (book, caption) in CAPTIONS {
        for start in (0..record.runs.len()).step_by(BESIDE) {
            let end = record.runs.len().min(start + BESIDE);
            blocks.push(Block::Table(table(record, book, caption, start..end)));
        }
    }
    blocks
}

fn table(record: &Record, book: Book, caption: &str, shown: std::ops::Range<usize>) -> Table {
    let books: Vec<&Ledger> = record.runs[shown.clone()].iter().map(|run| run.ledgers.of(book)).collect();
    let entries = books.iter().flat_map(|l| SIDES.iter().flat_map(move |side| side.1(l).values()));
    let largest = entries.fold(0.0_f64, |m, v| m.max(v.abs()));
    let (unit, scale) = unit(book, largest);
    let row = |entry: &str, values: &[f64]| {
        // Rounded so that the largest entry of the table has five digits; a tooltip shows the rest.
        let mut all: Vec<f64> = values.iter().map(|v| v / scale).collect();
        all.push(largest / scale);
        let shown = column(&all, 5);
        let cells = values.iter().zip(shown).map(|(v, shown)| Cell::Rounded(shown, format!("{} {unit}", v / scale)));
        Row::from(std::iter::once(entry.into()).chain(cells))
    };
    let mut groups = Vec::new();
    for (heading, side) in SIDES {
        let names: BTreeSet<Entry> = books.iter().flat_map(|l| side(l).keys().copied()).collect();
        let mut rows = Vec::new();
        for entry in names {
            let values: Vec<f64> = books.iter().map(|l| side(l).get(&entry).copied().unwrap_or(0.0)).collect();
            if values.iter().any(|v| *v != 0.0) {
                rows.push(row(entry.name(), &values));
            }
        }
        if !rows.is_empty() {
            groups.push(Group { name: heading.to_owned(), rows });
        }
    }
    let missed = books.iter().map(|l| Cell::Number(power(l.relative, 1.0)));
    let rows = vec![Row::from(std::iter::once("relative to the largest entry".into()).chain(missed))];
    groups.push(Group { name: "imbalance".to_owned(), rows });
    let runs = record.runs[shown.clone()].iter().zip(shown);
    let heads = runs.map(|(run, k)| Head { of: Some(k), ..Head::of(&name(record, run), "") });
    let allowed = books.iter().fold(0.0_f64, |m, l| m.max(l.allowed));
    Table::grouped(format!("{caption}, {unit}"), std::iter::once(Head::words("entry")).chain(heads), groups)
        .note(format!("A run fails whose imbalance exceeds {} of the largest entry.", power(allowed, 1.0)))
}
