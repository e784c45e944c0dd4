//! Legend lines below a chart that is too narrow for labels beside it.

use crate::sheet::canvas::Sheet;
use crate::sheet::draw_error::DrawError;
use crate::sheet::label::Label;
use crate::sheet::lettering::{Type, width_of};
use crate::sheet::short_names::fit_names;

/// Line height, stroke length, and distance between entries, px.
const LINE: f64 = 17.0;
const STROKE: f64 = 22.0;
const GAP: f64 = 14.0;

/// Line number of each entry, and its start, px from the left.
fn places(keys: &[Label], width: f64) -> Result<Vec<(usize, f64)>, DrawError> {
    let (mut line, mut at, mut all) = (0, 0.0, vec![]);
    for key in keys {
        let wide = STROKE + 6.0 + width_of(&key.words, Type::TICK.bold(key.bold))?;
        if at > 0.0 && at + wide > width {
            (line, at) = (line + 1, 0.0);
        }
        all.push((line, at));
        at += wide + GAP;
    }
    Ok(all)
}

/// Height of the legend at a width, px.
pub fn height(keys: &[Label], width: f64) -> Result<f64, DrawError> {
    Ok(places(keys, width)?.last().map_or(0.0, |last| LINE * (last.0 + 1) as f64))
}

/// Writes the legend at a position and width.
pub fn write(sheet: &Sheet<'_>, keys: &[Label], (left, right): (f64, f64), top: f64) -> Result<(), DrawError> {
    let places = places(keys, right - left)?;
    let set = |key: &Label| Type::TICK.ink(key.ink).bold(key.bold);
    let room = |at: f64| right - left - at - STROKE - 6.0;
    let names: Vec<_> = keys.iter().zip(&places).map(|(key, at)| (key.words.as_str(), set(key), room(at.1))).collect();
    for ((key, (line, at)), words) in keys.iter().zip(&places).zip(fit_names(&names)?) {
        let (x, y) = (left + at, top + LINE * (*line as f64 + 0.5));
        sheet.of(key.of, || {
            sheet.says(&key.words, || sheet.line(&[(x, y), (x + STROKE, y)], key.ink, 2.0, key.dash))?;
            sheet.text(&words, (x + STROKE + 6.0, y), set(key))
        })?;
    }
    Ok(())
}
