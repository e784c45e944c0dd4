//! Tables of a result as CSV.

use crate::keep::columns::{Columns, cell, number};
use crate::keep::output::json;
use crate::keep::units::{Units, digits};
use crate::read::units::{celsius, short, show, unit_of};
use slipsoak_engine::document::{Kind, Saved};
use slipsoak_engine::fleet::{Fleet, Gain, Outcome, Paired, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::{Dimension, parameter};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::season::{Event, Season};
use slipsoak_engine::sensitivity::{Influence, Influences, Measure, Moved, Ranking};
use slipsoak_engine::statistics::Index;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use slipsoak_engine::units::HOUR;
use slipsoak_plots::words::measuring;

/// Largest length of a file name that a script may give, bytes; systems allow 255 for the whole name.
const LONGEST_NAME: usize = 200;

/// Names of the tables of results, apart from the numbered ones of runs.
pub(crate) const NAMES: [&str; 7] = [COMPARISON, CLUTCHES, GAINS, SWEEP, INFLUENCE, EVENTS, SHEET];
const COMPARISON: &str = "comparison.csv";
const CLUTCHES: &str = "clutches.csv";
const GAINS: &str = "gains.csv";
const SWEEP: &str = "sweep.csv";
const INFLUENCE: &str = "influence.csv";
const EVENTS: &str = "events.csv";
const SHEET: &str = "sheet-to-fill-in.csv";

/// The tables of a result as CSV, each with its name; those of runs in these units.
pub(crate) fn tables(saved: &Saved, units: Units) -> Vec<(String, String)> {
    let named = |name: &str, text: String| (name.to_owned(), text);
    match saved {
        Saved::Record(record) => {
            let one = |(i, run): (usize, &Run)| {
                let name = slug(&format!("{} {}", run.variant, run.duty));
                (format!("{:02}-{name}.csv", i + 1), table(record, run, units))
            };
            let several = record.runs.len() > 1;
            let comparison = several.then(|| named(COMPARISON, comparison(record, units)));
            record.runs.iter().enumerate().map(one).chain(comparison).collect()
        }
        Saved::Fleet(report) => {
            let gains = (!report.pairs.is_empty()).then(|| named(GAINS, gains(report)));
            gains.into_iter().chain([named(CLUTCHES, clutches(report))]).collect()
        }
        Saved::Sweep(sweep) => vec![named(SWEEP, combinations(sweep))],
        Saved::Influence(influences) => vec![named(INFLUENCE, draws(influences))],
        Saved::Season(season) => vec![named(EVENTS, events(season))],
        Saved::Measure(plan) => {
            measuring::sheet(plan).map(|sheet| named(SHEET, to_fill_in(sheet))).into_iter().collect()
        }
        Saved::Told(told) => vec![named(Kind::Calibration.file(), json(&told.calibration))],
        _ => vec![],
    }
}

/// Table with a line for each clutch of each fleet.
fn clutches(report: &Report) -> String {
    let columns = Columns::<(&Fleet, &Outcome)>(vec![])
        .with("machine", |(fleet, _)| cell(&fleet.variant))
        .with("duty", |(fleet, _)| cell(&fleet.duty))
        .with("clutch", |(_, o)| o.clutch.to_string())
        .with("running [h]", |(_, o)| number(o.running, HOUR))
        .with("end [h]", |(_, o)| number(o.end, HOUR))
        .with("first worn out", |(_, o)| o.ended_by.map_or("", Part::name).to_owned())
        .with("service due running [h]", |(_, o)| number(o.service_running, HOUR))
        .with("service due [h]", |(_, o)| number(o.service_due, HOUR))
        .with("unfit for the duty", |(_, o)| if o.unfit.is_some() { "yes" } else { "no" }.to_owned())
        .with("drags at idle", |(_, o)| {
            if o.drags {
                "yes"
            } else if o.springs.is_some() {
                "unknown"
            } else {
                "no"
            }
            .to_owned()
        })
        .with("wrong oil", |(_, o)| if o.wrong_oil { "yes" } else { "no" }.to_owned())
        .with("launches", |(_, o)| o.launches.to_string());
    columns.of(report.fleets.iter().flat_map(|fleet| fleet.outcomes.iter().map(move |o| (fleet, o))))
}

/// Table with a line for each fleet compared with the reference, once for each of its times.
fn gains(report: &Report) -> String {
    let columns = Columns::<(&Paired, &str, &Gain)>(vec![])
        .with("machine", |(pair, ..)| cell(&pair.variant))
        .with("duty", |(pair, ..)| cell(&pair.duty))
        .with("against machine", |(pair, ..)| cell(&pair.against.0))
        .with("against duty", |(pair, ..)| cell(&pair.against.1))
        .with("of", |(_, of, _)| (*of).to_owned())
        .with("clutches longer", |(.., gain)| gain.longer.to_string())
        .with("shorter", |(.., gain)| gain.shorter.to_string())
        .with("alike", |(.., gain)| gain.alike.to_string())
        .with("unknown", |(.., gain)| gain.unknown.to_string())
        .with("sign test", |(.., gain)| gain.chance.to_string())
        .with("ratio", |(.., gain)| number(gain.ratio.estimate, 1.0))
        .with("ratio low", |(.., gain)| number(gain.ratio.low, 1.0))
        .with("ratio high", |(.., gain)| number(gain.ratio.high, 1.0))
        .with("mean ratio", |(.., gain)| gain.mean_ratio.0.to_string())
        .with("its error", |(.., gain)| gain.mean_ratio.1.to_string())
        // Running hours.
        .with("difference [h]", |(.., gain)| number(gain.difference.estimate, HOUR))
        .with("difference low [h]", |(.., gain)| number(gain.difference.low, HOUR))
        .with("difference high [h]", |(.., gain)| number(gain.difference.high, HOUR))
        .with("mean difference [h]", |(.., gain)| (gain.mean_difference.0 / HOUR).to_string())
        .with("its error [h]", |(.., gain)| (gain.mean_difference.1 / HOUR).to_string());
    columns.of(report.pairs.iter().flat_map(|pair| {
        [(pair, "running to first worn part", &pair.end), (pair, "running to service due", &pair.service)]
    }))
}

/// A sheet to fill in, as `calibrate --inspections` reads it.
fn to_fill_in((heads, rows): (Vec<String>, Vec<Vec<String>>)) -> String {
    let column = |columns: Columns<'static, Vec<String>>, (k, head): (usize, String)| {
        columns.with(head, move |row: &Vec<String>| row[k].clone())
    };
    heads.into_iter().enumerate().fold(Columns(vec![]), column).of(rows)
}

/// Table of a run with a line for each window: its end, and the means over it.
fn table(record: &Record, run: &Run, units: Units) -> String {
    let time = Columns::<(&f64, &Vec<f64>)>(vec![]).with("time [s]", |(end, _)| digits(**end));
    let columns = record.channels.iter().enumerate().fold(time, |columns, (k, channel)| {
        let unit = units.of(channel.name.dimension());
        columns.with(format!("{} [{}]", channel.name, unit.text), move |(_, row)| unit.number(row[k]))
    });
    columns.of(run.windows.end.iter().zip(&run.windows.mean))
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
    let Some(value) = axis.values.get(at) else { return cell(&axis.labels[at]) };
    match parameter(&axis.name).and_then(|p| unit_of(p.dimension)) {
        Some(unit) => short(unit.from_si(*value)),
        None => short(*value),
    }
}

/// Table with one line per event of a season, by policy and date.
fn events(season: &Season) -> String {
    let columns = Columns::<(usize, &Event)>(vec![])
        .with("policy", |(policy, _)| (policy + 1).to_string())
        .with("date", |(_, event)| event.date.to_string())
        .with("cart", |(_, event)| event.cart.to_string())
        .with("event", |(_, event)| event.what.name().to_owned())
        .with("part", |(_, event)| event.part.map_or("", Part::name).to_owned())
        .with("use [%]", |(_, event)| event.part.map_or_else(String::new, |_| short(100.0 * event.used)));
    let policies = season.policies.iter().enumerate();
    columns.of(policies.flat_map(|(policy, outcome)| outcome.events.iter().map(move |event| (policy, event))))
}

/// Table with one line per combination.
fn combinations(sweep: &Sweep) -> String {
    let axes = sweep.axes.iter().enumerate().fold(Columns(vec![]), |columns, (at, axis)| {
        columns.with(head(axis), move |row: &&Row| stop(axis, row.place[at]))
    });
    summarised(axes, Units::Metric, |row| &row.summary).of(&sweep.rows)
}

/// Table with one line per run of a record.
fn comparison(record: &Record, units: Units) -> String {
    let columns = Columns::<(&Run, &Summary)>(vec![])
        .with("machine", |(run, _)| cell(&run.variant))
        .with("duty", |(run, _)| cell(&run.duty));
    let summaries: Vec<Summary> = record.runs.iter().map(Summary::of).collect();
    summarised(columns, units, |row| row.1).of(record.runs.iter().zip(&summaries))
}

/// Columns of a run's summary.
fn summarised<'a, R: 'a>(columns: Columns<'a, R>, units: Units, of: fn(&R) -> &Summary) -> Columns<'a, R> {
    let maybe = |value: Option<f64>, unit: f64| value.map_or_else(String::new, |value| short(value / unit));
    let [lining, bushing] = [units.of(Dimension::Temperature), units.of(Dimension::Temperature)];
    columns
        .with(format!("lining peak [{}]", lining.text), move |row| lining.number(of(row).lining_peak))
        .with(format!("bushing peak [{}]", bushing.text), move |row| bushing.number(of(row).bushing_peak))
        .with("slip power [W]", move |row| short(of(row).slip_power))
        .with("slip energy per launch [kJ]", move |row| maybe(of(row).slip_energy, 1e3))
        .with("launches", move |row| of(row).launches.to_string())
        .with("oil fill [%]", move |row| short(100.0 * of(row).oil_fill))
        .with("running [h]", move |row| maybe(of(row).running, HOUR))
        .with("life [h]", move |row| maybe(of(row).life, HOUR))
        .with("first worn out", move |row| of(row).ended_by.map_or("", Part::name).to_owned())
        .with("service due [h]", move |row| maybe(of(row).service_due, HOUR))
        .with("warnings", move |row| of(row).warnings.iter().map(|kind| kind.name()).collect::<Vec<_>>().join("; "))
}

/// Table with one line per variable.
fn draws(influences: &Influences) -> String {
    let each = |i: &Influence, of: &dyn Fn(&Moved) -> String| i.settings.iter().map(of).collect::<Vec<_>>().join("; ");
    let shown = |m: &Moved, value| show(value, parameter(&m.path).map_or(Dimension::Ratio, |p| p.dimension));
    let mut columns = Columns::<(&Ranking, &Influence)>(vec![])
        .with("machine", |(ranking, _)| cell(&ranking.variant))
        .with("duty", |(ranking, _)| cell(&ranking.duty))
        .with("draw", |(_, i)| cell(&i.draw))
        .with("spread by", |(_, i)| if i.by_script { "the script" } else { "assumption" }.to_owned())
        .with("settings", move |(_, i)| each(i, &|m| m.path.clone()))
        .with("P10", move |(_, i)| each(i, &|m| shown(m, m.low)))
        .with("P90", move |(_, i)| each(i, &|m| shown(m, m.high)))
        .with("running to end at P10 [h]", |(_, i)| number(i.low.end, HOUR))
        .with("running to end at P90 [h]", |(_, i)| number(i.high.end, HOUR))
        .with("running to service due at P10 [h]", |(_, i)| number(i.low.service_due, HOUR))
        .with("running to service due at P90 [h]", |(_, i)| number(i.high.service_due, HOUR))
        .with("lining peak at P10 [°C]", |(_, i)| celsius(i.low.lining_peak).to_string())
        .with("lining peak at P90 [°C]", |(_, i)| celsius(i.high.lining_peak).to_string());
    for (measure, name) in Measure::ALL.into_iter().zip(["end", "service due", "lining peak"]) {
        for (at, share) in ["first", "first's error", "total", "total's error"].into_iter().enumerate() {
            columns = columns.with(format!("{name}: {share}"), move |(_, i)| {
                let shares = |index: Index| [index.first, index.first_error, index.total, index.total_error][at];
                number(i.index(measure).map(shares), 1.0)
            });
        }
    }
    columns.of(influences.rankings.iter().flat_map(|ranking| ranking.influences.iter().map(move |i| (ranking, i))))
}
