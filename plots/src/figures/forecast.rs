//! Lives of a small fleet before and after a calibration: B10, B50 and B90 with their bounds.

use crate::sheet::prelude::*;
use slipsoak_engine::calibrate::{Forecast, Told};
use slipsoak_engine::statistics::Bounds;
use slipsoak_engine::units::HOUR;

/// Height of a percentile's two rows, px.
const ROW: f64 = 66.0;
/// Room for names at the left and for numbers at the right, px.
const NAMES: f64 = 120.0;
const VALUES: f64 = 206.0;
/// Ratio of the greatest to the least life above which hours are on a logarithmic scale.
const WIDE: f64 = 30.0;

pub fn draw(told: &Told, look: &Look) -> Result<Drawing, DrawError> {
    let forecast = told.forecast.as_ref().ok_or(DrawError::Empty)?;
    let heading = look.title.clone().unwrap_or_else(|| format!("{}: lives before and after", told.calibration.machine));
    let note = look.under(&format!(
        "{} clutches under “{}”. Dots: 10, 50 and 90 % have ended; whiskers: their 90 % bounds (order statistics), dotted where so few clutches, or the {} h that were followed, leave them open. Estimates.",
        forecast.clutches,
        forecast.duty,
        number(forecast.horizon / HOUR, 1.0)
    ));
    let describe = "Three rows: after how many hours 10, 50 and 90 of 100 clutches have ended; in each, before (dashed) and after (solid) the constants were learned, with bounds.";
    let row = if look.narrow() { 2.0 * ROW - 24.0 } else { ROW };
    let height = (HEAD + 3.0 * row + 58.0 + FOOT) as u32;
    sheet((look.size.width, height), &heading, &note, describe, |sheet| {
        let values = if sheet.narrow() { 14.0 } else { VALUES };
        let (left, right, top) = (SIDE + NAMES, sheet.width - SIDE - values, HEAD + 6.0);
        let floor = top + 3.0 * row;
        let axis = scale(forecast, (left, right));
        let tick = Type::TICK.side(0);
        for (value, words) in apart(&axis, tick, 8)? {
            sheet.line(&[(axis.at(value), top), (axis.at(value), floor)], FAINT, 0.6, None)?;
            sheet.line(&[(axis.at(value), floor), (axis.at(value), floor + 4.0)], TEXT, 0.9, None)?;
            sheet.text(&words, (axis.at(value), floor + 13.0), tick)?;
        }
        sheet.line(&[(left, top), (left, floor), (right, floor)], TEXT, 0.9, None)?;
        let title = Type::LABEL.side(0);
        sheet.text("hours of the duty, rests included", (0.5 * (left + right), floor + 31.0), title)?;
        for (k, name) in ["B10", "B50", "B90"].into_iter().enumerate() {
            let middle = top + row * (k as f64 + 0.5);
            let apart = if sheet.narrow() { 30.0 } else { 12.0 };
            sheet.text(name, (SIDE + 4.0, middle), Type::HEADING.bold(true))?;
            whisker(sheet, &axis, (left, right), middle - apart, ("before", &forecast.before[k], 0), forecast.horizon)?;
            whisker(
                sheet,
                &axis,
                (left, right),
                middle + apart - if sheet.narrow() { 8.0 } else { 0.0 },
                ("after", &forecast.after[k], 1),
                forecast.horizon,
            )?;
        }
        Ok(())
    })
}

/// A scale of hours that contains every bound.
fn scale(forecast: &Forecast, ends: (f64, f64)) -> Axis {
    let known = forecast.before.iter().chain(&forecast.after).flat_map(|b| [b.low, b.estimate, b.high]);
    let hours: Vec<f64> = known.flatten().map(|s| s / HOUR).filter(|h| h.is_finite()).collect();
    let open = forecast.before.iter().chain(&forecast.after).any(|b| b.estimate.is_none() || b.high.is_none());
    let cut = if open { forecast.horizon / HOUR } else { 0.0 };
    let most = hours.iter().copied().fold(cut.max(1e-3), f64::max);
    let least = hours.iter().copied().fold(f64::INFINITY, f64::min);
    if least > 0.0 && least.is_finite() && most > WIDE * least {
        return Axis::decades((least, most), ends);
    }
    let step = round_step(most / 8.0);
    Axis::linear((0.0, (1.02 * most / step).ceil() * step), ends)
}

/// Dot and whisker of a percentile, with its numbers beside them.
fn whisker(
    sheet: &Sheet<'_>,
    axis: &Axis,
    (left, right): (f64, f64),
    height: f64,
    (name, bounds, order): (&str, &Bounds, usize),
    horizon: f64,
) -> Result<(), DrawError> {
    let ink = colour(order);
    let place = |time: f64| axis.within(time / HOUR);
    let set = Type::LABEL.ink(ink);
    sheet.text(name, (left - 10.0, height), set.side(1))?;
    let from = bounds.low.map_or(left, place);
    let to = bounds.high.map_or(right, place);
    let middle = bounds.estimate.map(place);
    // Solid after, dashed before; dotted towards an unknown bound.
    let own = if order == 1 { None } else { dash(1) };
    let closed = middle.unwrap_or(if bounds.low.is_some() { from } else { to });
    for (end, known) in [(from, bounds.low.is_some()), (to, bounds.high.is_some())] {
        let (a, b) = (closed.min(end), closed.max(end));
        sheet.line(&[(a, height), (b, height)], ink, 1.8, if known { own } else { LIMIT_DASH })?;
        if known {
            sheet.line(&[(end, height - 4.0), (end, height + 4.0)], ink, 1.8, None)?;
        }
    }
    if let Some(at) = middle {
        sheet.dot((at, height), 4.5, ink)?;
    }
    let hours = |time: Option<f64>| {
        time.map_or_else(|| "–".to_owned(), |t| number(t / HOUR, if t < 9.95 * HOUR { 0.1 } else { 1.0 }))
    };
    let estimate = bounds.estimate.map_or_else(|| "beyond".to_owned(), |t| format!("{} h", hours(Some(t))));
    let words = if bounds.estimate.is_none() && bounds.low.is_none() && bounds.high.is_none() {
        format!("beyond {} h", number(horizon / HOUR, 1.0))
    } else {
        format!("{estimate} ({} to {})", hours(bounds.low), hours(bounds.high))
    };
    let set = Type::TICK.ink(if middle.is_some() { TEXT } else { QUIET });
    if sheet.narrow() {
        return sheet.text(&words, (left + 4.0, height + 17.0), set);
    }
    sheet.fitted(&words, (right + 14.0, height), set, VALUES - 14.0)
}
