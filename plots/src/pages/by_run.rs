//! Tables with a row for each run.

use crate::page::{Cell, Head, Table};
use crate::words::number::number;
use crate::words::reading::name;
use slipsoak_engine::record::{Record, Run};

/// A table with a row for each run: its name, then the columns.
pub(super) fn by_run(
    record: &Record,
    one: &str,
    caption: &str,
    columns: impl IntoIterator<Item = (Head, Vec<Cell>)>,
) -> Table {
    let names = record.runs.iter().map(|run| name(record, run).into()).collect();
    let columns = std::iter::once((Head::words(one), names)).chain(columns);
    Table::of_columns(caption, columns).of((0..record.runs.len()).map(Some))
}

/// Values of one quantity for every run, to three digits; not-a-number for a run without one.
pub(super) fn numbers(record: &Record, of: impl Fn(&Run) -> f64) -> Vec<Cell> {
    Cell::numbers(record.runs.iter().map(of), 3)
}

/// Counts for every run.
pub(super) fn counts(record: &Record, of: impl Fn(&Run) -> Option<u64>) -> Vec<Cell> {
    record.runs.iter().map(|r| of(r).map_or(Cell::Nothing, |n| Cell::Number(number(n as f64, 1.0)))).collect()
}
