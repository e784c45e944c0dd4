//! The sheet of a machine on the terminal.

use crate::command::arguments;
use crate::command::machine::machine;
use crate::command::table::{both, cautions, pairs, turns};
use crate::command::terminal::strong;
use crate::error::Error;
use crate::keep::output::json;
use crate::read::units::{UNITS, rpm};
use slipsoak_engine::sheet::{Sheet, sheet};

/// Performs `slipsoak sheet`.
pub fn perform(asked: &arguments::Sheet) -> Result<String, Error> {
    let sheet = sheet(&machine(&asked.machine)?)?;
    Ok(if asked.json { json(&sheet) } else { text(&sheet) })
}

fn in_unit(value: f64, word: &str) -> f64 {
    UNITS.iter().find(|u| u.word == word).map_or(value, |u| u.from_si(value))
}

fn speed(value: f64) -> String {
    format!("{:.1} km/h = {:.1} mph", in_unit(value, "km_h"), in_unit(value, "mph"))
}

fn gap(value: f64) -> String {
    format!("{:.2} mm = {:.0} thou", in_unit(value, "mm"), in_unit(value, "thou"))
}

/// A sheet as text for the terminal.
pub fn text(sheet: &Sheet) -> String {
    let mut rows: Vec<(String, String)> = Vec::new();
    let mut row = |name: &str, value: String| rows.push((name.to_owned(), value));
    row("motor idles at", turns(sheet.idle));
    row("shoes lift off at", turns(sheet.lift_off));
    row("clutch engages at", turns(sheet.engagement));
    for (w, torque) in &sheet.capacity {
        let feet = in_unit(*torque, "lbf_ft");
        row(&format!("carries at {:.0} rpm", rpm(*w)), format!("{torque:.1} N·m = {feet:.1} lbf·ft"));
    }
    row("balance at full throttle", sheet.balance.map_or_else(|| "none".to_owned(), turns));
    row("slips at a held speed below", speed(sheet.lock_speed));
    row("locks at full throttle", sheet.lock.map_or_else(|| "never".to_owned(), speed));
    row("cover gap, nominal", gap(sheet.cover_gap.nominal));
    row("cover gap, root of squares", gap(sheet.cover_gap.likely));
    row("cover gap, worst", gap(sheet.cover_gap.worst));
    row("oil in a full bushing", format!("{:.2} mL = {:.0} drops", sheet.oil * 1e6, sheet.oil_drops));
    row("one launch to", speed(sheet.launch.speed));
    row("  takes", format!("{:.1} s", sheet.launch.time));
    row("  slip heat", format!("{:.2} kJ", sheet.launch.heat / 1e3));
    row("  lining peak", both(sheet.launch.lining));
    format!("{}\n{}\n{}", strong(&sheet.name), pairs(&rows), cautions())
}
