//! Drawn scales: line, ticks with labels, guides across the chart, and title.

use crate::sheet::axis::Axis;
use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::lettering::Type;
use crate::sheet::palette::{FAINT, TEXT};

/// Values of a scale, each with its label.
pub type Ticks = Vec<(f64, String)>;

/// Draws a horizontal scale at this height, px, with its title below, and with guides up to a top if there is one.
pub fn below(
    sheet: &Sheet<'_>,
    x: &Axis,
    ticks: &Ticks,
    floor: f64,
    guides: Option<f64>,
    title: &str,
) -> Result<(), DrawError> {
    for (value, words) in ticks {
        let at = x.at(*value);
        if let Some(top) = guides {
            sheet.line(&[(at, top), (at, floor)], FAINT, 0.7, None)?;
        }
        sheet.line(&[(at, floor), (at, floor + 4.0)], TEXT, 0.9, None)?;
        sheet.text(words, (at, floor + 13.0), Type::TICK.side(0))?;
    }
    let (start, end) = x.ends();
    sheet.line(&[(start, floor), (end, floor)], TEXT, 0.9, None)?;
    sheet.text(title, (f64::midpoint(start, end), floor + 31.0), Type::LABEL.side(0))
}

/// Draws a vertical scale between the left and right of a chart, px, with guides across it, and its title, upright, at a
/// distance left of it, px.
pub fn beside(
    sheet: &Sheet<'_>,
    y: &Axis,
    ticks: &Ticks,
    (left, right): (f64, f64),
    (title, away): (&str, f64),
) -> Result<(), DrawError> {
    for (value, words) in ticks {
        let at = y.at(*value);
        sheet.line(&[(left, at), (right, at)], FAINT, 0.6, None)?;
        sheet.line(&[(left - 4.0, at), (left, at)], TEXT, 0.9, None)?;
        sheet.text(words, (left - 7.0, at), Type::TICK.side(1))?;
    }
    let (bottom, top) = y.ends();
    sheet.line(&[(left, top), (left, bottom)], TEXT, 0.9, None)?;
    sheet.text(title, (left - away, f64::midpoint(top, bottom)), Type::LABEL.upright())
}
