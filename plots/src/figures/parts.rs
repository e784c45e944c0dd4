//! Remaining life of each part in a fleet: the median clutch, and the band of 80 % of clutches.

use crate::figures::fleet::{left_over_hours, panels};
use crate::sheet::prelude::*;
use crate::words::clutches::{followed, lived, name};
use crate::words::reading::brief;
use slipsoak_engine::fleet::{Fleet, LEVELS, Report, Wearing};
use slipsoak_engine::names::Part;
use slipsoak_engine::numerics::along;
use slipsoak_engine::units::HOUR;

const HIGH: f64 = 282.0;
/// Number of points of the band's edges.
const STEPS: usize = 96;

/// Curve of one percentile of the clutches: (running hours, remaining share), from new to the last known point.
/// `scale`: running hours per second.
fn line((part, scale): (&Wearing, f64), share: usize) -> Vec<Place> {
    let known = LEVELS.iter().zip(&part.times).map_while(|(left, times)| Some((times[share]? * scale, *left)));
    std::iter::once((0.0, 1.0)).chain(known).collect()
}

/// Parts of which the median clutch uses up at least a quarter.
fn worn(fleet: &Fleet) -> impl Iterator<Item = &Wearing> {
    fleet.wearing.iter().filter(|part| part.times[0][1].is_some())
}

/// Running hours per second of the duty.
fn scale(fleet: &Fleet) -> f64 {
    fleet.running_share / HOUR
}

/// Running hours shown: as far as the median clutch is known, or else the whole simulated time.
fn until(fleets: &[(usize, &Fleet)]) -> f64 {
    let last = |fleet: &Fleet| {
        let lasts = worn(fleet).map(|part| line((part, scale(fleet)), 1).last().map_or(0.0, |p| p.0));
        lasts.fold(0.0, f64::max)
    };
    let known = fleets.iter().map(|(_, fleet)| last(fleet)).fold(0.0, f64::max) * 1.04;
    if known > 0.0 { known } else { fleets.iter().map(|(_, f)| followed(f) / HOUR).fold(1e-3, f64::max) }
}

fn worn_over_hours(fleet: &Fleet, part: &Wearing, until: f64) -> Curve {
    let [soon, middle, late] = [0, 1, 2].map(|share| line((part, scale(fleet)), share));
    // The band ends where too many curves end.
    let seen = until.min(late.last().map_or(0.0, |p| p.0));
    let places = (0..=STEPS).map(|k| seen * k as f64 / STEPS as f64);
    Curve {
        band: places.map(|hours| (hours, along(&soon, hours), along(&late, hours))).collect(),
        beyond: soon,
        bold: true,
        ..Curve::in_hue(label(fleet, part.part), hues::of_part(part.part), middle)
    }
}

/// Name of a part under the chart, and the share of clutches in which it wore out first.
fn label(fleet: &Fleet, part: Part) -> String {
    match fleet.first.iter().find(|share| share.part == Some(part)) {
        Some(share) => format!("{}: first in {} of {}", brief(part), share.clutches, fleet.outcomes.len()),
        None if part == Part::Oil => "oil, set apart".to_owned(),
        None => brief(part).to_owned(),
    }
}

fn chart(report: &Report, fleets: &[(usize, &Fleet)], (_, fleet): (usize, &Fleet)) -> Panel {
    let until = until(fleets);
    let curves = worn(fleet).map(|part| worn_over_hours(fleet, part, until)).collect();
    left_over_hours(name(report, fleet), lived(fleet), until, "left of the part, %", curves)
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let note = format!(
        "Bold: when half of {} clutches have so much left of the part; thin: when a tenth have; shade: from there to when nine tenths have, as far as that is known. A clutch counts as later for the parts that outlast its first worn one. Oil set apart: at 0 it is at its limit, and the clutch goes on. Curves are interpolated between quarters.",
        report.clutches
    );
    let describe = "One panel for each fleet; across: hours of running; upward: what is left of each part, the middle clutch and the band from P10 to P90.";
    panels(
        report,
        look,
        HIGH,
        ["Part by part", &note, describe],
        |fleets, shown| chart(report, fleets, shown),
        |sheet, _, (_, fleet), panel, frame| {
            panel.draw(sheet, frame)?;
            if worn(fleet).next().is_some() {
                return Ok(());
            }
            let (x, y) = panel.axes(frame);
            let words = "up to the end the middle clutch has more than three quarters left of every part";
            let set = Type::LABEL.ink(QUIET).side(0);
            let (left, right) = x.ends();
            let lines = wrapped(words, set, right - left - 40.0)?;
            let first = y.at(0.5) - 9.0 * (lines.len() - 1) as f64;
            sheet.lines(&lines, (0.5 * (left + right), first), set, 18.0)
        },
    )
}
