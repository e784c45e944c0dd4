//! Bars of the last quarter beside a chart of temperatures: coolest, mean and hottest of each run.

use crate::figures::cycles;
use crate::sheet::prelude::*;
use crate::words::reading::{fahrenheit, name};
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::Record;

/// Bars of the last quarter beside a chart, on its vertical scale; across each the limit of its run, °C, if it is among these.
pub(super) fn draw(
    sheet: &Sheet<'_>,
    (record, look): (&Record, &Look),
    (runs, channel, limits): (&[usize], Channel, &[(usize, f64)]),
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
    let step = (right - left) / runs.len().max(1) as f64;
    let width = (0.35 * step).clamp(1.5, 7.0);
    let late = |k: &usize| Some((*k, cycles::late(&cycles::values(&record.runs[*k], channel, look))?));
    let mut all: Vec<(usize, [f64; 3])> = runs.iter().filter_map(late).collect();
    all.sort_by(|a, b| b.1[2].total_cmp(&a.1[2]));
    for (place, (k, [coolest, mean, hottest])) in all.into_iter().enumerate() {
        let at = left + step * (place as f64 + 0.5);
        if let Some(limit) = limits.iter().find(|own| own.0 == k).map(|own| own.1).filter(|limit| y.holds(*limit)) {
            sheet.line(&[(at - 0.5 * step, y.at(limit)), (at + 0.5 * step, y.at(limit))], QUIET, 1.0, LIMIT_DASH)?;
        }
        let said = format!("{}, last quarter: {}", name(record, &record.runs[k]), said(coolest, mean, hottest));
        let bar = || {
            sheet.line(&[(at, y.within(coolest)), (at, y.within(hottest))], hues[k].ink, width, None)?;
            sheet.dot((at, y.within(mean)), 0.5 * width + 2.2, hues[k].ink)?;
            sheet.dot((at, y.within(mean)), 0.5 * width + 0.6, PAPER)
        };
        sheet.of(Some(k), || sheet.says(&said, bar))?;
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
