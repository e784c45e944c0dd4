//! Lives of a small fleet before and after a calibration: B10, B50 and B90 with their bounds.

use crate::sheet::prelude::*;
use crate::words::text::the;
use slipsoak_engine::calibrate::{Forecast, Told};
use slipsoak_engine::names::Quantile;
use slipsoak_engine::statistics::Bounds;
use slipsoak_engine::units::HOUR;

/// Height of a percentile's two rows, px.
const ROW: f64 = 66.0;
/// Room for names at the left and for numbers at the right, px.
const NAMES: f64 = 120.0;
const VALUES: f64 = 206.0;

pub fn draw(told: &Told, look: &Look) -> Result<Drawing, DrawError> {
    let forecast = told.forecast.as_ref().ok_or(DrawError::Empty)?;
    let heading = format!("{}: lives before and after", told.calibration.machine);
    let note = look.under(&format!(
        "{} clutches under “{}”. Dots: 10, 50 and 90 % have ended; whiskers: their 90 % bounds (order statistics), dotted where so few clutches, or the {} h that were followed, leave them open. Estimates.",
        forecast.clutches,
        forecast.duty,
        number(forecast.horizon / HOUR, 1.0)
    ));
    let describe = "Three rows: after how many hours 10, 50 and 90 of 100 clutches have ended; in each, before (dashed) and after (solid) the constants were learned, with bounds.";
    let row = if look.narrow() { 2.0 * ROW - 24.0 } else { ROW };
    let known = |b: &Bounds| b.low.or(b.estimate).or(b.high).is_some();
    if !forecast.before.iter().chain(&forecast.after).any(known) {
        // Six lines without an end would say no more.
        let words = format!(
            "Before and after, fewer than a tenth of the clutches have ended within the {} h that were followed: too few to say how far the calibration narrows their lives.",
            number(forecast.horizon / HOUR, 1.0)
        );
        let heading = format!("How far lives of {} narrow cannot be said yet", the(&told.calibration.machine));
        let note = look.under(&format!("{} clutches under “{}”. Estimates.", forecast.clutches, forecast.duty));
        return sheet(look, HEAD + FOOT, [&heading, &note, &words], |sheet| {
            let lines = wrapped(&words, Type::LABEL, sheet.width - 2.0 * SIDE)?;
            sheet.lines(&lines, (SIDE, HEAD + 16.0), Type::LABEL, 18.0)
        });
    }
    let height = HEAD + 3.0 * row + 58.0 + FOOT;
    sheet(look, height, [&heading, &note, describe], |sheet| {
        let values = if sheet.narrow() { 14.0 } else { VALUES };
        let (left, right, top) = (SIDE + NAMES, sheet.width - SIDE - values, HEAD + 6.0);
        let floor = top + 3.0 * row;
        let axis = scale(forecast, (left, right));
        let ticks = apart(&axis, Type::TICK, 8)?;
        ruler::below(sheet, &axis, &ticks, floor, Some(top), "hours of the duty, rests included")?;
        sheet.line(&[(left, top), (left, floor)], TEXT, 0.9, None)?;
        for (k, name) in Quantile::ALL.map(Quantile::name).into_iter().enumerate() {
            let middle = top + row * (k as f64 + 0.5);
            let apart = if sheet.narrow() { 30.0 } else { 12.0 };
            sheet.text(name, (SIDE + 4.0, middle), Type::HEADING.bold(true))?;
            percentile(
                sheet,
                &axis,
                (left, right),
                middle - apart,
                ("before", &forecast.before[k], 0),
                forecast.horizon,
            )?;
            percentile(
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
    let all = || forecast.before.iter().chain(&forecast.after);
    let known = all().flat_map(|b| [b.low, b.estimate, b.high]).flatten();
    let open = all().any(|b| b.estimate.is_none() || b.high.is_none());
    let cut = open.then_some(forecast.horizon);
    Axis::fitting(known.chain(cut).map(|s| s / HOUR), 0.0, 8.0, ends)
}

/// Dot and whisker of a percentile, with its numbers beside them.
fn percentile(
    sheet: &Sheet<'_>,
    axis: &Axis,
    (left, right): (f64, f64),
    height: f64,
    (name, bounds, order): (&str, &Bounds, usize),
    horizon: f64,
) -> Result<(), DrawError> {
    let ink = colour(order);
    let set = Type::LABEL.ink(ink);
    sheet.text(name, (left - 10.0, height), set.side(1))?;
    let known = [bounds.low, bounds.estimate, bounds.high];
    let all_open = known.iter().all(Option::is_none);
    if all_open {
        sheet.says(name, || sheet.line(&[(left, height), (right, height)], ink, 1.6, LIMIT_DASH))?;
    }
    // Solid after, dashed before.
    let own = if order == 1 { None } else { dash(1) };

    let hours = |time: Option<f64>| {
        time.map_or_else(|| "–".to_owned(), |t| number(t / HOUR, if t < 9.95 * HOUR { 0.1 } else { 1.0 }))
    };
    let estimate = bounds.estimate.map_or_else(|| "beyond".to_owned(), |t| format!("{} h", hours(Some(t))));
    let words = if all_open {
        format!("beyond {} h", number(horizon / HOUR, 1.0))
    } else {
        format!("{estimate} ({} to {})", hours(bounds.low), hours(bounds.high))
    };
    let whisker = || whisker::draw(sheet, axis, height, known.map(|time| Some(time? / HOUR)), (ink, ink), own);
    sheet.says(&format!("{name}: {words}"), whisker)?;
    let set = Type::TICK.ink(if bounds.estimate.is_some() { TEXT } else { QUIET });
    if sheet.narrow() {
        return sheet.text(&words, (left + 4.0, height + 17.0), set);
    }
    sheet.fitted(&words, (right + 14.0, height), set, VALUES - 14.0)
}
