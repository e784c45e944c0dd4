//! Tables of a result as CSV.

use crate::keep::output::json;
use crate::read::units::{celsius, short, show, unit_of};
use slipsoak_engine::document::{Kind, Saved};
use slipsoak_engine::fleet::{Gain, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::{Dimension, parameter};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::sensitivity::{Influences, Measure, Moved};
use slipsoak_engine::statistics::Index;
use slipsoak_engine::sweep::{Axis, Row, Sweep};
use std::fmt::Write as _;

/// Largest length of a file name that a script may give, bytes; systems allow 255 for the whole name.
const LONGEST_NAME: usize = 200;

/// The tables of a result as CSV, each with its name.
pub(crate) fn tables(saved: &Saved) -> Vec<(String, String)> {
    let named = |name: &str, text: String| (name.to_owned(), text);
    match saved {
        Saved::Record(record) => {
            let one = |(i, run): (usize, &Run)| {
                let name = slug(&format!("{} {}", run.variant, run.duty));
                (format!("{:02}-{name}.csv", i + 1), table(record, run))
            };
            record.runs.iter().enumerate().map(one).collect()
        }
        Saved::Fleet(report) => {
            let gains = (!report.pairs.is_empty()).then(|| named("gains.csv", gains(report)));
            gains.into_iter().chain([named("clutches.csv", clutches(report))]).collect()
        }
        Saved::Sweep(sweep) => vec![named("sweep.csv", combinations(sweep))],
        Saved::Influence(influences) => vec![named("influence.csv", draws(influences))],
        Saved::Told(told) => vec![named(Kind::Calibration.file(), json(&told.calibration))],
        _ => vec![],
    }
}

/// Table with a line for each clutch of each fleet.
fn clutches(report: &Report) -> String {
    let heads = ["machine", "duty", "clutch", "running [h]", "end [h]", "first worn out"];
    let heads = heads.into_iter().chain(["oil due running [h]", "oil due [h]", "launches"]);
    let hours = |time: Option<f64>| time.map_or_else(String::new, |t| (t / 3600.0).to_string());
    let clutches = report.fleets.iter().flat_map(|fleet| fleet.outcomes.iter().map(move |o| (fleet, o)));
    let rows = clutches.map(|(fleet, o)| {
        let mut row = vec![cell(&fleet.variant), cell(&fleet.duty), o.clutch.to_string()];
        row.extend([hours(o.running), hours(o.end), o.ended_by.map_or("", Part::name).to_owned()]);
        row.extend([hours(o.service_running), hours(o.service_due), o.launches.to_string()]);
        row
    });
    csv(std::iter::once(heads.map(str::to_owned).collect()).chain(rows))
}

/// A name as a cell of CSV. An apostrophe prevents a spreadsheet from evaluating a name that looks like a formula.
fn cell(name: &str) -> String {
    if name.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{name}") } else { name.to_owned() }
}

/// Rows as CSV.
fn csv(rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(vec![]);
    for row in rows {
        // Writing to memory, with rows as long as their head, cannot fail.
        let _ = writer.write_record(row);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// Table with a line for each fleet compared with the reference.
fn gains(report: &Report) -> String {
    let mut heads: Vec<String> = ["machine", "duty", "against machine", "against duty", "of"].map(str::to_owned).into();
    heads.extend(["clutches longer", "shorter", "alike", "unknown", "sign test"].map(str::to_owned));
    heads.extend(["ratio", "ratio low", "ratio high", "mean ratio", "its error"].map(str::to_owned));
    // Running hours.
    let hours = ["difference", "difference low", "difference high", "mean difference", "its error"];
    heads.extend(hours.map(|head| format!("{head} [h]")));
    let maybe = |value: Option<f64>, per: f64| value.map_or_else(String::new, |v| (v / per).to_string());
    let mut rows = vec![heads];
    for pair in &report.pairs {
        for (of, gain) in [("running to first worn part", &pair.end), ("running to oil due", &pair.service)] {
            let Gain { ratio, difference, mean_ratio, mean_difference, .. } = gain;
            let (variant, duty) = pair.against.clone();
            let mut row = [&pair.variant, &pair.duty, &variant, &duty].map(|name| cell(name)).to_vec();
            row.push(of.to_owned());
            row.extend([gain.longer, gain.shorter, gain.alike, gain.unknown].map(|n| n.to_string()));
            row.push(gain.chance.to_string());
            row.extend([ratio.estimate, ratio.low, ratio.high].map(|v| maybe(v, 1.0)));
            row.extend([mean_ratio.0, mean_ratio.1].map(|v| v.to_string()));
            row.extend([difference.estimate, difference.low, difference.high].map(|v| maybe(v, 3600.0)));
            row.extend([mean_difference.0, mean_difference.1].map(|v| (v / 3600.0).to_string()));
            rows.push(row);
        }
    }
    csv(rows.into_iter())
}

fn table(record: &Record, run: &Run) -> String {
    let mut lines = String::from("time [s]");
    for channel in &record.channels {
        let _ = write!(lines, ",{} [{}]", channel.name, channel.unit);
    }
    lines.push('\n');
    for (end, row) in run.windows.end.iter().zip(&run.windows.mean) {
        lines.push_str(&end.to_string());
        for value in row {
            let _ = write!(lines, ",{value}");
        }
        lines.push('\n');
    }
    lines
}

/// A file name of letters, digits and dashes.
fn slug(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let joined = plain.split('-').filter(|s| !s.is_empty()).collect::<Vec<_>>().join("-");
    let bytes = |at: usize, c: char| at + c.len_utf8() <= LONGEST_NAME;
    joined.char_indices().take(80).take_while(|(at, c)| bytes(*at, *c)).map(|(_, c)| c).collect()
}

/// Head of an axis's column, and the unit of its values.
fn head(axis: &Axis) -> String {
    match parameter(&axis.name).and_then(|p| unit_of(p.dimension)) {
        Some(unit) => format!("{} [{}]", axis.name, unit.texts[0]),
        None if axis.unit.is_empty() => axis.name.clone(),
        None => format!("{} [{}]", axis.name, axis.unit),
    }
}

fn stop(axis: &Axis, at: usize) -> String {
    let Some(value) = axis.values.get(at) else { return axis.labels[at].clone() };
    match parameter(&axis.name).and_then(|p| unit_of(p.dimension)) {
        Some(unit) => short(unit.from_si(*value)),
        None => short(*value),
    }
}

/// Table with one line per combination.
fn combinations(sweep: &Sweep) -> String {
    let found = [
        "lining peak [°C]",
        "bushing peak [°C]",
        "slip power [W]",
        "slip energy per launch [kJ]",
        "launches",
        "oil fill [%]",
        "life [h]",
        "ended by",
        "oil due [h]",
        "warnings",
    ];
    let maybe = |value: Option<f64>, per: f64| value.map_or_else(String::new, |v| short(v / per));
    let line = |row: &Row| {
        let s = &row.summary;
        let stops = sweep
            .axes
            .iter()
            .zip(&row.place)
            .map(|(axis, at)| if axis.values.is_empty() { cell(&axis.labels[*at]) } else { stop(axis, *at) });
        let found = [
            short(celsius(s.lining_peak)),
            short(celsius(s.bushing_peak)),
            short(s.slip_power),
            maybe(s.slip_energy, 1e3),
            s.launches.to_string(),
            short(100.0 * s.oil_fill),
            maybe(s.life, 3600.0),
            s.ended_by.map_or("", Part::name).to_owned(),
            maybe(s.service_due, 3600.0),
            s.warnings.join("; "),
        ];
        stops.chain(found).collect::<Vec<_>>()
    };
    let heads = sweep.axes.iter().map(head).chain(found.iter().map(|h| (*h).to_owned())).collect();
    csv(std::iter::once(heads).chain(sweep.rows.iter().map(line)))
}

/// Table with one line per variable.
fn draws(influences: &Influences) -> String {
    let mut heads: Vec<String> =
        ["machine", "duty", "draw", "spread by", "settings", "P10", "P90", "end at P10 [h]", "end at P90 [h]"]
            .map(str::to_owned)
            .into();
    heads.extend(["oil due at P10 [h]", "oil due at P90 [h]"].map(str::to_owned));
    heads.extend(["lining peak at P10 [°C]", "lining peak at P90 [°C]"].map(str::to_owned));
    for measure in ["end", "oil due", "lining peak"] {
        for share in ["first", "first's error", "total", "total's error"] {
            heads.push(format!("{measure}: {share}"));
        }
    }
    let mut lines = vec![heads];
    for ranking in &influences.rankings {
        let hours = |time: Option<f64>| time.map_or_else(String::new, |t| (t / 3600.0).to_string());
        for i in &ranking.influences {
            let each = |of: &dyn Fn(&Moved) -> String| i.settings.iter().map(of).collect::<Vec<_>>().join("; ");
            let dimension = |m: &Moved| parameter(&m.path).map_or(Dimension::Ratio, |p| p.dimension);
            let mut line = vec![
                cell(&ranking.variant),
                cell(&ranking.duty),
                cell(&i.draw),
                if i.by_script { "the script" } else { "assumption" }.to_owned(),
                each(&|m| m.path.clone()),
                each(&|m| show(m.low, dimension(m))),
                each(&|m| show(m.high, dimension(m))),
            ];
            line.extend([&i.low, &i.high].map(|answer| hours(answer.end)));
            line.extend([&i.low, &i.high].map(|answer| hours(answer.service_due)));
            line.extend([&i.low, &i.high].map(|answer| celsius(answer.lining_peak).to_string()));
            for measure in Measure::ALL {
                let shares = |index: Index| [index.first, index.first_error, index.total, index.total_error];
                let known = i.index(measure).map(shares);
                line.extend((0..4).map(|k| known.map_or_else(String::new, |all| all[k].to_string())));
            }
            lines.push(line);
        }
    }
    csv(lines.into_iter())
}
