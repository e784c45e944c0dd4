//! Heat maps of a sweep: the first axis horizontally, the second vertically, the third as separate panels, the others
//! at their first value.

use crate::figures::margins;
use crate::figures::reading::in_fahrenheit;
use crate::sheet::axis::Axis as Scale;
use crate::sheet::prelude::*;
use crate::words::reading::{brief, celsius, fahrenheit};
use crate::words::{say, sweep as words};
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use slipsoak_engine::units::HOUR;

/// Largest number of panels, and of values of an axis.
const PANELS: usize = 6;
const STOPS: usize = 24;
/// Distance from a panel's top to its cells with and without a heading; smallest and largest width of the names beside
/// them; height of the names below; width of the colour bar, px.
const ABOVE: [f64; 2] = [46.0, 28.0];
const BESIDE: (f64, f64) = (64.0, 210.0);
const BELOW: f64 = 58.0;
const BAR: f64 = 118.0;
/// Height of the colour bar if it is below the cells, px.
const LYING: f64 = 48.0;

/// Quantity that colours the cells of a sweep.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cells {
    /// highest temperature of the lining
    LiningPeak,
    /// slip energy of a launch
    SlipEnergy,
    /// life, and the part that wears out first
    Life,
}

impl Cells {
    fn heading(self, sweep: &Sweep) -> String {
        match self {
            Self::LiningPeak => words::overheated(sweep),
            Self::SlipEnergy => words::energies(sweep),
            Self::Life => words::lives(sweep),
        }
    }

    const fn note(self) -> &'static str {
        match self {
            Self::LiningPeak => "Greatest temperature of the lining's surface.",
            Self::SlipEnergy => "Slip energy per launch, kJ; – without a launch.",
            Self::Life => {
                "Running time until the first part is worn out, oil apart. Depends on assumed wear constants."
            }
        }
    }

    /// The quantity of a combination, °C, kJ or h.
    fn of(self, summary: &Summary) -> Option<f64> {
        match self {
            Self::LiningPeak => Some(celsius(summary.lining_peak)),
            Self::SlipEnergy => summary.slip_energy.map(|joules| joules / 1e3),
            Self::Life => summary.running.or(summary.life).map(|life| life / HOUR),
        }
        .filter(|value| value.is_finite())
    }

    /// Place of a value in the ramp of colours, from good to bad.
    fn share(self, scale: &Scale, value: f64) -> f64 {
        let share = scale.at(value);
        if self == Self::Life { 1.0 - share } else { share }
    }

    /// Text of a cell: the number, and a second line.
    fn words(self, summary: &Summary) -> (String, String) {
        let Some(value) = self.of(summary) else { return ("–".to_owned(), String::new()) };
        match self {
            Self::LiningPeak => {
                (scales::celsius_only(&format!("{value:.0}")), scales::fahrenheit_only(&in_fahrenheit(value)))
            }
            Self::SlipEnergy => (number(value, if value < 9.95 { 0.01 } else { 0.1 }), String::new()),
            Self::Life => {
                (say::time(HOUR * value), summary.ended_by.map_or_else(String::new, |part| brief(part).to_owned()))
            }
        }
    }

    /// What a cell says to a reader who points at it.
    fn said(self, summary: &Summary) -> String {
        let Some(value) = self.of(summary) else { return "no launch".to_owned() };
        match (self, self.words(summary)) {
            (Self::LiningPeak, _) => format!("lining up to {}", self.tick(value)),
            (Self::SlipEnergy, (words, _)) => format!("{words} kJ a launch"),
            (Self::Life, (words, part)) => [words, part].join(" "),
        }
    }

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
        let mut note = self.note().to_owned();
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
        if sweep.rows.iter().any(|row| words::too_hot(&row.summary)) {
            note.push_str(" Outlined: over the lining's limit.");
        }
        if margins::crosses(first, second) {
            note.push_str(" Lines: engagement at the idle, and 50 and 200 rpm above it.");
        }
        sheet(look, height, [&heading, &look.under(&note), &describe], |sheet| {
            let body = Frame {
                left: SIDE,
                top: HEAD,
                right: sheet.width - if bar > 0.0 { 0.0 } else { BAR },
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

    /// Draws the cells of one panel and the names of their values.
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
        let (wide, high) = ((frame.right - frame.left) / columns as f64, (frame.bottom - frame.top) / lines as f64);
        for x in 0..columns {
            let middle = frame.left + wide * (x as f64 + 0.5);
            for y in 0..lines {
                // The lowest value is at the bottom.
                let top = frame.bottom - high * (y as f64 + 1.0);
                let Some(row) = row(x, y) else { continue };
                let share = self.of(&row.summary).map_or(0.0, |value| self.share(scale, value));
                let (corner, opposite) =
                    ((middle - 0.5 * wide + 1.0, top + 1.0), (middle + 0.5 * wide - 1.0, top + high - 1.0));
                let at = [Some((first, x)), second.map(|second| (second, y))].into_iter().flatten();
                let at = at.map(|(axis, k)| format!("{} {}", in_words(&axis.name), axis.labels[k]));
                let said: Vec<String> = at.chain([self.said(&row.summary)]).collect();
                sheet.says(&said.join(", "), || sheet.bar(corner, opposite, ramp(share)))?;
                if words::too_hot(&row.summary) {
                    sheet.outline(&Frame::between(corner, opposite).corners(), TEXT, 2.0)?;
                }
            }
        }
        if let Some(second) = second {
            margins::draw(sheet, (first, second), frame)?;
        }
        for x in 0..columns {
            let middle = frame.left + wide * (x as f64 + 0.5);
            for y in 0..lines {
                let top = frame.bottom - high * (y as f64 + 1.0);
                let Some(row) = row(x, y) else { continue };
                let share = self.of(&row.summary).map_or(0.0, |value| self.share(scale, value));
                let (words, more) = self.words(&row.summary);
                let set = Type::LABEL.side(0).ink(letters(share));
                // If a value is too wide for its cell, its unit is placed below.
                let (words, more) = match words.split_once('\u{a0}') {
                    Some((value, unit)) if width_of(&words, set)? > wide - 4.0 => (value.to_owned(), unit.to_owned()),
                    _ => (words, more),
                };
                let small = Type::of(11.5).side(0).ink(letters(share));
                let roomy = high >= 30.0 && !more.is_empty() && width_of(&more, small)? < wide - 4.0;
                let at = top + high * if roomy { 0.35 } else { 0.5 };
                // Without room for a second line the °F value replaces the °C value.
                let words = if !roomy && self == Self::LiningPeak {
                    let value = celsius(row.summary.lining_peak);
                    scales::either(&format!("{value:.0}"), &in_fahrenheit(value))
                } else {
                    words
                };
                sheet.fitted(&words, (middle, at), set, wide - 4.0)?;
                if roomy {
                    sheet.text(&more, (middle, top + 0.72 * high), small)?;
                }
            }
        }
        Ok(())
    }

    /// Text of a value beside the colour bar.
    fn tick(self, value: f64) -> String {
        match self {
            Self::LiningPeak => scales::pair(&format!("{value:.0} °C"), &format!("{:.0} °F", fahrenheit(value))),
            Self::SlipEnergy => format!("{} kJ", number(value, if value < 9.95 { 0.1 } else { 1.0 })),
            Self::Life => say::time(HOUR * value),
        }
    }

    /// Meaning of the ends of the bar.
    const fn ends(self) -> [&'static str; 2] {
        match self {
            Self::LiningPeak => ["cold", "hot"],
            Self::SlipEnergy => ["little", "much"],
            Self::Life => ["short", "long"],
        }
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

/// Labels of an axis's values, and their unit if they share one.
fn stops(axis: &Axis) -> (Vec<&str>, Option<&str>) {
    let labels = axis.labels.iter().take(STOPS).map(String::as_str);
    let unit = axis.labels.first().and_then(|label| label.split_once(' ')).map(|(_, unit)| unit);
    let bare: Option<Vec<&str>> = labels.clone().map(|label| label.strip_suffix(unit?).map(str::trim)).collect();
    match bare {
        Some(bare) if !axis.values.is_empty() => (bare, unit),
        _ => (labels.collect(), None),
    }
}

/// Title of an axis: its plain name and unit.
fn title(axis: &Axis, set: Type, room: f64) -> Result<String, DrawError> {
    let unit = stops(axis).1.map_or_else(String::new, |unit| format!(", {unit}"));
    fit(&format!("{}{unit}", in_words(&axis.name)), set, room)
}

/// Width of the names beside the cells, with the axis title, px.
fn beside(axis: Option<&Axis>) -> Result<f64, DrawError> {
    let mut widest = 0.0_f64;
    for label in axis.iter().flat_map(|axis| stops(axis).0) {
        widest = widest.max(width_of(label, Type::TICK)?);
    }
    Ok((widest + 42.0).clamp(BESIDE.0, BESIDE.1))
}

/// Writes the names of the values beside and below the cells, and the axis titles.
fn names(
    sheet: &Sheet<'_>,
    (first, second): (&Axis, Option<&Axis>),
    cells: Frame,
    beside: f64,
) -> Result<(), DrawError> {
    let (tick, set) = (Type::TICK, Type::LABEL);
    let below = stops(first).0;
    let wide = (cells.right - cells.left) / below.len() as f64;
    let mut widest = 0.0_f64;
    for label in &below {
        widest = widest.max(width_of(label, tick)?);
    }
    // Only every second, third … number if they would touch; words are shortened instead.
    let every = if first.values.is_empty() { 1 } else { ((widest + 4.0) / wide).ceil().max(1.0) as usize };
    for (x, label) in below.iter().enumerate().step_by(every) {
        let label = fit(label, tick, wide * every as f64 - 4.0)?;
        sheet.text(&label, (cells.left + wide * (x as f64 + 0.5), cells.bottom + 13.0), tick.side(0))?;
    }
    let middle = 0.5 * (cells.left + cells.right);
    let words = title(first, set, cells.right - cells.left)?;
    sheet.text(&words, (middle, cells.bottom + 32.0), set.side(0))?;
    let Some(second) = second else { return Ok(()) };
    let left = stops(second).0;
    let high = (cells.bottom - cells.top) / left.len() as f64;
    for (y, label) in left.iter().enumerate() {
        let label = fit(label, tick, beside - 36.0)?;
        sheet.text(&label, (cells.left - 7.0, cells.bottom - high * (y as f64 + 0.5)), tick.side(1))?;
    }
    let words = title(second, set, cells.bottom - cells.top + 54.0)?;
    sheet.text(&words, (cells.left - beside + 14.0, 0.5 * (cells.top + cells.bottom) + 12.0), set.upright())
}
