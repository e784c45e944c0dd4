//! Remaining life of a fleet over hours: the middle clutch, and the band that holds eighty of a hundred.

use crate::fleet::{left_over_hours, name, panels};
use crate::panel::Curve;
use crate::{DrawError, Drawing, Look};
use slipsoak_engine::fleet::{Fleet, Report};

const HIGH: f64 = 262.0;

/// Hours until which something is left in some fleet.
fn until(fleets: &[Fleet]) -> f64 {
    let last = |fleet: &Fleet| {
        let left = fleet.bands.iter().rposition(|band| band[2] > 0.0).map_or(0, |k| (k + 1).min(fleet.times.len() - 1));
        fleet.times.get(left).copied().unwrap_or(fleet.horizon) / 3600.0
    };
    fleets.iter().map(last).fold(1e-3, f64::max)
}

fn curve(fleet: &Fleet, order: usize) -> Curve {
    let times = || fleet.times.iter().map(|time| time / 3600.0);
    let band = times().zip(&fleet.bands).map(|(hours, band)| (hours, band[0], band[2]));
    let points = times().zip(&fleet.bands).map(|(hours, band)| (hours, band[1]));
    Curve {
        label: "P50".to_owned(),
        order,
        points: std::iter::once((0.0, 1.0)).chain(points).collect(),
        band: std::iter::once((0.0, 1.0, 1.0)).chain(band).collect(),
        beyond: vec![],
        dash: None,
        bold: true,
        of: None,
    }
}

/// Sentence on the first failures.
fn verdict(fleet: &Fleet) -> String {
    let b10 = fleet.end.iter().find(|m| m.name == "B10").and_then(|m| m.time.estimate);
    let first = fleet.first.iter().max_by_key(|share| share.clutches);
    match (b10, first) {
        (Some(time), Some(first)) if first.part != "none" => {
            format!("a tenth has ended after {:.0} h; most by: {}", time / 3600.0, first.part)
        }
        (Some(time), _) => format!("a tenth has ended after {:.0} h", time / 3600.0),
        _ => "fewer than a tenth end within the horizon".to_owned(),
    }
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let note = format!(
        "Line: the middle one of {} clutches; shade: from P10 to P90, between which eighty of a hundred lie. Remaining life: 1 − the largest use of a part.",
        report.clutches
    );
    let describe = "One panel for each fleet; across: hours of the duty; upward: remaining life, the middle clutch and the band from P10 to P90.";
    panels(report, look, HIGH, ["Remaining life", &note, describe], |sheet, fleets, k, frame| {
        let (fleet, curves) = (&fleets[k], vec![curve(&fleets[k], k)]);
        left_over_hours(name(report, fleet), verdict(fleet), until(fleets), "remaining life, %", curves)
            .draw(sheet, frame)
    })
}
