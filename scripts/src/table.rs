//! Tables for the terminal.

use crate::units::{celsius, duration, fahrenheit, rpm, show};
use comfy_table::presets::{ASCII_MARKDOWN, NOTHING};
use comfy_table::{CellAlignment, Table};
use slipsoak_engine::fleet::{Milestone, Report};
use slipsoak_engine::parts::PARAMETERS;
use slipsoak_engine::record::{PartUse, Record, Run};
use std::fmt::Write as _;

/// What a reader must know before acting on a number.
pub const CAUTIONS: &str = "Caution: estimates only. The drum and chain run hot and keep turning, a clutch may creep at idle: motor off and cool before touching; keep oil off the linings; local codes and qualified people decide.";

fn table(heads: &[&str]) -> Table {
    let mut table = Table::new();
    table.load_style(ASCII_MARKDOWN);
    table.set_header(heads.to_vec());
    table
}

/// A table of that head, for other commands to fill.
pub fn plain(heads: &[&str]) -> Table {
    table(heads)
}

/// One row per run.
pub fn results(record: &Record) -> String {
    let mut all =
        table(&["machine", "duty", "time", "lining peak", "bushing peak", "slip heat", "oil fill", "life", "ended by"]);
    for run in &record.runs {
        let at = |name: &str| record.channels.iter().position(|c| c.name == name);
        let of = |set: &[f64], name: &str| at(name).and_then(|i| set.get(i)).copied();
        let hot = |name| of(&run.overall.most, name).map_or_else(|| "–".to_owned(), both);
        let heat = of(&run.overall.mean, "slip power").map_or(0.0, |p| p * run.duration);
        let last = run.windows.mean.last().map_or(&run.overall.mean, |row| row);
        let fill = of(last, "oil fill").unwrap_or(0.0);
        let shortest = shortest(run);
        all.add_row(vec![
            run.variant.clone(),
            run.duty.clone(),
            duration(run.duration),
            hot("lining surface"),
            hot("bushing"),
            format!("{:.1} kJ", heat / 1e3),
            format!("{:.1} %", fill * 100.0),
            shortest.map_or_else(|| "–".to_owned(), |p| duration(p.life.unwrap_or(f64::INFINITY))),
            shortest.map_or_else(|| "–".to_owned(), |p| p.part.clone()),
        ]);
    }
    let mut text = format!("{}\n{all}\n", record.title);
    for (warning, runs) in warnings(record) {
        let who = if runs.len() == record.runs.len() { "every run".to_owned() } else { runs.join("; ") };
        let _ = writeln!(text, "{who}: {warning}");
    }
    text + CAUTIONS + "\n"
}

/// One row per fleet.
pub fn fleets(report: &Report) -> String {
    let mut all = table(&["machine", "duty", "B10", "B50", "B90", "oil due B10", "first to fail"]);
    let hours = |seconds: Option<f64>| seconds.map_or_else(|| "–".to_owned(), |s| format!("{:.0}", s / 3600.0));
    let shown = |set: &[Milestone], name: &str| {
        set.iter().find(|m| m.name == name).map_or_else(String::new, |m| {
            if m.time.estimate.is_none() && m.time.low.is_none() {
                return "–".to_owned();
            }
            format!("{} h ({} to {})", hours(m.time.estimate), hours(m.time.low), hours(m.time.high))
        })
    };
    for fleet in &report.fleets {
        let first: Vec<String> = fleet.first.iter().map(|s| format!("{} {:.0} %", s.part, 100.0 * s.share)).collect();
        all.add_row(vec![
            fleet.variant.clone(),
            fleet.duty.clone(),
            shown(&fleet.end, "B10"),
            shown(&fleet.end, "B50"),
            shown(&fleet.end, "B90"),
            shown(&fleet.service, "B10"),
            first.join(", "),
        ]);
    }
    let mut text = format!("{}\n{all}\n", report.title);
    for fleet in &report.fleets {
        let _ = writeln!(text, "{}, {}: {}", fleet.variant, fleet.duty, fleet.statement);
    }
    let _ = writeln!(
        text,
        "{} clutches each, seed {}; hours of the duty, rests included; in brackets 90 % bounds that assume no distribution, – beyond the horizon or for too few clutches. The spread of the end leak λ (0.006 to 2 per hour) is a guess that nobody has measured.",
        report.clutches, report.seed
    );
    text + CAUTIONS + "\n"
}

/// Each warning once, with the runs it concerns.
fn warnings(record: &Record) -> Vec<(&str, Vec<String>)> {
    let mut all: Vec<(&str, Vec<String>)> = Vec::new();
    for run in &record.runs {
        let name = format!("{}, {}", run.variant, run.duty);
        for warning in &run.warnings {
            match all.iter_mut().find(|w| w.0 == warning.text) {
                Some(known) => known.1.push(name.clone()),
                None => all.push((&warning.text, vec![name.clone()])),
            }
        }
    }
    all
}

/// A temperature in both scales.
pub fn both(kelvin: f64) -> String {
    format!("{:.0} °C / {:.0} °F", celsius(kelvin), fahrenheit(kelvin))
}

/// A speed of rotation.
pub fn turns(speed: f64) -> String {
    format!("{:.0} rpm", rpm(speed))
}

/// The part that ends first.
pub fn shortest(run: &Run) -> Option<&PartUse> {
    // Oil is service, not wear: its fill has a column of its own.
    let worn = run.parts.iter().filter(|p| p.part != "oil");
    let lives = worn.filter_map(|p| Some((p.life?, p)));
    lives.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, part)| part)
}

/// Every setting of a machine.
pub fn settings() -> String {
    let mut all = table(&["setting", "default", "least", "most", "sure", "meaning"]);
    for p in PARAMETERS {
        let value = |v| show(v, p.dimension);
        let sure = format!("{:?}", p.confidence).to_lowercase();
        all.add_row(vec![
            p.path.to_owned(),
            value(p.default),
            value(p.least),
            value(p.most),
            sure,
            p.meaning.to_owned(),
        ]);
    }
    format!("{all}\n")
}

/// Two columns without a head; the second to the right.
pub fn pairs(rows: &[(String, String)]) -> String {
    let mut all = Table::new();
    all.load_style(NOTHING);
    for (name, value) in rows {
        all.add_row(vec![name, value]);
    }
    if let Some(column) = all.column_mut(1) {
        column.set_cell_alignment(CellAlignment::Right);
    }
    format!("{all}\n")
}
