//! Temperatures of all runs on one axis: the hottest of each cycle over the hours that the motor runs, and the last quarter.

use crate::figures::reading::in_fahrenheit;
use crate::figures::temperatures::{hides_rides, limit};
use crate::sheet::prelude::*;
use crate::words::compared::{by_duty, life, longest_first};
use crate::words::fault::unfit;
use crate::words::reading::{celsius, end, name, reference};
use slipsoak_engine::names::Channel;
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
/// Width of the strip of the last quarter, and of the room for labels, px.
const STRIP: f64 = 150.0;
const LABELS: f64 = 186.0;
/// Room below a narrow panel for its labels, px.
const BELOW: f64 = 90.0;
/// Longest running time shown in minutes, s.
const MINUTES: f64 = 7200.0;
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
fn bold(record: &Record) -> impl Fn(&Run) -> bool + '_ {
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

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let bold = bold(record);
    let hues = hues::of_runs(record);
    let narrow = look.narrow();
    let most = record.runs.iter().map(|run| run.running_time).fold(1.0, f64::max);
    let (per, unit) = if most <= MINUTES { (60.0, "minutes") } else { (HOUR, "hours") };
    let shortest = (0..record.runs.len()).min_by(|a, b| life(&record.runs[*a]).total_cmp(&life(&record.runs[*b])));
    let heavy = record.runs.iter().filter(|run| bold(run)).count();
    let of = |shown: &Shown| record.runs.iter().map(|run| windows(run, shown.channel)).collect::<Vec<_>>();
    let all: Vec<Vec<Vec<_>>> = SHOWN.iter().map(of).collect();
    let panel = |shown: &Shown, values: &[Vec<(f64, [f64; 3])>]| {
        let limits: Vec<Limit> =
            shown.limits.iter().filter_map(|(p, words)| limit(&record.runs[0], p, words)).collect();
        let every = (record.runs.len() - heavy).div_ceil(shown.labels.saturating_sub(heavy).max(1)).max(1);
        let (low, high) = extent(values.iter().flatten().flat_map(|value| value.1));
        let near = limits.iter().map(|limit| limit.at).filter(|at| *at <= 1.5 * high + 30.0);
        let top = near.fold(high, f64::max);
        let curves = record.runs.iter().zip(values).enumerate().map(|(k, (run, values))| {
            let line = hottest(cycle(run), values).into_iter().map(|(time, value)| (time / per, value)).collect();
            let heavy = bold(run);
            let label = if heavy || k % every == 0 || shortest == Some(k) { name(record, run) } else { String::new() };
            Curve { bold: heavy, of: Some(k), ..Curve::in_hue(label, hues[k], line) }
        });
        Panel {
            heading: format!("{}: hottest of each launch's cycle", shown.name),
            across: format!("{unit} the motor runs"),
            up: scales::titled("temperature"),
            x: (0.0, most / per).into(),
            y: rounded((low, top + 0.02 * (top - low)), 6.0),
            curves: curves.collect(),
            limits,
            stacked: narrow,
            room: LABELS,
            beside: Some(in_fahrenheit),
            ..Panel::default()
        }
    };
    let panels: Vec<Panel> = SHOWN.iter().zip(&all).map(|(shown, values)| panel(shown, values)).collect();
    let below = if narrow { BELOW + 18.0 * (record.runs.len() / 2) as f64 } else { 0.0 };
    let height = HEAD + CHARTS + below * panels.len() as f64 + FOOT;
    let named = panels[0].curves.iter().filter(|curve| !curve.label.is_empty()).count();
    let all_runs = record.runs.len();
    let duties = if several_duties(record) { " Dashes: by duty." } else { "" };
    let named = if named < all_runs { format!(" Named: {named} of {all_runs} runs.") } else { String::new() };
    let late = if narrow { "" } else { " Last quarter: from the coolest to the hottest, ring at the mean." };
    let note = format!(
        "Lines: greatest temperature from one launch to the next.{late} Dotted: limits. Bold: the reference, and the longest-lived that fits.{duties}{named}"
    );
    let describe = "Two charts over the time that the motor runs, the same for all runs: the lining's surface and the bushing; one line for each run. Beside each, coolest, mean and hottest of each run in its last quarter.";
    let heading = format!("Temperatures compared: {}", look.asked(&record.head));
    sheet(look, height, [&heading, &look.note(record, &note), describe], |sheet| {
        let body = sheet.body();
        let mut top = body.top;
        for ((panel, values), shown) in panels.iter().zip(&all).zip(&SHOWN) {
            let bottom = top + shown.share * CHARTS + below;
            let frame = Frame { top, bottom, right: if narrow { body.right } else { body.right - STRIP }, ..body };
            panel.draw(sheet, frame)?;
            if !narrow {
                let (_, y) = panel.axes(frame);
                let ends = (frame.right + 16.0, body.right - SIDE);
                for limit in panel.limits.iter().filter(|limit| y.holds(limit.at)) {
                    sheet.line(&[(ends.0, y.at(limit.at)), (ends.1, y.at(limit.at))], QUIET, 1.0, LIMIT_DASH)?;
                }
                strip(sheet, (values, &hues), &y, ends, frame.top)?;
            }
            top = bottom;
        }
        Ok(())
    })
}

/// Bars of the last quarter beside a chart, on its vertical scale.
fn strip(
    sheet: &Sheet<'_>,
    (values, hues): (&[Values], &[Hue]),
    y: &Axis,
    (left, right): (f64, f64),
    top: f64,
) -> Result<(), DrawError> {
    sheet.text("last quarter", (left, top + 13.0), Type::HEADING)?;
    let (floor, ceiling) = y.ends();
    for (tick, _) in y.ticks(7) {
        sheet.line(&[(left, y.at(tick)), (right, y.at(tick))], FAINT, 0.6, None)?;
    }
    sheet.line(&[(left, floor), (right, floor)], TEXT, 0.9, None)?;
    sheet.line(&[(left, floor), (left, ceiling)], TEXT, 0.9, None)?;
    let step = (right - left) / values.len().max(1) as f64;
    let width = (0.35 * step).clamp(1.5, 7.0);
    for (k, values) in values.iter().enumerate() {
        let Some([coolest, mean, hottest]) = late(values) else { continue };
        let at = left + step * (k as f64 + 0.5);
        sheet.of(Some(k), || {
            sheet.line(&[(at, y.within(coolest)), (at, y.within(hottest))], hues[k].ink, width, None)?;
            sheet.dot((at, y.within(mean)), 0.5 * width + 2.2, hues[k].ink)?;
            sheet.dot((at, y.within(mean)), 0.5 * width + 0.6, PAPER)
        })?;
    }
    Ok(())
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
