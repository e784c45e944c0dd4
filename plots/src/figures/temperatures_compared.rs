//! Temperatures of all runs on one axis: the hottest of each cycle over the hours that the motor runs, and the last quarter.

use crate::figures::moment;
use crate::figures::temperatures::{hides_rides, limit};
use crate::sheet::prelude::*;
use crate::words::compared::{by_duty, life, longest_first};
use crate::words::fault::unfit;
use crate::words::findings;
use crate::words::reading::{celsius, end, fahrenheit, name, reference};
use slipsoak_engine::names::{Channel, distinct};
use slipsoak_engine::parts::{Parameter, settings};
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;
use std::collections::VecDeque;

/// A quantity with its name, its share of the sheet, and its limits.
struct Shown {
    channel: Channel,
    name: &'static str,
    share: f64,
    /// largest number of labels; of more curves the bold ones and every second, third or further one are labelled
    labels: usize,
    limits: &'static [(&'static Parameter, &'static str)],
}

static SHOWN: [Shown; 2] = [
    Shown {
        channel: Channel::LiningSurface,
        name: "lining surface",
        share: 0.6,
        labels: 13,
        limits: &[(&settings::limits::lining_most, "limit"), (&settings::limits::lining_steady, "steady limit")],
    },
    Shown {
        channel: Channel::Bushing,
        name: "bushing",
        share: 0.4,
        labels: 9,
        limits: &[(&settings::limits::bushing_warning, "limit, oil")],
    },
];

/// Height of both charts together, px.
const CHARTS: f64 = 560.0;
/// Width of the strip of the last quarter, and the most of the room for labels, px.
const STRIP: f64 = 150.0;
const LABELS: f64 = 186.0;
const FEWER_LABELS: f64 = 138.0;
/// Leader of a label and the space after it, px.
const LEADER: f64 = 34.0;
/// Room below a narrow panel for its labels, px.
const BELOW: f64 = 90.0;
/// Longest running time shown in minutes, s.
const MINUTES: f64 = 7200.0;
/// Largest number of duties with a column of charts each, and width of the bars beside a chart of several, px.
const COLUMNS: usize = 4;
const BARS: f64 = 46.0;
/// Width of the first column beyond that of the others, for its labels, px.
const LEAD: f64 = 74.0;
/// Start of the last quarter, as a share of the run.
const LATE: f64 = 0.75;

/// Values of a run's windows: time, s of the motor running, and least, mean and greatest, °C.
type Values = Vec<(f64, [f64; 3])>;

/// Values of the windows: time at the window's end, s of the motor running, and least, mean and greatest, °C. Windows in
/// which the motor stands add none; windows so long that they contain rests have their greatest value alone.
fn windows(run: &Run, channel: Channel) -> Vec<(f64, [f64; 3])> {
    let w = &run.windows;
    let mut last = 0.0;
    let ran = |(k, running): (usize, &f64)| {
        let moved = *running > last;
        last = *running;
        let rows = if hides_rides(run) { [&w.most; 3] } else { [&w.least, &w.mean, &w.most] };
        moved.then(|| (*running, rows.map(|rows| celsius(channel.of(&rows[k])))))
    };
    w.running.iter().enumerate().filter_map(ran).collect()
}

/// Duration of a cycle, from one launch to the next on average and a little longer, s; 0 if there are no two.
fn cycle(run: &Run) -> f64 {
    if run.launches > 1 { 1.05 * run.running_time / run.launches as f64 } else { 0.0 }
}

/// Greatest value within a cycle before each time, so that a comb of launches becomes one line.
fn hottest(cycle: f64, values: &[(f64, [f64; 3])]) -> Vec<Place> {
    let mut best: VecDeque<Place> = VecDeque::new();
    let mut line = vec![];
    for (time, [_, _, most]) in values {
        while best.back().is_some_and(|last| last.1 <= *most) {
            best.pop_back();
        }
        best.push_back((*time, *most));
        while best.front().is_some_and(|first| first.0 < time - cycle) {
            best.pop_front();
        }
        line.extend(best.front().map(|first| (*time, first.1)));
    }
    line
}

/// Coolest, mean and hottest in the last quarter.
fn late(values: &[(f64, [f64; 3])]) -> Option<[f64; 3]> {
    let from = LATE * values.last()?.0;
    let late: Vec<[f64; 3]> = values.iter().filter(|value| value.0 >= from).map(|value| value.1).collect();
    let mean = late.iter().map(|row| row[1]).sum::<f64>() / late.len() as f64;
    Some([late.iter().map(|row| row[0]).fold(f64::INFINITY, f64::min), mean, extent(late.iter().map(|row| row[2])).1])
}

/// Runs drawn bold: the reference, and the longest-lived that fits under each duty.
pub(super) fn bold(record: &Record) -> impl Fn(&Run) -> bool + '_ {
    let longest = by_duty(record).into_iter().filter_map(|(_, runs)| {
        longest_first(&runs).into_iter().find(|run| end(run).is_some() && unfit(record, run).is_none())
    });
    let longest: Vec<&Run> = longest.collect();
    move |run| reference(record, run) || longest.iter().any(|one| std::ptr::eq(*one, run))
}

/// Whether machines are compared under several duties, so that dashes are those of the duty.
fn several_duties(record: &Record) -> bool {
    let first = &record.runs[0];
    let other = |of: fn(&Run) -> &String| record.runs.iter().any(|run| of(run) != of(first));
    other(|run| &run.variant) && other(|run| &run.duty)
}

/// Runs that share a chart: all of them, or those of each of a few duties under which several machines are compared.
fn charts(record: &Record) -> Vec<(Option<&str>, Vec<usize>)> {
    let all = || 0..record.runs.len();
    let duties = distinct(record.runs.iter().map(|run| run.duty.as_str()));
    if !several_duties(record) || duties.len() > COLUMNS {
        return vec![(None, all().collect())];
    }
    duties.into_iter().map(|duty| (Some(duty), all().filter(|k| record.runs[*k].duty == duty).collect())).collect()
}

/// The chart of a quantity for some of the runs; `y`: its range, the same in all; `first`: whether its axis has labels;
/// `last`: whether curves are named here.
fn panel(
    record: &Record,
    shown: &Shown,
    (duty, runs): &(Option<&str>, Vec<usize>),
    y: (f64, f64),
    [first, last]: [bool; 2],
) -> Panel {
    let bold = bold(record);
    let hues = hues::of_runs(record);
    let heavy = runs.iter().filter(|k| bold(&record.runs[**k])).count();
    let shortest = runs.iter().copied().min_by(|a, b| life(&record.runs[*a]).total_cmp(&life(&record.runs[*b])));
    let every = (runs.len() - heavy).div_ceil(shown.labels.saturating_sub(heavy).max(1)).max(1);
    let most = runs.iter().map(|k| record.runs[*k].running_time).fold(1.0, f64::max);
    let (per, unit) = if most <= MINUTES { (60.0, "minutes") } else { (HOUR, "hours") };
    let curves = runs.iter().enumerate().map(|(place, k)| {
        let run = &record.runs[*k];
        let values = windows(run, shown.channel);
        let line = hottest(cycle(run), &values).into_iter().map(|(time, value)| (time / per, value)).collect();
        let heavy = bold(run);
        let called = if duty.is_some() { run.variant.clone() } else { name(record, run) };
        let named = last && (heavy || place % every == 0 || shortest == Some(*k));
        let hue = if duty.is_some() { Hue { dash: None, ..hues[*k] } } else { hues[*k] };
        let label = if named { called.clone() } else { String::new() };
        Curve { bold: heavy, of: Some(*k), said: called, ..Curve::in_hue(label, hue, line) }
    });
    let limits = shown.limits.iter().filter_map(|(p, words)| limit(&record.runs[runs[0]], p, words));
    let named = |limit: Limit| if last { limit } else { Limit { label: String::new(), ..limit } };
    let bare = Axis::from(y).ticks(7).into_iter().map(|tick| (tick.0, String::new())).collect();
    Panel {
        heading: duty.map_or_else(|| format!("{}: hottest of each launch's cycle", shown.name), str::to_owned),
        across: format!("{unit} the motor runs"),
        up: match (first, duty) {
            (false, _) => String::new(),
            (true, None) => scales::titled("temperature"),
            (true, Some(_)) => scales::titled(shown.name),
        },
        x: (0.0, most / per).into(),
        y,
        curves: curves.collect(),
        limits: limits.map(named).collect(),
        ticks_up: (!first).then_some(bare),
        upward: Upward::Celsius,
        at: Some(Box::new(move |time| moment::clock(per * time))),
        ..Panel::default()
    }
}

/// Range of a quantity's axis, the same for all charts: of all values and of the limits near them.
fn range(record: &Record, shown: &Shown) -> (f64, f64) {
    let values = record.runs.iter().flat_map(|run| windows(run, shown.channel)).flat_map(|value| value.1);
    let (low, high) = extent(values);
    let limits = shown.limits.iter().filter_map(|(p, words)| limit(&record.runs[0], p, words)).map(|limit| limit.at);
    let top = limits.filter(|at| *at <= 1.5 * high + 30.0).fold(high, f64::max);
    rounded((low, top + 0.02 * (top - low)), 6.0)
}

/// Room that the widest label beside charts takes with its leader, px.
fn widest<'a>(panels: impl Iterator<Item = &'a Panel>) -> Result<f64, DrawError> {
    let labels = panels.flat_map(|p| p.curves.iter().map(|c| &c.label).chain(p.limits.iter().map(|l| &l.label)));
    labels
        .map(|label| width_of(label, Type::LABEL.bold(true)))
        .try_fold(0.0, |most: f64, wide| Ok(most.max(wide? + LEADER)))
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let narrow = look.narrow();
    let charts = charts(record);
    let columns = if narrow { 1 } else { charts.len() };
    let several = charts.len() > 1;
    let runs = charts.iter().map(|chart| chart.1.len()).max().unwrap_or(0);
    let below = if narrow { BELOW + 18.0 * (runs / 2) as f64 } else { 0.0 };
    let height = HEAD + (CHARTS + below * SHOWN.len() as f64) * (charts.len() / columns) as f64 + FOOT;
    let mut drawn: Vec<Vec<Panel>> = vec![];
    for shown in &SHOWN {
        let y = range(record, shown);
        let one = |(k, chart)| panel(record, shown, chart, y, [narrow || k == 0, narrow || k + 1 == charts.len()]);
        drawn.push(charts.iter().enumerate().map(one).collect());
    }
    let labels = widest(drawn.iter().flatten())?.min(if several { FEWER_LABELS } else { LABELS });
    let lead = if several && !narrow { LEAD } else { 0.0 };
    let wide = if narrow { look.width() } else { (look.width() - labels - lead) / columns as f64 };
    for (k, panel) in drawn.iter_mut().flat_map(|row| row.iter_mut().enumerate()) {
        panel.stacked = narrow;
        panel.room = if narrow || k + 1 == charts.len() { labels } else { 0.0 };
        // A name of several lines would make its column's axis shorter than the others'.
        if several {
            panel.heading = fit(&panel.heading, Type::HEADING, wide - 90.0)?;
        }
    }
    let named = drawn[0].last().map_or(0, |panel| panel.curves.iter().filter(|c| !c.label.is_empty()).count());
    let named = if named < runs { format!(" Named: {named} of {runs} runs.") } else { String::new() };
    let dashes = if several_duties(record) && !several { " Dashes: by duty." } else { "" };
    let late = match (narrow, several) {
        (true, _) => "",
        (_, true) => " Bars: last quarter, from the coolest to the hottest, ring at the mean.",
        _ => " Last quarter: from the coolest to the hottest, ring at the mean.",
    };
    let note = format!(
        "Lines: greatest temperature from one launch to the next.{late} Dotted: limits. Bold: the reference, and the longest-lived that fits.{dashes}{named}"
    );
    let describe = "Charts over the time that the motor runs, the same for all runs: the lining's surface and the bushing; one line for each run, a column of charts for each duty. Beside each, coolest, mean and hottest of each run in its last quarter.";
    let heading = findings::coolest(record);
    sheet(look, height, [&heading, &look.note(record, &note), describe], |sheet| {
        let body = sheet.body();
        let beside = match (narrow, several) {
            (true, _) => 0.0,
            (false, true) => BARS,
            (false, false) => STRIP,
        };
        let mut top = body.top;
        for row in 0..charts.len() / columns {
            for (shown, panels) in SHOWN.iter().zip(&drawn) {
                let bottom = top + shown.share * CHARTS + below;
                for (column, panel) in panels.iter().skip(row * columns).take(columns).enumerate() {
                    let room = if narrow { 0.0 } else { panel.room };
                    let left = body.left + wide * column as f64 + if column > 0 { lead } else { 0.0 };
                    let right = body.left + lead + wide * (column + 1) as f64 + room - beside;
                    let frame = Frame::between((left, top), (right, bottom));
                    panel.draw(sheet, frame)?;
                    if narrow {
                        continue;
                    }
                    let (_, y) = panel.axes(frame);
                    let ends =
                        (right + if several { 2.0 } else { 16.0 }, right + beside - if several { 4.0 } else { SIDE });
                    for limit in panel.limits.iter().filter(|limit| y.holds(limit.at)) {
                        sheet.line(&[(ends.0, y.at(limit.at)), (ends.1, y.at(limit.at))], QUIET, 1.0, LIMIT_DASH)?;
                    }
                    if !several {
                        sheet.text("last quarter", (ends.0, top + 13.0), Type::HEADING)?;
                    }
                    let of: Vec<(usize, Values)> =
                        charts[column].1.iter().map(|k| (*k, windows(&record.runs[*k], shown.channel))).collect();
                    strip(sheet, record, &of, &y, ends)?;
                }
                top = bottom;
            }
        }
        Ok(())
    })
}

/// Bars of the last quarter beside a chart, on its vertical scale.
fn strip(
    sheet: &Sheet<'_>,
    record: &Record,
    all: &[(usize, Values)],
    y: &Axis,
    (left, right): (f64, f64),
) -> Result<(), DrawError> {
    let hues = hues::of_runs(record);
    let (floor, ceiling) = y.ends();
    for (tick, _) in y.ticks(7) {
        sheet.line(&[(left, y.at(tick)), (right, y.at(tick))], FAINT, 0.6, None)?;
    }
    sheet.line(&[(left, floor), (right, floor)], TEXT, 0.9, None)?;
    sheet.line(&[(left, floor), (left, ceiling)], TEXT, 0.9, None)?;
    let step = (right - left) / all.len().max(1) as f64;
    let width = (0.35 * step).clamp(1.5, 7.0);
    for (place, (k, values)) in all.iter().enumerate() {
        let Some([coolest, mean, hottest]) = late(values) else { continue };
        let at = left + step * (place as f64 + 0.5);
        let said = format!("{}, last quarter: {}", name(record, &record.runs[*k]), said(coolest, mean, hottest));
        let bar = || {
            sheet.line(&[(at, y.within(coolest)), (at, y.within(hottest))], hues[*k].ink, width, None)?;
            sheet.dot((at, y.within(mean)), 0.5 * width + 2.2, hues[*k].ink)?;
            sheet.dot((at, y.within(mean)), 0.5 * width + 0.6, PAPER)
        };
        sheet.of(Some(*k), || sheet.says(&said, bar))?;
    }
    Ok(())
}

/// What a bar of the last quarter says, from °C.
fn said(coolest: f64, mean: f64, hottest: f64) -> String {
    let in_scale = |unit: &str, of: fn(f64) -> f64| {
        format!("{:.0} to {:.0} {unit}, mean {:.0} {unit}", of(coolest), of(hottest), of(mean))
    };
    scales::pair(&in_scale("°C", |t| t), &in_scale("°F", fahrenheit))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_hottest_of_each_cycle_is_the_greatest_within_one_before() {
        // Ten launches in 1000 s: cycles of 100 s, each with a peak that rises by 2 K, 10 s after its start.
        let value = |k: i32| if k % 10 == 1 { 100.0 + 2.0 * f64::from(k / 10) } else { 50.0 };
        let values: Vec<(f64, [f64; 3])> = (0..100).map(|k| (10.0 * f64::from(k), [0.0, 0.0, value(k)])).collect();
        let line = hottest(105.0, &values);
        let from_first = line.iter().skip(1).map(|point| point.1).collect::<Vec<_>>();
        assert!(from_first.is_sorted() && from_first[0] == 100.0 && from_first[98] == 118.0, "{from_first:?}");
        assert_eq!(late(&values), Some([0.0, 0.0, 118.0]));
        // A run of one launch has no cycle.
        assert!(hottest(0.0, &values).iter().zip(&values).all(|(point, value)| point.1 == value.1[2]));
    }
}
