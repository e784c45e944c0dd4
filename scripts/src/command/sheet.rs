//! The machine named on the command line, and its sheet as text for the terminal.

use crate::Trouble;
use crate::command::arguments;
use crate::command::table::{both, cautions, pairs, turns};
use crate::command::terminal::strong;
use crate::read::given;
use crate::read::units::{UNITS, read_near, rpm};
use crate::read::variant;
use slipsoak_engine::parts::{Machine, parameter};
use slipsoak_engine::sheet::Sheet;
use std::path::Path;

/// Reads the machine named on the command line.
pub fn machine(arguments: &arguments::Part) -> Result<Machine, Trouble> {
    let mut machine = if arguments.part == Path::new("standard") {
        Machine::default()
    } else {
        let text = given::text(&arguments.part, given::Kind::Part)?;
        let file = arguments.part.file_name().map_or_else(String::new, |f| f.to_string_lossy().into_owned());
        variant::read(&file, &text)?
    };
    for (path, value) in &arguments.settings {
        let Some(p) = parameter(path) else {
            return Err(variant::unknown(&machine.name, path).into());
        };
        let value = read_near(value, p.dimension, Some((p.of)(&machine)));
        let value = value.map_err(|source| Trouble::Quantity { path: path.clone(), source })?;
        variant::adjust(&mut machine, path, value)?;
    }
    machine.check().map_err(variant::Unfit::from)?;
    Ok(machine)
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
