//! Where the oil went: two bars a run, all oil that was put in, and what is no longer in the pores.

use crate::DrawError;
use crate::axis::number;
use crate::canvas::{LETTERS, SIDE, Sheet, Type};
use crate::palette::{Ink, QUIET, TEXT, colour};
use slipsoak_engine::record::{Ledger, Run};
use std::collections::BTreeMap;

const ROW: f64 = 42.0;
const TOP: f64 = 66.0;
const BAR: f64 = 15.0;
/// Places with a colour of their own; lesser ones share the last.
const PLACES: usize = 6;
const PORES: &str = "in pores";
/// kg to mg.
const MG: f64 = 1e6;

/// An amount of oil in one place.
struct Slice {
    ink: Ink,
    mg: f64,
}

/// Height that so many rows take, px.
pub fn height(runs: usize) -> f64 {
    TOP + ROW * runs as f64
}

fn sum(side: &BTreeMap<String, f64>) -> f64 {
    MG * side.values().filter(|v| v.is_finite()).sum::<f64>()
}

/// Oil in a place, mg.
fn amount(oil: &Ledger, place: &str) -> f64 {
    let kg = oil.outward.get(place).or_else(|| oil.held.get(place)).copied().unwrap_or(0.0);
    if kg.is_finite() { (MG * kg).max(0.0) } else { 0.0 }
}

/// Every place outside the pores that holds oil in some run, most oil first.
fn places(runs: &[Run]) -> Vec<String> {
    let mut most: BTreeMap<&str, f64> = BTreeMap::new();
    for oil in runs.iter().map(|run| &run.ledgers.oil) {
        for place in oil.outward.keys().chain(oil.held.keys()).filter(|place| *place != PORES) {
            let held = most.entry(place).or_insert(0.0);
            *held = held.max(amount(oil, place));
        }
    }
    let mut order: Vec<(&str, f64)> = most.into_iter().filter(|entry| entry.1 >= 0.05).collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    order.into_iter().map(|entry| entry.0.to_owned()).collect()
}

fn mg(value: f64) -> String {
    number(value, if value < 9.95 { 0.1 } else { 1.0 })
}

/// Draws a bar of slices from a place to the right, with a gap between slices.
fn bar(sheet: &Sheet<'_>, slices: &[Slice], (left, middle): (f64, f64), per_mg: f64) -> Result<f64, DrawError> {
    let mut at = left;
    for slice in slices {
        let next = at + slice.mg * per_mg;
        if next - at > 0.3 {
            let end = if next - at > 2.0 { next - 0.7 } else { next };
            sheet.bar((at, middle - 0.5 * BAR), (end, middle + 0.5 * BAR), slice.ink)?;
        }
        at = next;
    }
    Ok(at)
}

/// Names of colours in a row from a place to the right.
fn keys(sheet: &Sheet<'_>, entries: &[(&str, Ink)], from: (f64, f64)) -> Result<(), DrawError> {
    let (mut at, set) = (from.0, Type::of(LETTERS[3]));
    for (words, ink) in entries {
        sheet.bar((at, from.1 - 5.0), (at + 10.0, from.1 + 5.0), *ink)?;
        sheet.text(words, (at + 14.0, from.1), set)?;
        at += 14.0 + sheet.width_of(words, set)? + 9.0;
    }
    Ok(())
}

/// Draws the bars of all runs below a height.
pub fn draw(sheet: &Sheet<'_>, runs: &[Run], names: &[String], top: f64) -> Result<(), DrawError> {
    let (name, left) = (Type::of(LETTERS[2]).side(1), SIDE + 164.0);
    let middle = left + 0.33 * (sheet.width - left);
    let (room_all, room_gone) = (middle - 34.0 - left, sheet.width - 90.0 - middle);
    let places = places(runs);
    let head = Type::of(LETTERS[1]);
    sheet.text("Oil put in, mg", (left, top + 14.0), head)?;
    sheet.text("Of this, no longer in the pores, mg", (middle, top + 14.0), head)?;
    let pores = colour(1).tint(0.45);
    let gone = colour(4).tint(0.55);
    keys(sheet, &[(PORES, pores), ("elsewhere", gone)], (left, top + 38.0))?;
    let shown = if places.len() > PLACES { PLACES - 1 } else { places.len() };
    let mut entries: Vec<(&str, Ink)> =
        places[..shown].iter().enumerate().map(|(k, p)| (p.as_str(), colour(k))).collect();
    if places.len() > shown {
        entries.push(("other", QUIET.tint(0.5)));
    }
    keys(sheet, &entries, (middle, top + 38.0))?;
    let elsewhere = |oil: &Ledger| places.iter().map(|place| amount(oil, place)).sum::<f64>();
    let most_all = runs.iter().map(|run| sum(&run.ledgers.oil.inward)).fold(1e-6, f64::max);
    let most_gone = runs.iter().map(|run| elsewhere(&run.ledgers.oil)).fold(1e-6, f64::max);
    for (k, run) in runs.iter().enumerate() {
        let oil = &run.ledgers.oil;
        let (high, low) = (top + TOP + ROW * k as f64 + 2.0, top + TOP + ROW * k as f64 + 18.0);
        sheet.text(&sheet.fit(&names[k], name, left - SIDE - 8.0)?, (left - 10.0, high), name)?;
        let halves = [Slice { ink: pores, mg: amount(oil, PORES) }, Slice { ink: gone, mg: elsewhere(oil) }];
        bar(sheet, &halves, (left, high), room_all / most_all)?;
        let set = Type::of(LETTERS[3]).ink(TEXT);
        let held = format!("{} put in · {} in pores", mg(sum(&oil.inward)), mg(halves[0].mg));
        sheet.text(&sheet.fit(&held, set, middle - left - 12.0)?, (left, low), set)?;
        let mut slices: Vec<Slice> =
            places[..shown].iter().enumerate().map(|(k, p)| Slice { ink: colour(k), mg: amount(oil, p) }).collect();
        let rest: f64 = places[shown..].iter().map(|place| amount(oil, place)).sum();
        slices.push(Slice { ink: QUIET.tint(0.5), mg: rest });
        let end = bar(sheet, &slices, (middle, high), room_gone / most_gone)?;
        sheet.text(&format!("{} mg", mg(elsewhere(oil))), (end + 7.0, high), set)?;
        let mut words: Vec<String> =
            places[..shown].iter().map(|place| format!("{place} {}", mg(amount(oil, place)))).collect();
        // Its colour has a key; a number for next to nothing would crowd out the others.
        if rest > 0.01 * elsewhere(oil) {
            words.push(format!("other {}", mg(rest)));
        }
        let words = sheet.fit(&words.join(" · "), set, sheet.width - SIDE - middle)?;
        sheet.text(&words, (middle, low), set)?;
    }
    Ok(())
}
