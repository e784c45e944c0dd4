//! Two records beside each other: for each run that stands in both, life, peaks and oil fill in the first and in the second.

use crate::figures::part_mark::MARK;
use crate::sheet::prelude::*;
use crate::words::changed::{Pair, finding};
use crate::words::compared::{fill, peak};
use crate::words::number::figures;
use crate::words::reading::{celsius, end};
use crate::words::say;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Parameter, settings};
use slipsoak_engine::record::Run;
use slipsoak_engine::units::HOUR;

/// Largest number of runs.
const RUNS: usize = 12;
/// Height of a row; above the rows of a quantity, with its heading; below them, with its scale, px. A row of a narrow sheet has its
/// name above.
const ROW: f64 = 21.0;
const TALL: f64 = 36.0;
const ABOVE: f64 = 30.0;
const BELOW: f64 = 34.0;
/// Width of the names and of the words on both values, px.
const NAMES: f64 = 190.0;
const WORDS: f64 = 190.0;

/// A quantity: heading, value on the scale and as text, and its limit.
struct Measure {
    heading: String,
    value: fn(&Run) -> Option<f64>,
    words: fn(f64) -> String,
    limit: Option<Limit>,
}

/// A limit: its setting, its value on the scale, and its name.
type Limit = (&'static Parameter, fn(f64) -> f64, &'static str);

fn measures() -> [Measure; 4] {
    let degrees = |celsius: f64| scales::pair(&format!("{celsius:.0}"), &format!("{:.0}", 1.8 * celsius + 32.0));
    [
        Measure {
            heading: "life, h the motor runs".to_owned(),
            value: |run| end(run).map(|end| end.running / HOUR),
            words: |hours| say::lasts(HOUR * hours),
            limit: None,
        },
        Measure {
            heading: scales::titled("peak of the lining"),
            value: |run| peak(run, Channel::LiningSurface).map(celsius),
            words: degrees,
            limit: Some((&settings::limits::lining_most, celsius, "limit")),
        },
        Measure {
            heading: scales::titled("peak of the bushing"),
            value: |run| peak(run, Channel::Bushing).map(celsius),
            words: degrees,
            limit: Some((&settings::limits::bushing_warning, celsius, "limit")),
        },
        Measure {
            heading: "oil fill at the end, %".to_owned(),
            value: |run| fill(run).map(|fill| 100.0 * fill),
            words: |fill| format!("{}\u{a0}%", figures(fill, 3)),
            limit: Some((&settings::limits::oil_service, |fill| 100.0 * fill, "service due")),
        },
    ]
}

/// Draws the runs of two records that stand in both; `asked`: what differs in what was asked.
pub fn draw(pairs: &[Pair<'_>], asked: &str, look: &Look) -> Result<Drawing, DrawError> {
    let shown = &pairs[..pairs.len().min(RUNS)];
    if shown.is_empty() {
        return Err(DrawError::Empty);
    }
    let measures = measures();
    let narrow = look.narrow();
    let row = if narrow { TALL } else { ROW };
    let block = ABOVE + row * shown.len() as f64 + BELOW;
    let height = HEAD + block * measures.len() as f64 + FOOT;
    let more = pairs.len() - shown.len();
    let left_out = if more > 0 { format!(" {more} more runs are in the table.") } else { String::new() };
    let note = format!("Ring: first; dot: second. Dashed: limit of the second.{left_out} {asked}");
    let describe = "For each quantity a row for each run that stands in both results: a ring at the first value, a dot at the second, a line between them, and the limit.";
    sheet(look, height, [&finding(pairs), &look.under(&note), describe], |sheet| {
        let ends =
            if narrow { (SIDE + 4.0, sheet.width - SIDE - 8.0) } else { (SIDE + NAMES, sheet.width - SIDE - WORDS) };
        for (k, measure) in measures.iter().enumerate() {
            let top = HEAD + block * k as f64 + ABOVE;
            let floor = top + row * shown.len() as f64;
            let limit = measure.limit.and_then(|(of, scaled, name)| Some((scaled(shown[0].second.setting(of)?), name)));
            let values = shown.iter().flat_map(|pair| [(measure.value)(pair.first), (measure.value)(pair.second)]);
            let low = if k == 0 { Some(0.0) } else { None };
            let range = extent(values.flatten().chain(limit.map(|limit| limit.0)).chain(low));
            if range.0 > range.1 {
                continue;
            }
            let x = Axis::linear(rounded(range, 4.0), ends);
            sheet.text(&measure.heading, (ends.0, top - 16.0), Type::LABEL.bold(true))?;
            ruler::below(sheet, &x, &apart(&x, Type::TICK, 6)?, floor, Some(top), "")?;
            if let Some((at, name)) = limit {
                sheet.line(&[(x.at(at), top - 4.0), (x.at(at), floor)], TEXT, 1.0, LIMIT_DASH)?;
                sheet.on_paper(name, (x.at(at) - 4.0, top - 2.0), Type::TICK.ink(QUIET).side(1))?;
            }
            for (n, pair) in shown.iter().enumerate() {
                draw_row(sheet, pair, measure, &x, top + row * (n as f64 + 1.0) - 0.5 * ROW)?;
            }
        }
        Ok(())
    })
}

/// A run: its name, both values, and their words.
fn draw_row(sheet: &Sheet<'_>, pair: &Pair<'_>, measure: &Measure, x: &Axis, y: f64) -> Result<(), DrawError> {
    let (start, stop) = x.ends();
    let [first, second] = [pair.first, pair.second].map(measure.value);
    let [a, b] = [first, second].map(|value| value.map_or_else(|| "–".to_owned(), measure.words));
    let words = if a == b { a } else { format!("{a} → {b}") };
    if sheet.narrow() {
        let room = width_of(&words, Type::LABEL)?;
        sheet.fitted(&pair.name, (start, y - 15.0), Type::LABEL, stop - start - room - 10.0)?;
        sheet.text(&words, (stop, y - 15.0), Type::LABEL.side(1))?;
    } else {
        sheet.fitted(&pair.name, (start - 12.0, y), Type::LABEL.side(1), start - SIDE - 12.0)?;
        sheet.fitted(&words, (stop + 12.0, y), Type::LABEL, sheet.width - SIDE - stop - 12.0)?;
    }
    if let (Some(first), Some(second)) = (first, second) {
        sheet.line(&[(x.at(first), y), (x.at(second), y)], colour(1), 2.0, None)?;
    }
    if let Some(first) = first {
        sheet.dot((x.at(first), y), MARK, colour(1))?;
        sheet.dot((x.at(first), y), MARK - 1.6, PAPER)?;
    }
    second.map_or(Ok(()), |second| sheet.dot((x.at(second), y), MARK - 1.0, colour(1)))
}
