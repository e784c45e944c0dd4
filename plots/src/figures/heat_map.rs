//! Heat maps of a sweep: the first axis horizontally, the second vertically, the third as separate panels, the others
//! at their first value.

use crate::figures::cells::Cells;
use crate::figures::map_axes::{STOPS, beside, names};
use crate::figures::margins;
use crate::figures::reading::in_fahrenheit;
use crate::sheet::axis::Axis as Scale;
use crate::sheet::prelude::*;
use crate::words::reading::{celsius, fahrenheit};
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};

/// Largest number of panels.
const PANELS: usize = 6;
/// Distance from a panel's top to its cells with and without a heading; height of the names below; width of the colour bar, px.
const ABOVE: [f64; 2] = [46.0, 28.0];
const BELOW: f64 = 58.0;
const BAR: f64 = 118.0;
/// Room between cells and colour bar for °F, px.
const FAHRENHEIT: f64 = 24.0;
/// Height of the colour bar if it is below the cells, px.
const LYING: f64 = 48.0;

/// A cell: its combination, its place, the share of its value in the ramp of colours, and what it says.
struct Cell<'r> {
    summary: &'r Summary,
    frame: Frame,
    share: f64,
    said: String,
}

impl Cells {
    /// Draws the figure.
    pub fn draw(self, sweep: &Sweep, look: &Look) -> Result<Drawing, DrawError> {
        let Some(first) = sweep.axes.first() else { return Err(DrawError::Uncrossed) };
        let second = sweep.axes.get(1);
        let third = sweep.axes.get(2);
        let panels = third.map_or(1, |axis| axis.labels.len().min(PANELS));
        let across = match panels {
            _ if look.narrow() => 1,
            ..=1 => 1,
            2..=4 => 2,
            _ => 3,
        };
        let rows = panels.div_ceil(across);
        let lines = second.map_or(1, |axis| axis.labels.len().min(STOPS)) as f64;
        let cell = match lines {
            ..=3.0 => 48.0,
            ..=12.0 => 38.0,
            _ => 24.0,
        };
        let above = ABOVE[usize::from(third.is_none())];
        let bar = if look.narrow() { LYING } else { 0.0 };
        let height = HEAD + rows as f64 * (above + lines * cell + BELOW) + bar + FOOT;
        let values = sweep.rows.iter().filter_map(|row| self.of(&row.summary));
        let (low, high) = extent(values);
        let span = if high > low { (low, high) } else { (low - 1.0, low + 1.0) };
        let scale = Scale::over(span, (0.0, 1.0));
        let mut note = self.note(sweep);
        for axis in sweep.axes.iter().skip(3) {
            note.extend([" Held: ", in_words(&axis.name), " at ", &axis.labels[0], "."]);
        }
        if third.is_some_and(|axis| axis.labels.len() > PANELS)
            || sweep.axes.iter().take(2).any(|a| a.labels.len() > STOPS)
        {
            note.push_str(" Not all are shown: the table holds every combination.");
        }
        let describe = format!(
            "A cell for each combination; across: {}{}; the bar at the right tells the colours.",
            in_words(&first.name),
            second.map_or_else(String::new, |axis| format!("; upward: {}", in_words(&axis.name))),
        );
        let heading = self.heading(sweep);
        let limit = limit(sweep);
        if sweep.rows.iter().any(|row| self.outlined(&row.summary)) {
            note.push_str(self.outline());
        }
        if margins::crosses(first, second) {
            note.push_str(" Lines: engagement at the idle, and 50 and 200 rpm above it.");
        }
        sheet(look, height, [&heading, &look.under(&note), &describe], |sheet| {
            let body = Frame {
                left: SIDE,
                top: HEAD,
                right: sheet.width - if bar > 0.0 { 0.0 } else { BAR + self.more() },
                bottom: sheet.height - FOOT - bar,
            };
            let beside = beside(second)?;
            for (k, frame) in body.split(rows, across).into_iter().take(panels).enumerate() {
                let words =
                    third.map_or_else(String::new, |axis| format!("{} {}", in_words(&axis.name), axis.labels[k]));
                let set = Type::HEADING;
                let words = fit(&words, set, frame.right - frame.left - beside)?;
                sheet.text(&words, (frame.left + beside, frame.top + 16.0), set)?;
                let place = |x: usize, y: usize| -> Vec<usize> {
                    (0..sweep.axes.len()).map(|axis| [x, y, k].get(axis).copied().unwrap_or(0)).collect()
                };
                let cells = Frame {
                    left: frame.left + beside,
                    top: frame.top + above,
                    right: frame.right - 12.0,
                    bottom: frame.bottom - BELOW,
                };
                self.cells(sheet, (first, second), cells, &scale, |x, y| sweep.at(&place(x, y)))?;
                names(sheet, (first, second), cells, beside)?;
            }
            self.bar(sheet, (&scale, limit), above)
        })
    }

    /// Room that the colour bar at the right needs for a second scale, px.
    fn more(self) -> f64 {
        if self == Self::LiningPeak { FAHRENHEIT } else { 0.0 }
    }

    /// Draws the cells of one panel.
    fn cells<'r>(
        self,
        sheet: &Sheet<'_>,
        (first, second): (&Axis, Option<&Axis>),
        frame: Frame,
        scale: &Scale,
        row: impl Fn(usize, usize) -> Option<&'r Row>,
    ) -> Result<(), DrawError> {
        let columns = first.labels.len().min(STOPS);
        let lines = second.map_or(1, |axis| axis.labels.len().min(STOPS));
        let (wide, high) = (frame.wide() / columns as f64, (frame.bottom - frame.top) / lines as f64);
        let cell = |(x, y): (usize, usize)| {
            let summary = &row(x, y)?.summary;
            // The lowest value is at the bottom.
            let (left, bottom) = (frame.left + wide * x as f64, frame.bottom - high * y as f64);
            let frame = Frame::between((left + 1.0, bottom - high + 1.0), (left + wide - 1.0, bottom - 1.0));
            let share = self.shade(scale, summary);
            let at = [Some((first, x)), second.map(|second| (second, y))].into_iter().flatten();
            let at = at.map(|(axis, k)| format!("{} {}", in_words(&axis.name), axis.labels[k]));
            let said: Vec<String> = at.chain([self.said(summary)]).collect();
            Some(Cell { summary, frame, share, said: said.join(", ") })
        };
        let all: Vec<Cell<'_>> = (0..columns).flat_map(|x| (0..lines).map(move |y| (x, y))).filter_map(cell).collect();
        for cell in &all {
            let Frame { left, top, right, bottom } = cell.frame;
            sheet.says(&cell.said, || sheet.bar((left, top), (right, bottom), ramp(cell.share)))?;
            if self.outlined(cell.summary) {
                sheet.outline(&cell.frame.corners(), TEXT, 2.0)?;
            }
        }
        let crossed = margins::crosses(first, second);
        if let Some(second) = second {
            margins::draw(sheet, (first, second), frame)?;
        }
        all.iter().try_for_each(|cell| self.write(sheet, cell, crossed))
    }

    /// Writes the number of a cell; `crossed`: on a patch of its colour, so that no line strikes it out.
    fn write(self, sheet: &Sheet<'_>, cell: &Cell<'_>, crossed: bool) -> Result<(), DrawError> {
        let Frame { left, top, right, bottom } = cell.frame;
        let (middle, high, room) = (0.5 * (left + right), bottom - top, right - left - 2.0);
        let (words, more) = self.words(cell.summary);
        let set = Type::LABEL.side(0).ink(letters(cell.share));
        // If a value is too wide for its cell, its unit is placed below.
        let (words, more) = match words.split_once('\u{a0}') {
            Some((value, unit)) if width_of(&words, set)? > room => (value.to_owned(), unit.to_owned()),
            _ => (words, more),
        };
        let small = Type::of(11.5).side(0).ink(letters(cell.share));
        let roomy = high >= 28.0 && !more.is_empty() && width_of(&more, small)? < room;
        // Without room for a second line the °F value replaces the °C value.
        let words = if !roomy && self == Self::LiningPeak {
            let value = celsius(cell.summary.lining_peak);
            scales::either(&format!("{value:.0}"), &in_fahrenheit(value))
        } else {
            words
        };
        let at = |share: f64| (middle, top + high * share);
        let patched = |words: &str, at: Place, set: Type| {
            if crossed {
                let half = 0.5 * bare_width(words, set)? + 2.0;
                let tall = 0.5 * set.size + 1.0;
                let (from, to) = ((at.0 - half, at.1 - tall), (at.0 + half, at.1 + tall));
                sheet.block(Frame::between(from, to), ramp(cell.share), 1.0)?;
            }
            sheet.text(words, at, set)
        };
        let words = fit(&words, set, room)?;
        // A pointer at the number points at the cell.
        sheet.says(&cell.said, || {
            patched(&words, at(if roomy { 0.34 } else { 0.5 }), set)?;
            if roomy { patched(&more, at(0.73), small) } else { Ok(()) }
        })
    }

    /// Colour bar with its scale: at the right, or on a narrow sheet below the cells.
    fn bar(self, sheet: &Sheet<'_>, (scale, limit): (&Scale, Option<f64>), above: f64) -> Result<(), DrawError> {
        let limit = limit.filter(|limit| self == Self::LiningPeak && scale.holds(*limit));
        let (tick, [low, high]) = (Type::TICK, self.ends());
        let share = |value: f64| self.share(scale, value);
        if sheet.narrow() {
            let (left, right, top) = (SIDE + 44.0, sheet.width - SIDE - 44.0, sheet.height - FOOT - LYING + 8.0);
            let along = scale.between((left, right));
            colour_bar::draw(sheet, &along, (top, top + 14.0), false, share)?;
            sheet.text(low, (left - 6.0, top + 7.0), tick.side(1))?;
            sheet.text(high, (right + 6.0, top + 7.0), tick)?;
            let ticks = along.round(3).into_iter().map(|value| (value, self.tick(value))).collect();
            for (value, words) in thinned(&along, ticks, tick)? {
                let at = along.at(value);
                sheet.line(&[(at, top + 14.0), (at, top + 18.0)], TEXT, 0.9, None)?;
                sheet.text(&words, (at, top + 27.0), tick.side(0))?;
            }
            let mark =
                |limit| sheet.line(&[(along.at(limit), top - 4.0), (along.at(limit), top + 18.0)], TEXT, 2.0, None);
            return limit.map_or(Ok(()), mark);
        }
        let (left, right) = (sheet.width - BAR + 34.0, sheet.width - BAR + 48.0);
        let (top, bottom) = (HEAD + above + 12.0, sheet.height - FOOT - BELOW);
        let along = scale.between((bottom, top));
        colour_bar::draw(sheet, &along, (left, right), true, share)?;
        for (words, at) in [(high, top - 16.0), (low, bottom + 16.0)] {
            sheet.text(words, (0.5 * (left + right), at), tick.side(0))?;
        }
        // The limit has its place among the round values, but for those that it would cover.
        let mut values = along.round(5);
        if let Some(limit) = limit {
            values.retain(|value| (along.at(*value) - along.at(limit)).abs() > 16.0);
            values.push(limit);
            sheet.line(&[(left - 5.0, along.at(limit)), (right + 5.0, along.at(limit))], TEXT, 2.0, None)?;
        }
        // Values whose words are alike tell nothing: the first of them stands.
        values.dedup_by(|later, earlier| self.tick(*later) == self.tick(*earlier));
        for value in values {
            let at = along.at(value);
            let tick = tick.bold(limit == Some(value));
            sheet.line(&[(right, at), (right + 4.0, at)], TEXT, 0.9, None)?;
            if self != Self::LiningPeak {
                sheet.text(&self.tick(value), (right + 7.0, at), tick)?;
                continue;
            }
            sheet.text(&scales::celsius_only(&format!("{value:.0} °C")), (right + 7.0, at), tick)?;
            let words = scales::fahrenheit_only(&format!("{:.0} °F", fahrenheit(value)));
            sheet.line(&[(left - 4.0, at), (left, at)], TEXT, 0.9, None)?;
            sheet.text(&words, (left - 6.0, at), tick.side(1).ink(QUIET))?;
        }
        Ok(())
    }
}

/// Least of the lining's limits, °C.
fn limit(sweep: &Sweep) -> Option<f64> {
    sweep.rows.iter().filter_map(|row| row.summary.lining_limit).reduce(f64::min).map(celsius)
}
