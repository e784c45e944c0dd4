//! A panel of a figure of springs: one quantity of each.

use crate::sheet::prelude::*;
use slipsoak_engine::spring_choice::{Found, Judged, Verdict};
use slipsoak_engine::units::in_rpm;

pub(super) const LEFT: f64 = 98.0;

pub(super) const RIGHT: f64 = 18.0;

/// Room for labels at the curves' ends, px.
const ROOM: f64 = 172.0;

/// Room right of the panels of a sheet, px.
pub(super) fn room(sheet: &Sheet<'_>) -> f64 {
    if sheet.narrow() { 8.0 } else { ROOM }
}

/// One quantity of every spring.
pub(super) struct Row {
    pub label: &'static str,
    pub of: fn(&Found) -> Option<f64>,
    /// place of its colour
    pub order: usize,
}

/// One panel.
pub(super) struct Quantity {
    pub up: String,
    /// the same in a second unit
    pub also: Option<fn(f64) -> f64>,
    /// tick label with both units
    pub both: fn(&str, &str) -> String,
    /// a value with its unit
    pub said: fn(f64) -> String,
    pub rows: Vec<Row>,
    pub limits: Vec<(f64, &'static str)>,
}

pub(super) fn panel(
    sheet: &Sheet<'_>,
    quantity: &Quantity,
    springs: &[&Judged],
    x: &Axis,
    (top, bottom): (f64, f64),
) -> Result<(), DrawError> {
    let end = sheet.width - RIGHT - room(sheet);
    // A narrow sheet has the labels above each panel.
    let top = if sheet.narrow() { top + 24.0 } else { top };
    let curves: Vec<Vec<(Place, &Judged)>> = quantity
        .rows
        .iter()
        .map(|row| {
            let point = |s: &'_ Judged| Some((in_rpm(s.engagement), (row.of)(s.found.as_ref()?)?));
            springs.iter().filter_map(|s| Some((point(s)?, *s))).filter(|p| p.0.1.is_finite()).collect()
        })
        .collect();
    let values = curves.iter().flatten().map(|p| p.0.1).chain(quantity.limits.iter().map(|l| l.0));
    let y = Axis::linear((0.0, 1.06 * values.fold(0.0, f64::max)), (bottom, top));
    let ticks = y.ticks(5).into_iter().map(|(value, words)| match quantity.also {
        Some(unit) => (value, (quantity.both)(&words, &number(unit(value), 1.0))),
        None => (value, words),
    });
    ruler::beside(sheet, &y, &ticks.collect(), (LEFT, end), (&quantity.up, LEFT - 20.0))?;
    sheet.line(&[(LEFT, bottom), (end, bottom)], TEXT, 0.9, None)?;
    let mut labels = vec![];
    for (value, words) in &quantity.limits {
        let at = y.at(*value);
        sheet.line(&[(LEFT, at), (end, at)], QUIET, 1.0, LIMIT_DASH)?;
        labels.push(Label { dash: LIMIT_DASH, ..Label::of(words, at, QUIET) });
    }
    for (k, (row, points)) in quantity.rows.iter().zip(&curves).enumerate() {
        let ink = colour(row.order);
        let said = |value: f64| format!("{} {}", row.label, (quantity.said)(value));
        curve(sheet, (points, row.label, said), (x, &y), ink, dash(k))?;
        if let Some(last) = points.last() {
            labels.push(Label { dash: dash(k), ..Label::of(row.label, y.at(last.0.1), ink) });
        }
    }
    if sheet.narrow() {
        return legend::write(sheet, &labels, (SIDE + 22.0, sheet.width - 4.0), top - 24.0);
    }
    label::write(sheet, labels, (end, ROOM), (top, bottom))
}

/// A line with a dot for each spring: filled if it fits, half filled if it fits with warnings, hollow if it does not
/// fit.
fn curve(
    sheet: &Sheet<'_>,
    (points, label, said): (&[(Place, &Judged)], &str, impl Fn(f64) -> String),
    (x, y): (&Axis, &Axis),
    ink: Ink,
    dash: Dash,
) -> Result<(), DrawError> {
    let at = |p: &Place| (x.at(p.0), y.at(p.1));
    let line: Vec<Place> = points.iter().map(|p| at(&p.0)).collect();
    sheet.says(label, || sheet.line(&line, ink, 1.5, dash))?;
    points.iter().try_for_each(|(place, spring)| {
        sheet.says(&format!("{}, {}", spring.name, said(place.1)), || {
            sheet.dot(at(place), 4.2, ink)?;
            if spring.verdict != Verdict::Fits {
                sheet.dot(at(place), 2.7, PAPER)?;
            }
            if spring.verdict == Verdict::Warned { sheet.dot(at(place), 1.7, ink) } else { Ok(()) }
        })
    })
}
