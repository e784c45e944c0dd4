//! Names of the values beside and below the cells of a sweep, and the titles of its axes.

use crate::sheet::prelude::*;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::sweep::Axis;

/// Largest number of values of an axis.
pub(super) const STOPS: usize = 24;
/// Smallest and largest width of the names beside the cells, px.
const BESIDE: (f64, f64) = (64.0, 210.0);

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
pub(super) fn beside(axis: Option<&Axis>) -> Result<f64, DrawError> {
    let mut widest = 0.0_f64;
    for label in axis.iter().flat_map(|axis| stops(axis).0) {
        widest = widest.max(width_of(label, Type::TICK)?);
    }
    Ok((widest + 42.0).clamp(BESIDE.0, BESIDE.1))
}

/// Writes the names of the values beside and below the cells, and the axis titles.
pub(super) fn names(
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
