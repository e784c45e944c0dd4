//! All runs side by side: heat, oil and life.

use crate::sheet::prelude::*;
use crate::words::reading::{celsius, end, endless, fahrenheit, name};
use crate::words::say;
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;

/// Largest number of rows.
const ROWS: usize = 400;
const ROW: f64 = 32.0;
/// Distance from the heading to the first row, and from the last row to the note, px.
const ABOVE: f64 = 58.0;
/// Line spacing of a name, px.
const NAME: f64 = 14.0;
/// Line spacing of a column head, px.
const LINE: f64 = 16.0;
const BELOW: f64 = 52.0;
/// Width of the names, px, and shares of the rest for each column.
const NAMES: f64 = 216.0;
/// Width of the names if the columns are stacked, px.
const NARROW: f64 = 150.0;
const SHARES: [f64; 4] = [0.25, 0.2, 0.2, 0.35];
/// Smallest share of a column for its scale.
const LEAST: f64 = 0.3;

/// A value and its text.
type Entry = (f64, String);

/// One quantity of every run.
struct Measure {
    heading: String,
    ink: Ink,
    entries: Vec<Entry>,
    /// a value that the axis always includes
    from: f64,
    /// room for the text, px
    room: f64,
    /// whether they are lives, which may be decades apart
    lives: bool,
}

impl Measure {
    /// A scale for the values between two positions, px.
    fn axis(&self, ends: (f64, f64)) -> Axis {
        let values = self.entries.iter().map(|entry| entry.0);
        if self.lives {
            return Axis::fitting(values.filter(|life| *life > 0.0), self.from, 4.0, ends);
        }
        Axis::linear(rounded(extent(values.chain([self.from])), 4.0), ends)
    }
}

/// The columns of the figure.
fn measures(runs: &[Run]) -> [Measure; 4] {
    let all = |entry: &dyn Fn(&Run) -> Entry| runs.iter().map(entry).collect::<Vec<_>>();
    let peak = |run: &Run| {
        let peak = celsius(Channel::LiningSurface.of(&run.overall.most));
        (peak, scales::pair(&format!("{peak:.0}"), &format!("{:.0}", fahrenheit(peak))))
    };
    let power = |run: &Run| {
        // Averaged over the motor's running time, because weeks of rest do not load the clutch.
        let power = Channel::SlipPower.of(&run.overall.mean) * run.duration / run.running_time.max(1e-9);
        let step = match power.abs() {
            ..0.995 => 0.01,
            0.995..99.5 => 0.1,
            _ => 1.0,
        };
        (power, number(power, step))
    };
    let oil = |run: &Run| {
        let oil = 100.0 * run.windows.mean.last().map_or(f64::NAN, |row| Channel::OilFill.of(row));
        (oil, format!("{oil:.1}"))
    };
    let life = |run: &Run| match end(run) {
        Some(end) => (end.running / HOUR, format!("{}, {}", say::time(end.running), end.brief())),
        None => (f64::NAN, endless(run).to_owned()),
    };
    let worn = "running life at this rate, h, and the part that wears out first";
    let measure =
        |heading, k, from, room, entries| Measure { heading, ink: colour(k), entries, from, room, lives: false };
    [
        measure(scales::titled("peak of the lining"), 0, 0.0, 72.0, all(&peak)),
        measure("mean slip power, W".to_owned(), 1, 0.0, 48.0, all(&power)),
        measure("oil fill at the end, %".to_owned(), 2, 100.0, 40.0, all(&oil)),
        Measure { lives: true, ..measure(worn.to_owned(), 4, 0.0, 150.0, all(&life)) },
    ]
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let runs = &record.runs[..record.runs.len().min(ROWS)];
    let more = record.runs.len() - runs.len();
    let left_out = if more > 0 { format!(" {more} more are in the table.") } else { String::new() };
    let measures = measures(runs);
    let rows = ROW * runs.len() as f64;
    let block = ABOVE + rows + BELOW;
    let blocks = if look.narrow() { measures.len() as f64 } else { 1.0 };
    let height = HEAD + block * blocks + FOOT;
    let note = format!(
        "Slip power: mean while the motor runs. Life: running hours until the first part is at its limit (oil apart). Depends on assumed wear constants and end leakage.{left_out}"
    );
    let describe = "One row for each run; a dot for each quantity: peak of the lining, slip power while the motor runs, oil fill at the end, life at this rate.";
    sheet(look, height, [&look.asked(&record.head), &look.note(record, &note), describe], |sheet| {
        let first = HEAD + ABOVE + 0.5 * ROW;
        if sheet.narrow() {
            for (k, measure) in measures.iter().enumerate() {
                let at = first + block * k as f64;
                names(sheet, record, runs, (NARROW, at))?;
                dots(sheet, measure, (NARROW, sheet.width - SIDE), (at, at - first + HEAD))?;
            }
            return Ok(());
        }
        names(sheet, record, runs, (NAMES, first))?;
        let mut left = NAMES;
        for (measure, share) in measures.iter().zip(SHARES) {
            let right = left + share * (sheet.width - SIDE - NAMES);
            dots(sheet, measure, (left, right), (first, HEAD))?;
            left = right;
        }
        Ok(())
    })
}

/// Writes the runs' names to the left of a position.
fn names(sheet: &Sheet<'_>, record: &Record, runs: &[Run], (left, first): (f64, f64)) -> Result<(), DrawError> {
    let set = Type::LABEL.side(1);
    for (k, run) in runs.iter().enumerate() {
        let room = left - SIDE - 14.0;
        // Two lines at most; the second is shortened.
        let name = name(record, run);
        let lines = match wrapped(&name, set, room)?.as_slice() {
            [first, _, ..] => vec![first.clone(), name[first.len()..].trim_start().to_owned()],
            _ => vec![name.clone()],
        };
        let over = first + ROW * k as f64 - 0.5 * NAME * (lines.len() - 1) as f64;
        sheet.of(Some(k), || {
            lines
                .iter()
                .enumerate()
                .try_for_each(|(line, words)| sheet.fitted(words, (left - 14.0, over + NAME * line as f64), set, room))
        })?;
    }
    Ok(())
}

/// A column of dots on a common scale, each with its value.
fn dots(
    sheet: &Sheet<'_>,
    measure: &Measure,
    (left, right): (f64, f64),
    (first, over): (f64, f64),
) -> Result<(), DrawError> {
    // The text may take most of a narrow column, but the scale keeps its smallest width.
    let start = left + 8.0;
    let end = f64::max(right - measure.room - 14.0, start + LEAST * (right - left));
    let axis = measure.axis((start, end));
    let head = Type::LABEL;
    let floor = first + ROW * (measure.entries.len() as f64 - 0.5) + 6.0;
    let lines = wrapped(&measure.heading, head, right - left - 6.0)?;
    let top = over + 20.0 - 0.5 * LINE * (lines.len() - 1) as f64;
    sheet.lines(&lines, (start - 4.0, top), head, LINE)?;
    let guides = Some(first - 0.5 * ROW - 4.0);
    ruler::below(sheet, &axis, &apart(&axis, Type::TICK, 5)?, floor, guides, "")?;
    for (k, (value, words)) in measure.entries.iter().enumerate() {
        let y = first + ROW * k as f64;
        sheet.of(Some(k), || {
            let mut x = start;
            if value.is_finite() {
                x = axis.within(*value);
                // A stem shows a proportion, so it is drawn only if the scale begins at zero.
                let (ink, width) = if axis.begins_at_zero() { (measure.ink.tint(0.55), 1.6) } else { (FAINT, 0.8) };
                sheet.line(&[(start, y), (x, y)], ink, width, None)?;
                sheet.dot((x, y), 4.6, measure.ink)?;
            }
            let set = Type::LABEL;
            // The text is placed before the dot if there is more room than after it.
            let wide = width_of(words, set)?;
            let before = right - x - 10.0 < wide && x - start > right - x;
            let words = fit(words, set, if before { x - left - 12.0 } else { right - x - 10.0 })?;
            let wide = width_of(&words, set)?;
            let from = if before { x - 9.0 - wide } else { x + 9.0 };
            sheet.bar((from - 2.0, y - 8.0), (from + wide, y + 8.0), PAPER)?;
            sheet.text(&words, (from, y), set)
        })?;
    }
    Ok(())
}
