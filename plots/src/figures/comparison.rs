//! All runs side by side, the longest-lived first: peak of the lining, life, oil fill, margin over the idle. What is over a
//! limit has a colour; all else is grey.

use crate::figures::compared_columns::{fills, lives, margins, peaks};
use crate::figures::table_column::{Column, GAP};
use crate::sheet::prelude::*;
use crate::words::compared::{by_duty, longest_first};
use crate::words::findings;
use crate::words::learned::{constants, of_record};
use crate::words::reading::{fahrenheit, name, reference};
use slipsoak_engine::record::{Record, Run};

/// Largest number of rows.
const ROWS: usize = 400;
/// Height of a row, and of a duty's heading, px; a row of a narrow sheet has its name above.
const ROW: f64 = 25.0;
const BAND: f64 = 24.0;
const TALL: f64 = 62.0;
/// Distance from the heading to the first row, and from the last row to the note, px.
const ABOVE: f64 = 42.0;
const BELOW: f64 = 30.0;
/// Largest width of the names, distance between columns, px, and shares of the remaining width for each scale.
const NAMES: f64 = 190.0;
const BETWEEN: f64 = 20.0;
const SCALES: [f64; 4] = [0.25, 0.42, 0.15, 0.18];
/// Width of a sheet from which headings stand whole, px.
const WHOLE: f64 = 900.0;
/// Least width of a scale, px.
const LEAST: f64 = 56.0;
/// Columns drawn on a narrow sheet, with the ends of their scales, as shares of its width.
const NARROW: [(usize, f64, f64); 2] = [(0, 0.05, 0.4), (1, 0.5, 0.95)];

/// A row: a run with its index.
struct Row<'a> {
    index: usize,
    run: &'a Run,
    best: bool,
    reference: bool,
}

/// Rows under a duty, the longest-lived first; no heading if there is one duty, or one machine.
struct Band<'a> {
    duty: Option<&'a str>,
    rows: Vec<Row<'a>>,
}

fn bands(record: &Record) -> Vec<Band<'_>> {
    let one = record.runs.iter().all(|run| run.variant == record.runs[0].variant);
    let duties = if one { vec![("", record.runs.iter().collect())] } else { by_duty(record) };
    let several = duties.len() > 1;
    let mut room = ROWS;
    let band = |(duty, runs): (_, Vec<&Run>)| {
        let sorted = longest_first(&runs);
        let best = findings::longest_that_fits(record, &runs).filter(|_| !one && runs.len() > 1);
        let row = |run: &&'_ Run| {
            let index = record.runs.iter().position(|other| std::ptr::eq(other, *run)).unwrap_or(0);
            let run = &record.runs[index];
            let best = best.is_some_and(|best| std::ptr::eq(best, run));
            Row { index, run, best, reference: reference(record, run) }
        };
        let rows: Vec<Row<'_>> = sorted.iter().take(room).map(row).collect();
        room -= rows.len();
        Band { duty: several.then_some(duty), rows }
    };
    duties.into_iter().map(band).collect()
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let bands = bands(record);
    let rows: Vec<&Row<'_>> = bands.iter().flat_map(|band| &band.rows).collect();
    let runs: Vec<&Run> = rows.iter().map(|row| row.run).collect();
    let mut columns = [peaks(&runs), lives(record, &runs), fills(&runs), margins(record, &runs)];
    if look.width() < WHOLE {
        for column in &mut columns {
            column.heading = column.heading.split(';').next().unwrap_or_default().to_owned();
        }
    }
    let narrow = look.narrow();
    let high = if narrow { TALL } else { ROW };
    let headed = bands.iter().filter(|band| band.duty.is_some()).count() as f64;
    let height = HEAD + ABOVE + high * rows.len() as f64 + BAND * headed + BELOW + FOOT;
    let more = record.runs.len() - rows.len();
    let left_out = if more > 0 { format!(" {more} more are in the table.") } else { String::new() };
    let marked = [
        (
            columns.iter().any(|column| column.cells.iter().any(|cell| cell.over)),
            " Orange and bold: over a limit, or unfit.",
        ),
        (rows.iter().any(|row| row.best), " Tinted: longest that fits."),
        (rows.iter().any(|row| row.reference), " Outlined: reference."),
        (columns.iter().any(Column::differs), " Short dashes: each machine's own limit."),
        (true, " Over idle: the nominal one, hot and relaxed."),
    ];
    let marked: String = marked.iter().filter(|(given, _)| *given).map(|(_, words)| *words).collect();
    let note = format!(
        "Whisker: life by the worst to the best {} wear constants; arrow: beyond the axis.{marked}{left_out}",
        constants(&of_record(record))
    );
    let describe = "One row for each run, the longest-lived first: peak of the lining with its limit, life with its range, oil fill at the end with the fill at which service is due, engagement over the idle.";
    let heading = findings::longest(record);
    sheet(look, height, [&heading, &look.note(record, &note), describe], |sheet| {
        let top = HEAD + ABOVE;
        let floor = sheet.height - FOOT - BELOW;
        let named = rows.iter().map(|row| width_of(&called(record, row, &bands), Type::LABEL.bold(true)));
        let named = named.collect::<Result<Vec<_>, _>>()?.into_iter().fold(40.0, f64::max);
        let named = named.min(NAMES).min((sheet.width - 2.0 * SIDE - taken(&columns)? - 4.0 * LEAST).max(LEAST));
        let ends = scales_of(sheet, &columns, SIDE + named)?;
        for (k, start, stop) in &ends {
            columns[*k].frame(sheet, (*start, *stop), (top, floor), sheet.narrow())?;
        }
        let (mut at, mut k) = (top, 0);
        for band in &bands {
            if let Some(duty) = band.duty {
                sheet.bar((SIDE, at + 2.0), (sheet.width - SIDE, at + BAND - 2.0), FAINT.tint(0.7))?;
                let set = Type::LABEL.bold(true);
                sheet.fitted(duty, (SIDE + 6.0, at + 0.5 * BAND), set, sheet.width - 2.0 * SIDE - 12.0)?;
                at += BAND;
            }
            for row in &band.rows {
                let name = called(record, row, &bands);
                sheet.of(Some(row.index), || draw_row(sheet, (row, &name, named), (&columns, k), &ends, (at, high)))?;
                (at, k) = (at + high, k + 1);
            }
        }
        Ok(())
    })
}

/// Room that the columns take beside their scales, px.
fn taken(columns: &[Column; 4]) -> Result<f64, DrawError> {
    columns.iter().map(|column| Ok(column.beside(LEAST)? + BETWEEN)).sum()
}

/// The columns with a scale, each with the ends of the scale, px, right of this position.
fn scales_of(sheet: &Sheet<'_>, columns: &[Column; 4], left: f64) -> Result<Vec<(usize, f64, f64)>, DrawError> {
    if sheet.narrow() {
        return Ok(NARROW.map(|(k, from, to)| (k, from * sheet.width, to * sheet.width)).to_vec());
    }
    let words = columns.iter().map(|column| column.beside(LEAST)).collect::<Result<Vec<_>, _>>()?;
    let free = sheet.width - SIDE - left - taken(columns)?;
    // What the least width takes more than its share is taken from the others.
    let least = |share: &&f64| **share * free < LEAST;
    let lent = SCALES.iter().filter(least).count() as f64 * LEAST;
    let shares = SCALES.iter().filter(|share| !least(share)).sum::<f64>();
    let mut left = left;
    let column = |(k, (words, share)): (usize, (&f64, &f64))| {
        let start = left + BETWEEN;
        let stop = start + if least(&share) { LEAST } else { (share / shares * (free - lent)).max(LEAST) };
        left = stop + words;
        (k, start, stop)
    };
    Ok(words.iter().zip(&SCALES).enumerate().map(column).collect())
}

/// Names of rows: under their duty's heading without the duty.
fn called(record: &Record, row: &Row<'_>, bands: &[Band<'_>]) -> String {
    if bands.len() > 1 { row.run.variant.clone() } else { name(record, row.run) }
}

fn draw_row(
    sheet: &Sheet<'_>,
    (row, name, named): (&Row<'_>, &str, f64),
    (columns, k): (&[Column; 4], usize),
    ends: &[(usize, f64, f64)],
    (top, high): (f64, f64),
) -> Result<(), DrawError> {
    let frame = Frame { left: SIDE - 6.0, right: sheet.width - SIDE + 6.0, top: top + 1.0, bottom: top + high - 1.0 };
    if row.best {
        sheet.block(frame, QUIET, 0.13)?;
    }
    if row.reference {
        sheet.outline(&frame.corners(), QUIET, 1.0)?;
    }
    let set = Type::LABEL.bold(row.best || row.reference);
    if !sheet.narrow() {
        let y = top + 0.5 * high;
        sheet.named(name, (SIDE + named, y), set.side(1), named)?;
        return ends.iter().try_for_each(|(column, start, stop)| {
            let next = ends.iter().map(|end| end.1).find(|other| other > stop).unwrap_or(sheet.width);
            columns[*column].mark(sheet, (k, name), (*start, *stop), y)?;
            columns[*column].words(sheet, k, (*stop + GAP, next - 6.0), y)
        });
    }
    let (wide, lasts) = (sheet.width - 2.0 * SIDE, &columns[1].cells[k]);
    let room = (wide - width_of(name, set)? - 10.0).max(0.66 * wide);
    let words = fit(&lasts.words, lasts.set(), room)?;
    let taken = width_of(&words, lasts.set())?;
    sheet.named(name, (SIDE, top + 12.0), set, wide - taken - 10.0)?;
    sheet.text(&words, (sheet.width - SIDE, top + 12.0), lasts.set().side(1))?;
    for (column, start, stop) in ends {
        columns[*column].mark(sheet, (k, name), (*start, *stop), top + 30.0)?;
    }
    let pieces = [(0, "lining ", " °C"), (2, "oil ", ""), (3, "", " rpm over idle")];
    let mut left = SIDE;
    for (column, before, after) in pieces {
        let cell = &columns[column].cells[k];
        let words = if column == 0 {
            let value = cell.value;
            format!("{before}{}", scales::pair(&format!("{value:.0}{after}"), &format!("{:.0} °F", fahrenheit(value))))
        } else {
            format!("{before}{}{after}", cell.words)
        };
        sheet.text(&words, (left, top + 49.0), cell.set().size(12.5))?;
        left += width_of(&words, cell.set())? + 10.0;
    }
    Ok(())
}
