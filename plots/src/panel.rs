//! One chart: curves over time, limits, and labels at the curves' ends inside the frame.

use crate::DrawError;
use crate::axis::{Axis, pieces};
use crate::canvas::{LETTERS, Place, Sheet, Type};
use crate::label::{self, Label};
use crate::palette::{Dash, FAINT, LIMIT_DASH, QUIET, TEXT, colour};

/// A curve with its place in the order of colours.
pub struct Curve {
    pub label: String,
    pub order: usize,
    pub points: Vec<Place>,
    /// least and greatest around the curve, at the same places; may be empty
    pub band: Vec<(f64, f64, f64)>,
    /// where the curve goes on after the record, drawn thin; may be empty
    pub beyond: Vec<Place>,
    pub dash: Dash,
    pub bold: bool,
}

/// A limit drawn across the chart.
pub struct Limit {
    pub label: String,
    pub at: f64,
}

/// An axis at the right in another unit.
pub struct Second {
    pub title: String,
    pub unit: fn(f64) -> f64,
}

/// A chart of curves.
pub struct Panel {
    pub heading: String,
    /// second line of the heading, in bold; may be empty
    pub verdict: String,
    pub across: String,
    pub up: String,
    pub second: Option<Second>,
    pub x: (f64, f64),
    pub y: (f64, f64),
    pub curves: Vec<Curve>,
    pub limits: Vec<Limit>,
    /// room for labels between the curves' ends and the right axis, px
    pub room: f64,
    pub format_up: fn(f64) -> Option<String>,
}

/// A rectangle on the sheet, px.
#[derive(Clone, Copy)]
pub struct Frame {
    pub left: f64,
    pub top: f64,
    pub right: f64,
    pub bottom: f64,
}

impl Frame {
    /// Equal parts in rows and columns, row after row.
    pub fn split(self, rows: usize, columns: usize) -> Vec<Self> {
        let wide = (self.right - self.left) / columns as f64;
        let high = (self.bottom - self.top) / rows as f64;
        let part = |k: usize| {
            let (left, top) = (self.left + wide * (k % columns) as f64, self.top + high * (k / columns) as f64);
            Self { left, top, right: left + wide, bottom: top + high }
        };
        (0..rows * columns).map(part).collect()
    }
}

impl Panel {
    /// The scales of the chart in a frame, across and up.
    pub fn axes(&self, frame: Frame) -> (Axis, Axis) {
        let top = frame.top + if self.verdict.is_empty() { 28.0 } else { 44.0 };
        let right = frame.right - if self.second.is_some() { 66.0 } else { 18.0 };
        let ends = (frame.left + 68.0, right - self.room);
        (Axis::linear(self.x, ends), Axis::linear(self.y, (frame.bottom - 46.0, top)))
    }

    /// Draws the chart into a frame.
    pub fn draw(&self, sheet: &Sheet<'_>, frame: Frame) -> Result<(), DrawError> {
        let top = frame.top + if self.verdict.is_empty() { 28.0 } else { 44.0 };
        let left = frame.left + 68.0;
        let right = frame.right - if self.second.is_some() { 66.0 } else { 18.0 };
        let bottom = frame.bottom - 46.0;
        let end = right - self.room;
        let (x, y) = self.axes(frame);
        self.head(sheet, (left, frame.top + 13.0), right)?;
        let foot = if self.second.is_some() { right } else { end };
        let tick = Type::of(LETTERS[3]);
        let title = Type::of(LETTERS[2]);
        for (value, words) in y.ticks(7) {
            let at = y.at(value);
            sheet.line(&[(left, at), (end, at)], FAINT, 0.6, None)?;
            sheet.line(&[(left - 4.0, at), (left, at)], TEXT, 0.9, None)?;
            let words = (self.format_up)(value).unwrap_or(words);
            sheet.text(&words, (left - 7.0, at), tick.side(1))?;
        }
        for (value, words) in x.ticks(if end - left > 400.0 { 8 } else { 5 }) {
            sheet.line(&[(x.at(value), bottom), (x.at(value), bottom + 4.0)], TEXT, 0.9, None)?;
            sheet.text(&words, (x.at(value), bottom + 13.0), tick.side(0))?;
        }
        sheet.text(&self.across, (0.5 * (left + end), bottom + 31.0), title.side(0))?;
        sheet.text(&self.up, (frame.left + 20.0, 0.5 * (top + bottom)), title.upright())?;
        sheet.line(&[(left, top), (left, bottom), (foot, bottom)], TEXT, 0.9, None)?;
        if let Some(second) = &self.second {
            let other = y.in_unit(second.unit);
            sheet.line(&[(right, top), (right, bottom)], TEXT, 0.9, None)?;
            for (value, words) in other.ticks(7) {
                let at = other.at(value);
                sheet.line(&[(right, at), (right + 4.0, at)], TEXT, 0.9, None)?;
                sheet.text(&words, (right + 7.0, at), tick)?;
            }
            sheet.text(&second.title, (frame.right - 14.0, 0.5 * (top + bottom)), title.upright())?;
        }
        let mut labels = vec![];
        for curve in self.curves.iter().filter(|curve| !curve.band.is_empty()) {
            shade(sheet, curve, (&x, &y))?;
        }
        for limit in self.limits.iter().filter(|limit| y.holds(limit.at)) {
            let at = y.at(limit.at);
            sheet.line(&[(left, at), (end, at)], QUIET, 1.0, LIMIT_DASH)?;
            labels.push(Label { words: limit.label.clone(), at, ink: QUIET, bold: false });
        }
        // The first curve is solid and drawn first: through the gaps of the dashed ones it still shows.
        for curve in &self.curves {
            let (ink, width) = (colour(curve.order), if curve.bold { 2.4 } else { 1.7 });
            for piece in pieces(&curve.points, &x, &y) {
                sheet.line(&piece, ink, width, curve.dash)?;
            }
            for piece in pieces(&curve.beyond, &x, &y) {
                sheet.line(&piece, ink, 0.6 * width, curve.dash)?;
            }
            let last = curve.points.iter().chain(&curve.beyond).rev().find(|p| p.1.is_finite());
            if let Some(last) = last {
                labels.push(Label { words: curve.label.clone(), at: y.within(last.1), ink, bold: curve.bold });
            }
        }
        label::write(sheet, labels, (end, self.room), (top, bottom))
    }

    fn head(&self, sheet: &Sheet<'_>, at: Place, right: f64) -> Result<(), DrawError> {
        let (name, verdict) = (Type::of(LETTERS[1]), Type::of(LETTERS[2]).bold(true));
        sheet.text(&sheet.fit(&self.heading, name, right - at.0)?, at, name)?;
        if self.verdict.is_empty() {
            return Ok(());
        }
        sheet.text(&sheet.fit(&self.verdict, verdict, right - at.0)?, (at.0, at.1 + 16.0), verdict)
    }
}

/// The band between least and greatest, broken where either is not finite.
fn shade(sheet: &Sheet<'_>, curve: &Curve, (x, y): (&Axis, &Axis)) -> Result<(), DrawError> {
    let finite = |b: &(f64, f64, f64)| b.0.is_finite() && b.1.is_finite() && b.2.is_finite();
    for run in curve.band.split(|b| !finite(b)).filter(|run| run.len() > 1) {
        let over = run.iter().map(|b| (x.within(b.0), y.within(b.2)));
        let under = run.iter().rev().map(|b| (x.within(b.0), y.within(b.1)));
        sheet.shape(&over.chain(under).collect::<Vec<_>>(), colour(curve.order), 0.15)?;
    }
    Ok(())
}
