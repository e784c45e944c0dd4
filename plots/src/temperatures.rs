//! Temperatures over the duty, one panel a run.

use crate::axis::round_step;
use crate::canvas::{FOOT, HEAD, sheet};
use crate::palette::dash;
use crate::panel::{Curve, Frame, Limit, Panel, Second};
use crate::reading::{PANELS, celsius, clock, column, curve, fahrenheit, longest, name, setting, shown};
use crate::{DrawError, Drawing, Size};
use slipsoak_engine::record::{Record, Run};

/// Channels shown and their words, hottest first.
const SHOWN: [(&str, &str); 5] = [
    ("lining surface", "lining surface"),
    ("band", "drum band"),
    ("bushing", "bushing"),
    ("washer", "washer"),
    ("block", "motor block"),
];

/// Settings that limit a temperature and their words.
const LIMITS: [(&str, &str); 3] = [
    ("limits.lining_most", "lining, peak"),
    ("limits.lining_steady", "lining, steady"),
    ("limits.bushing_warning", "bushing oil"),
];

/// Limits of a run, °C.
fn limits(run: &Run) -> Vec<Limit> {
    let limit = |(path, words): &(&str, &str)| {
        let at = celsius(setting(run, path)?);
        Some(Limit { label: format!("{words} {at:.0} °C"), at })
    };
    LIMITS.iter().filter_map(limit).collect()
}

/// Lowest and highest value of an axis that holds every curve and limit, on round numbers.
fn range(runs: &[Run], columns: &[usize]) -> (f64, f64) {
    let of = |rows: fn(&Run) -> &Vec<f64>| {
        let all = runs.iter().flat_map(move |run| columns.iter().map(move |k| celsius(rows(run)[*k])));
        all.filter(|t| t.is_finite()).collect::<Vec<f64>>()
    };
    let coolest = of(|run| &run.overall.least).into_iter().fold(20.0, f64::min);
    let hottest = of(|run| &run.overall.most).into_iter().fold(60.0, f64::max);
    // A limit far above everything would press the curves to the floor.
    let near = runs.iter().flat_map(limits).map(|limit| limit.at).filter(|at| *at <= 2.0 * hottest + 60.0);
    let top = near.fold(hottest, f64::max);
    let step = round_step((top - coolest) / 8.0);
    ((coolest / step).floor() * step, ((top + 0.2 * step) / step).ceil() * step)
}

/// Whether the mean of a window blurs whole launches and rides away; then its greatest value is drawn.
fn hides_rides(run: &Run) -> bool {
    run.windows.length > 60.0
}

/// Curves of a run over time in units of so many seconds.
fn curves(run: &Run, columns: &[usize], per: f64) -> Vec<Curve> {
    let w = &run.windows;
    let one = |(order, column): (usize, &usize)| {
        let least = curve(run, &w.least, *column, per, celsius);
        let most = curve(run, &w.most, *column, per, celsius);
        let band = least.iter().zip(most).map(|(a, b)| (a.0, a.1, b.1));
        Curve {
            label: SHOWN[order].1.to_owned(),
            order,
            points: curve(run, if hides_rides(run) { &w.most } else { &w.mean }, *column, per, celsius),
            band: if order == 0 && !hides_rides(run) { band.collect() } else { vec![] },
            beyond: vec![],
            dash: dash(order),
            bold: false,
        }
    };
    columns.iter().enumerate().map(one).collect()
}

pub fn draw(record: &Record, size: Size) -> Result<Drawing, DrawError> {
    let (runs, left_out) = shown(record, PANELS);
    let columns = SHOWN.iter().map(|(name, _)| column(record, name)).collect::<Result<Vec<_>, _>>()?;
    let across = if runs.len() > 3 && size.width >= 900 { 2 } else { 1 };
    let rows = runs.len().div_ceil(across);
    let height = size.height.max((rows as f64 * 250.0 + HEAD + FOOT) as u32);
    let (per, unit) = clock(longest(runs));
    let y = range(runs, &columns);
    let lines = if runs.iter().any(hides_rides) {
        "Lines: greatest of each window"
    } else {
        "Lines: means of each window; shade: least and greatest of the lining's surface"
    };
    let note = format!("{lines}. Dotted lines: limits.{left_out}");
    let describe = format!(
        "One panel for each run; across: {unit} of the duty; upward: temperature, °C (°F) of the lining's surface, drum, bushing, washer and motor block."
    );
    sheet((size.width, height), &format!("Temperatures: {}", record.title), &note, &describe, |sheet| {
        let body = Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: sheet.height - FOOT };
        for (run, frame) in runs.iter().zip(body.split(rows, across)) {
            let panel = Panel {
                heading: name(record, run),
                verdict: String::new(),
                across: format!("time, {unit}"),
                up: "temperature, °C".to_owned(),
                second: Some(Second { title: "temperature, °F".to_owned(), unit: fahrenheit }),
                x: (0.0, run.duration / per),
                y,
                curves: curves(run, &columns, per),
                limits: limits(run),
                room: 152.0,
                format_up: |_| None,
            };
            panel.draw(sheet, frame)?;
        }
        Ok(())
    })
}
