//! Temperatures of all runs on one axis: the hottest of each cycle over the hours that the motor runs, and the last quarter.

use crate::figures::chosen::{bold, bold_means};
use crate::figures::compared_limits::{Limits, limits, own};
use crate::figures::{cycles, late_bars, moment};
use crate::sheet::prelude::*;
use crate::words::compared::life;
use crate::words::findings;
use crate::words::reading::name;
use slipsoak_engine::names::{Channel, distinct};
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::HOUR;

/// A quantity with its name, its share of the sheet, and its limits.
struct Shown {
    channel: Channel,
    name: &'static str,
    share: f64,
    /// largest number of labels; of more curves the bold ones and every second, third or further one are labelled
    labels: usize,
    limits: &'static Limits,
}

static SHOWN: [Shown; 2] = [
    Shown {
        channel: Channel::LiningSurface,
        name: "lining surface",
        share: 0.6,
        labels: 13,
        limits: &[(&settings::limits::lining_most, "limit"), (&settings::limits::lining_steady, "continuous")],
    },
    Shown {
        channel: Channel::Bushing,
        name: "bushing",
        share: 0.4,
        labels: 9,
        limits: &[(&settings::limits::bushing_warning, "limit")],
    },
];

/// Height of both charts together, px.
const CHARTS: f64 = 560.0;
/// Width of the strip of the last quarter, and the most of the room for labels, px.
const STRIP: f64 = 138.0;
const LABELS: f64 = 186.0;
const FEWER_LABELS: f64 = 138.0;
/// Room below a narrow panel for its labels, px.
const BELOW: f64 = 90.0;
/// Longest running time shown in minutes, s.
const MINUTES: f64 = 7200.0;
/// Largest number of duties with a column of charts each, and width of the bars beside a chart of several, px.
const COLUMNS: usize = 4;
const BARS: f64 = 46.0;
/// Width of the first column beyond that of the others, for its labels, px.
const LEAD: f64 = 74.0;

/// Runs that share a chart: all of them, or those of each of a few duties under which several machines are compared.
fn charts(record: &Record) -> Vec<(Option<&str>, Vec<usize>)> {
    let all = || 0..record.runs.len();
    let duties = distinct(record.runs.iter().map(|run| run.duty.as_str()));
    if hues::dashes_mean(record).is_empty() || duties.len() > COLUMNS {
        return vec![(None, all().collect())];
    }
    duties.into_iter().map(|duty| (Some(duty), all().filter(|k| record.runs[*k].duty == duty).collect())).collect()
}

/// The chart of a quantity for some of the runs; `y`: its range, the same in all; `first`: whether its axis has labels;
/// `last`: whether curves are named here.
fn panel(
    (record, look): (&Record, &Look),
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
    let lasts = |run: &Run| {
        let (from, to) = cycles::shown(run, look);
        to - from
    };
    let most = runs.iter().map(|k| lasts(&record.runs[*k])).fold(1.0, f64::max);
    let (per, unit) = if most <= MINUTES { (60.0, "minutes") } else { (HOUR, "hours") };
    let curves = runs.iter().enumerate().map(|(place, k)| {
        let run = &record.runs[*k];
        let line = cycles::line(run, shown.channel, look).into_iter().map(|(time, value)| (time / per, value));
        let heavy = bold(run);
        let called = if duty.is_some() { run.variant.clone() } else { name(record, run) };
        let named = last && (heavy || place % every == 0 || shortest == Some(*k));
        let hue = if duty.is_some() { Hue { dash: None, ..hues[*k] } } else { hues[*k] };
        let label = if named { called.clone() } else { String::new() };
        Curve { bold: heavy, of: Some(*k), said: called, ..Curve::in_hue(label, hue, line.collect()) }
    });
    let named = |Limit { label, at }: Limit| Limit { label: if last { label } else { String::new() }, at };
    let from = moment::since(look);
    let from = if from.is_empty() { from } else { format!(" from “{from}”") };
    let bare = Axis::from(y).ticks(7).into_iter().map(|tick| (tick.0, String::new())).collect();
    let since = from.clone();
    Panel {
        heading: duty.map_or_else(|| format!("{}: hottest of each launch's cycle", shown.name), str::to_owned),
        across: format!("{unit} the motor runs{from}"),
        up: match (first, duty) {
            (false, _) => String::new(),
            (true, None) => scales::titled("temperature"),
            (true, Some(_)) => scales::titled(shown.name),
        },
        x: (0.0, most / per).into(),
        y,
        curves: curves.collect(),
        limits: limits(record, shown.limits, runs).into_iter().map(named).collect(),
        ticks_up: (!first).then_some(bare),
        upward: Upward::Celsius,
        at: Some(Box::new(move |time| format!("{}{since}", moment::clock(per * time)))),
        ..Panel::default()
    }
}

/// Range of a quantity's axis, the same for all charts: of all values and of the limits near them.
fn range(record: &Record, shown: &Shown, look: &Look) -> (f64, f64) {
    let runs = record.runs.iter();
    let bars = runs.clone().flat_map(|run| cycles::values(run, shown.channel, look)).flat_map(|value| value.1);
    let lines = runs.flat_map(|run| cycles::line(run, shown.channel, look)).map(|place| place.1);
    let (low, high) = extent(bars.chain(lines));
    let (low, high) = if low <= high { (low, high) } else { (0.0, 100.0) };
    let all: Vec<usize> = (0..record.runs.len()).collect();
    let top = limits(record, shown.limits, &all)
        .into_iter()
        .map(|limit| limit.at)
        .filter(|at| *at <= 1.5 * high + 30.0)
        .fold(high, f64::max);
    rounded((low, top + 0.02 * (top - low)), 6.0)
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    moment::check_span(record, look)?;
    let narrow = look.narrow();
    let charts = charts(record);
    let columns = if narrow { 1 } else { charts.len() };
    let several = charts.len() > 1;
    let runs = charts.iter().map(|chart| chart.1.len()).max().unwrap_or(0);
    let mut drawn: Vec<Vec<Panel>> = vec![];
    for shown in &SHOWN {
        let y = range(record, shown, look);
        let one =
            |(k, chart)| panel((record, look), shown, chart, y, [narrow || k == 0, narrow || k + 1 == charts.len()]);
        drawn.push(charts.iter().enumerate().map(one).collect());
    }
    let widths = drawn.iter().flatten().map(Panel::room_for_labels).collect::<Result<Vec<_>, _>>()?;
    let labels = widths.into_iter().fold(0.0, f64::max).min(if several { FEWER_LABELS } else { LABELS });
    let stacked = narrow && labels > LEGEND;
    let below = if stacked { BELOW + 18.0 * (runs / 2) as f64 } else { 0.0 };
    let height = HEAD + (CHARTS + below * SHOWN.len() as f64) * (charts.len() / columns) as f64 + FOOT;
    let lead = if several && !narrow { LEAD } else { 0.0 };
    let wide = if narrow { look.width() } else { (look.width() - labels - lead) / columns as f64 };
    for (k, panel) in drawn.iter_mut().flat_map(|row| row.iter_mut().enumerate()) {
        panel.stacked = stacked;
        panel.room = if narrow || k + 1 == charts.len() { labels } else { 0.0 };
        // A name of several lines would make its column's axis shorter than the others'.
        if several {
            let room = if panel.room > 0.0 && !narrow { wide + labels - BARS - 60.0 } else { wide - 90.0 };
            panel.heading = fit(&panel.heading, Type::HEADING, room)?;
        }
    }
    let named = drawn[0].last().map_or(0, |panel| panel.curves.iter().filter(|c| !c.label.is_empty()).count());
    let named = if named < runs { format!(" Named: {named} of {runs} runs.") } else { String::new() };
    let dashes = if several { "" } else { hues::dashes_mean(record) };
    let late = match (narrow, several) {
        (true, _) => "",
        (_, true) => " Bars: last quarter, the hottest run first, from the coolest to the hottest, ring at the mean.",
        _ => " Last quarter: the hottest run first; from the coolest to the hottest, ring at the mean.",
    };
    let heavy: Vec<&Run> = record.runs.iter().filter(|run| bold(record)(run)).collect();
    let some = heavy.len() < record.runs.len();
    let bold = if some { bold_means(record, heavy.into_iter()) } else { "" };
    let differ = charts.iter().any(|chart| SHOWN.iter().any(|shown| !own(record, shown.limits, &chart.1).is_empty()));
    let dotted = match (differ, narrow) {
        (false, _) => "limits",
        (true, true) => "limits and whose they are",
        (true, false) => "limits and whose they are, across each bar its own",
    };
    let stands = if drawn.iter().flatten().all(|panel| panel.curves.iter().all(|curve| curve.points.is_empty())) {
        " The motor does not run in this span."
    } else {
        ""
    };
    let note = format!(
        "Lines: greatest temperature from one launch to the next.{late} Dotted: {dotted}.{bold}{dashes}{named}{stands}"
    );
    let column = if several { ", a column of charts for each duty" } else { "" };
    let beside = if narrow { "" } else { " Beside each, coolest, mean and hottest of each run in its last quarter." };
    let describe = &format!(
        "Charts over the time that the motor runs, the same for all runs: the lining's surface and the bushing; one line for each run{column}.{beside}"
    );
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
                    let ends = (right + 2.0, right + beside - if several { 4.0 } else { SIDE });
                    let each = own(record, shown.limits, &charts[column].1);
                    for limit in panel.limits.iter().filter(|limit| each.is_empty() && y.holds(limit.at)) {
                        sheet.line(&[(ends.0, y.at(limit.at)), (ends.1, y.at(limit.at))], QUIET, 1.0, LIMIT_DASH)?;
                    }
                    if !several {
                        sheet.text("last quarter", (ends.0, top + 13.0), Type::HEADING)?;
                    }
                    late_bars::draw(sheet, (record, look), (&charts[column].1, shown.channel, &each), &y, ends)?;
                }
                top = bottom;
            }
        }
        Ok(())
    })
}
