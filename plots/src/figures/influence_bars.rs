//! A row of sensitivities: its bar with the setting's values at both ends, its shares of the variance, and what they mean.

use crate::page::Cell;
use crate::sheet::prelude::*;
use crate::words::quantity::quantity;
use slipsoak_engine::parts::{in_words, parameter};
use slipsoak_engine::sensitivity::{Influence, Measure};

/// Outline of a hollow bar, px.
const RIM: f64 = 2.0;
/// Width of the shares of variance, px.
pub(super) const SHARES: f64 = 170.0;
/// Distance of a value from its bar, px.
pub(super) const APART: f64 = 8.0;

/// Type of a setting's value.
pub(super) const VALUE: Type = Type::of(11.5).ink(QUIET);

/// The values of a setting at P10 and P90, if it is one setting.
pub(super) fn values(influence: &Influence) -> Option<[String; 2]> {
    let [one] = &influence.settings[..] else { return None };
    let dimension = parameter(&one.path)?.dimension;
    let words = |value| match quantity(value, dimension) {
        Cell::Words(words) => Some(words.text().split(" (").next().unwrap_or_default().to_owned()),
        _ => None,
    };
    Some([words(one.low)?, words(one.high)?])
}

/// Writes them at the ends of its bar; without the unit where it would leave the sheet.
pub(super) fn moved(
    sheet: &Sheet<'_>,
    influence: &Influence,
    (a, b, y): (f64, f64, f64),
    hidden: Option<f64>,
) -> Result<(), DrawError> {
    let Some([low, high]) = values(influence) else { return Ok(()) };
    for (at, other, words, last) in [(a, b, low, false), (b, a, high, true)] {
        let beyond = if hidden == Some(at) { 12.0 } else { 0.0 };
        let after = at > other || (at == other && last);
        let place = if after { at + APART + beyond } else { at - APART };
        let free = if after { sheet.width - SIDE - place } else { place - SIDE };
        let bare = words.rsplit_once(['\u{a0}', ' ']).map_or(words.as_str(), |(number, _)| number);
        let words = if bare_width(&words, VALUE)? > free { bare } else { &words };
        sheet.text(words, (place, y), if after { VALUE } else { VALUE.side(1) })?;
    }
    Ok(())
}

/// A share of the variance.
pub(super) fn share(of: f64) -> String {
    format!("{:.2}", if of.abs() < 0.005 { 0.0 } else { of }).replace('-', "−")
}

/// A bar: filled for an assumed constant, hollow for a spread defined in the script, so that they differ in grey too.
pub(super) fn bar(sheet: &Sheet<'_>, from: Place, to: Place, by_script: bool) -> Result<(), DrawError> {
    sheet.bar(from, to, colour(usize::from(by_script)).tint(0.55))?;
    if !by_script || to.0 - from.0 < 2.0 * RIM {
        return Ok(());
    }
    sheet.bar((from.0 + RIM, from.1 + RIM), (to.0 - RIM, to.1 - RIM), PAPER)
}

/// Legend of colours and columns.
pub(super) fn keys(
    sheet: &Sheet<'_>,
    shown: &[&Influence],
    shares: bool,
    (left, right): (f64, f64),
    top: f64,
) -> Result<(), DrawError> {
    let tick = Type::TICK;
    let mut at = left;
    for (by_script, words) in [(false, "assumed constant"), (true, "spread by the script")] {
        if shown.iter().any(|i| i.by_script == by_script) {
            sheet.says(words, || bar(sheet, (at, top + 29.0), (at + 10.0, top + 39.0), by_script))?;
            sheet.text(words, (at + 14.0, top + 34.0), tick)?;
            at += 26.0 + width_of(words, tick)?;
        }
    }
    if shares && sheet.narrow() {
        let words = "at the right: share of the variance, by itself and with others";
        return sheet.text(words, (left, top + 54.0), tick.ink(QUIET));
    }
    if shares {
        let start = right + 40.0;
        sheet.text("share of the variance, ± 1 s.e.", (start, top + 16.0), Type::LABEL)?;
        sheet.says("by itself", || sheet.dot((start + 4.0, top + 34.0), 3.4, colour(4)))?;
        sheet.text("by itself", (start + 12.0, top + 34.0), tick)?;
        let with_others = [(start + 70.0, top + 29.0), (start + 70.0, top + 39.0)];
        sheet.says("with others", || sheet.line(&with_others, colour(4), 1.8, None))?;
        sheet.text("with others", (start + 76.0, top + 34.0), tick)?;
    }
    Ok(())
}

/// Dots of first-order and total share on a scale from 0 to 1 at the right.
pub(super) fn share_of_variance(
    sheet: &Sheet<'_>,
    influence: &Influence,
    measure: Measure,
    y: f64,
) -> Result<(), DrawError> {
    let (start, end) = (sheet.width - SIDE - SHARES, sheet.width - SIDE - 36.0);
    let axis = Axis::linear((0.0, 1.0), (start, end));
    sheet.line(&[(start, y), (end, y)], FAINT, 0.7, None)?;
    sheet.line(&[(start, y - 5.0), (start, y + 5.0)], QUIET, 0.7, None)?;
    let Some(index) = influence.index(measure) else { return Ok(()) };
    let ink = colour(4);
    let reach = |share: f64, error: f64| [(axis.within(share - error), y), (axis.within(share + error), y)];
    let total = axis.within(index.total);
    let said = format!(
        "{}: share of the variance by itself {}, with others {}",
        in_words(&influence.draw),
        share(index.first),
        share(index.total)
    );
    sheet.says(&said, || {
        sheet.line(&reach(index.total, index.total_error), ink.tint(0.5), 1.2, None)?;
        sheet.line(&reach(index.first, index.first_error), ink, 1.2, None)?;
        sheet.line(&[(total, y - 5.0), (total, y + 5.0)], ink, 1.8, None)?;
        sheet.dot((axis.within(index.first), y), 3.4, ink)
    })?;
    sheet.text(&share(index.total), (end + 6.0, y), Type::TICK)
}
