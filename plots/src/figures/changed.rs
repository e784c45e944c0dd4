//! Two results of one kind beside each other: for each value of the answer what it is in the first and in the second.

use crate::figures::part_mark::MARK;
use crate::sheet::prelude::*;
use crate::words::changed::Measure;

/// Largest number of rows of a value.
const ROWS: usize = 12;
/// Height of a row; above the rows of a quantity, with its heading; below them, with its scale, px. A row of a narrow sheet has its
/// name above.
const ROW: f64 = 21.0;
const TALL: f64 = 36.0;
const ABOVE: f64 = 30.0;
const BELOW: f64 = 34.0;
/// Width of the names and of the words on both values, px.
const NAMES: f64 = 190.0;
const WORDS: f64 = 190.0;

/// Draws the measures of two results; `asked`: what differs in what was asked.
pub fn draw(measures: &[Measure], (finding, asked): (&str, &str), look: &Look) -> Result<Drawing, DrawError> {
    if measures.is_empty() {
        return Err(DrawError::Empty);
    }
    let narrow = look.narrow();
    let row = if narrow { TALL } else { ROW };
    let shown = |measure: &Measure| measure.rows.len().min(ROWS);
    let block = |measure: &Measure| ABOVE + row * shown(measure) as f64 + BELOW;
    let height = HEAD + measures.iter().map(block).sum::<f64>() + FOOT;
    let more = measures.iter().map(|measure| measure.rows.len() - shown(measure)).max().unwrap_or(0);
    let left_out = if more > 0 { format!(" {more} more rows are in the table.") } else { String::new() };
    let note = format!("Ring: first; dot: second. Dashed: limit of the second.{left_out} {asked}");
    let describe = "For each value of the answer a row for each item that stands in both results: a ring at the first value, a dot at the second, a line between them, and the limit.";
    sheet(look, height, [finding, &look.under(&note), describe], |sheet| {
        let ends =
            if narrow { (SIDE + 4.0, sheet.width - SIDE - 8.0) } else { (SIDE + NAMES, sheet.width - SIDE - WORDS) };
        let mut top = HEAD + ABOVE;
        for measure in measures {
            let rows = &measure.rows[..shown(measure)];
            let floor = top + row * rows.len() as f64;
            let values = rows.iter().flat_map(|row| row.1).flatten();
            let zero = measure.from_zero.then_some(0.0);
            let range = extent(values.chain(measure.limit.map(|limit| limit.0)).chain(zero));
            let x = Axis::linear(rounded(range, 4.0), ends);
            sheet.text(&measure.heading, (ends.0, top - 16.0), Type::LABEL.bold(true))?;
            ruler::below(sheet, &x, &apart(&x, Type::TICK, 6)?, floor, Some(top), "")?;
            if let Some((at, name)) = measure.limit {
                sheet.line(&[(x.at(at), top - 4.0), (x.at(at), floor)], TEXT, 1.0, LIMIT_DASH)?;
                sheet.on_paper(name, (x.at(at) - 4.0, top - 2.0), Type::TICK.ink(QUIET).side(1))?;
            }
            for (n, one) in rows.iter().enumerate() {
                draw_row(sheet, one, measure, &x, top + row * (n as f64 + 1.0) - 0.5 * ROW)?;
            }
            top += block(measure);
        }
        Ok(())
    })
}

/// An item: its name, both values, and their words.
fn draw_row(
    sheet: &Sheet<'_>,
    (name, [first, second]): &(String, [Option<f64>; 2]),
    measure: &Measure,
    x: &Axis,
    y: f64,
) -> Result<(), DrawError> {
    let (start, stop) = x.ends();
    let [a, b] = [*first, *second].map(|value| value.map_or_else(|| "–".to_owned(), measure.words));
    let words = if a == b { a } else { format!("{a} → {b}") };
    if sheet.narrow() {
        let room = width_of(&words, Type::LABEL)?;
        sheet.named(name, (start, y - 15.0), Type::LABEL, stop - start - room - 10.0)?;
        sheet.text(&words, (stop, y - 15.0), Type::LABEL.side(1))?;
    } else {
        sheet.named(name, (start - 12.0, y), Type::LABEL.side(1), start - SIDE - 12.0)?;
        sheet.fitted(&words, (stop + 12.0, y), Type::LABEL, sheet.width - SIDE - stop - 12.0)?;
    }
    if let (Some(first), Some(second)) = (*first, *second) {
        sheet.line(&[(x.at(first), y), (x.at(second), y)], colour(1), 2.0, None)?;
    }
    if let Some(first) = *first {
        sheet.dot((x.at(first), y), MARK, colour(1))?;
        sheet.dot((x.at(first), y), MARK - 1.6, PAPER)?;
    }
    second.map_or(Ok(()), |second| sheet.dot((x.at(second), y), MARK - 1.0, colour(1)))
}
