//! Panels that the figures of a fleet have in common.

use crate::sheet::prelude::*;
use crate::words::clutches::{ranked, reference};
use slipsoak_engine::fleet::{Fleet, Report};

/// Largest number of panels.
const PANELS: usize = 8;

/// The fleets that a figure shows, each with its index, and a sentence on those it leaves out. If there are more than
/// `most`: the reference, the longest-lived and the shortest-lived.
pub fn shown(report: &Report, most: usize) -> (Vec<(usize, &Fleet)>, String) {
    let known = |k: &usize| !report.fleets[*k].unknown();
    let mut places: Vec<usize> = (0..report.fleets.len()).filter(known).collect();
    let all = places.len();
    let mut note = String::new();
    if all > most {
        let (own, called) = reference(report);
        let own = if known(&own) { own } else { places[0] };
        let others: Vec<usize> = ranked(report).into_iter().filter(|k| *k != own && known(k)).collect();
        let long = most / 2;
        let short = most - 1 - long;
        places =
            std::iter::once(own).chain(others[..long].iter().chain(&others[others.len() - short..]).copied()).collect();
        places.sort_unstable();
        note = format!(" Of {all} fleets {called}, the {long} longest-lived and the {short} shortest-lived are shown.");
    }
    (places.into_iter().map(|k| (k, &report.fleets[k])).collect(), note)
}

/// A sheet with one chart for each fleet shown, painted into panels of this height, px, and more if the longest text
/// needs it; heading, note and description are texts of the sheet.
pub fn panels(
    report: &Report,
    look: &Look,
    high: f64,
    [heading, note, describe]: [&str; 3],
    chart: impl Fn(&[(usize, &Fleet)], (usize, &Fleet)) -> Panel,
    paint: impl Fn(&Sheet<'_>, &[(usize, &Fleet)], (usize, &Fleet), &Panel, Frame) -> Result<(), DrawError>,
) -> Result<Drawing, DrawError> {
    let (fleets, left_out) = shown(report, PANELS);
    let across = look.columns(fleets.len() > 1);
    let rows = fleets.len().div_ceil(across);
    let wide = look.width() / across as f64;
    let charts: Vec<Panel> = fleets.iter().map(|shown| chart(&fleets, *shown)).collect();
    let high = high + charts.iter().map(|chart| chart.more(wide)).fold(0.0, f64::max).ceil();
    let height = HEAD + rows as f64 * high + FOOT;
    let heading = format!("{heading}: {}", look.asked(&report.head));
    let note = look.under(&format!("{note}{left_out}"));
    sheet(look, height, [&heading, &note, describe], |sheet| {
        let mut cells = fleets.iter().zip(&charts).zip(sheet.body().split(rows, across));
        cells.try_for_each(|((shown, chart), frame)| {
            sheet.of(Some(shown.0), || paint(sheet, &fleets, *shown, chart, frame))
        })
    })
}

/// A chart of the remaining share over running hours, with the curves' names below.
pub fn left_over_hours(heading: String, verdict: String, until: f64, up: &str, curves: Vec<Curve>) -> Panel {
    Panel {
        heading,
        verdict,
        stacked: true,
        across: "hours of running".to_owned(),
        up: up.to_owned(),
        x: (0.0, until).into(),
        y: (0.0, 1.0),
        curves,
        share: true,
        ..Panel::default()
    }
}
