//! Remaining life of a fleet over running hours: the median clutch, and the band of 80 % of clutches.

use crate::figures::fleet::{left_over_hours, panels};
use crate::sheet::prelude::*;
use crate::words::clutches::{lived, milestone, name};
use crate::words::reading::brief;
use crate::words::say::time;
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::names::Quantile;
use slipsoak_engine::units::HOUR;

const HIGH: f64 = 262.0;

/// Running hours until nothing remains in any fleet.
fn until(fleets: &[(usize, &Fleet)]) -> f64 {
    let last = |fleet: &Fleet| {
        let left = fleet.bands.iter().rposition(|band| band[2] > 0.0).map_or(0, |k| (k + 1).min(fleet.times.len() - 1));
        fleet.times.get(left).copied().unwrap_or(fleet.horizon) * fleet.running_share / HOUR
    };
    fleets.iter().map(|(_, fleet)| last(fleet)).fold(1e-3, f64::max)
}

fn curve(fleet: &Fleet, order: usize) -> Curve {
    let times = || fleet.times.iter().map(|time| time * fleet.running_share / HOUR);
    let band = times().zip(&fleet.bands).map(|(hours, band)| (hours, band[0], band[2]));
    let points = times().zip(&fleet.bands).map(|(hours, band)| (hours, band[1]));
    Curve {
        band: std::iter::once((0.0, 1.0, 1.0)).chain(band).collect(),
        dash: None,
        bold: true,
        ..Curve::of("middle clutch (P50)", order, std::iter::once((0.0, 1.0)).chain(points).collect())
    }
}

/// Text with the time at which 10 % of the clutches have failed, and the part.
fn verdict(fleet: &Fleet) -> String {
    let b10 = milestone(&fleet.end_running, Quantile::B10).estimate;
    let first = fleet.first.iter().filter(|share| share.part.is_some()).max_by_key(|share| share.clutches);
    match (b10, first) {
        (Some(b10), Some(first)) => {
            format!(
                "1 in 10 worn out after {} of running; most often first: {}",
                time(b10),
                first.part.map_or("none", brief)
            )
        }
        _ => lived(fleet),
    }
}

fn chart(report: &Report, fleets: &[(usize, &Fleet)], (k, fleet): (usize, &Fleet)) -> Panel {
    let curves = vec![curve(fleet, k)];
    left_over_hours(name(report, fleet), verdict(fleet), until(fleets), "remaining life, %", curves)
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let note = format!(
        "Line: the middle one of {} clutches; shade: from P10 to P90, between which eighty of a hundred lie. Remaining life: 1 − the largest use of a part, oil set apart.",
        report.clutches
    );
    let describe = "One panel for each fleet; across: hours of running; upward: remaining life, the middle clutch and the band from P10 to P90.";
    panels(
        report,
        look,
        HIGH,
        ["Remaining life", &note, describe],
        |fleets, shown| chart(report, fleets, shown),
        |sheet, _, _, chart, frame| chart.draw(sheet, frame),
    )
}
