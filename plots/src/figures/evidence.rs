//! Measurements against the fit: readings with their scatter, the curve before and after, the fit's band.

use crate::figures::reading::{clock, in_fahrenheit};
use crate::sheet::prelude::*;
use crate::words::reading::celsius;
use crate::words::say::{temperature, turns};
use slipsoak_engine::calibrate::{Evidence, Stated, Told};
use slipsoak_engine::units::{HOUR, THOU};

/// Height of a panel, px.
const HIGH: f64 = 300.0;

/// Display of a quantity: axis title, conversion from SI, and a second unit.
struct Shown {
    up: String,
    of: fn(f64) -> f64,
    beside: Option<fn(f64) -> String>,
}

fn shown(evidence: &Evidence) -> Shown {
    match evidence.unit.as_str() {
        "K" => Shown { up: scales::titled("temperature"), of: celsius, beside: Some(in_fahrenheit) },
        "m" => Shown {
            up: if evidence.name.starts_with("bushing") { "play, mm (thou)" } else { "thickness, mm (thou)" }.into(),
            of: |v| 1e3 * v,
            beside: Some(|mm| number(1e-3 * mm / THOU, 0.1)),
        },
        "rad/s" => {
            let up = if evidence.name.starts_with("drop") { "drop of the idle, rpm" } else { "engagement, cold, rpm" };
            Shown { up: up.into(), of: |v| v * 30.0 / std::f64::consts::PI, beside: None }
        }
        "N" => Shown { up: "pull of a shoe, N".into(), of: |v| v, beside: None },
        "s" => Shown { up: "time to rest, s".into(), of: |v| v, beside: None },
        "1" => Shown { up: "charred, %".into(), of: |v| 100.0 * v, beside: None },
        _ => Shown { up: "oil less worn bronze, mg".into(), of: |v| 1e6 * v, beside: None },
    }
}

/// Name of what was read, and the conditions under which it was.
fn heading_of(evidence: &Evidence) -> String {
    let stated = |s: &Stated| match s.unit.as_str() {
        "K" => format!(", {}", temperature(s.value)),
        "rad/s" => format!(", {}", turns(s.value)),
        unit => format!(", {} {unit}", number(s.value, 0.01)),
    };
    evidence.name.clone() + &evidence.under.iter().map(stated).collect::<String>()
}

/// Draws all charts of the evidence on one sheet.
pub fn draw(told: &Told, look: &Look) -> Result<Drawing, DrawError> {
    let evidence = &told.evidence;
    if evidence.is_empty() {
        return Err(DrawError::Empty);
    }
    let heading = look.titled(|| format!("{}: measured, before and after", told.calibration.machine));
    let across = look.columns(evidence.len() > 1);
    let rows = evidence.len().div_ceil(across);
    let height = rows as f64 * HIGH + HEAD + FOOT;
    let note = look.under("Dots: readings less each clutch's own level; bars: 90 % of their scatter. Shade: 90 % band of the fitted curve. Dashed: before, with the values assumed. Estimates, on stated and assumed scatter.");
    let describe = "One panel for each quantity measured; across: running hours, launches or minutes; upward: the quantity; dots with bars: readings; dashed: before; solid with shade: fitted.";
    sheet(look, height, [&heading, &note, describe], |sheet| {
        let body = sheet.body();
        for (one, frame) in evidence.iter().zip(body.split(rows, across)) {
            let Shown { up, of, beside } = shown(one);
            let last = one.curve.last().map_or(1.0, |c| c[0]);
            let (per, unit) = match one.across.as_str() {
                "s" if one.unit == "K" => clock(last),
                "s" => (HOUR, "running hours"),
                _ => (1.0, "launches"),
            };
            let time = if one.unit == "K" { format!("time, {unit}") } else { unit.to_owned() };
            let point = |k: usize| one.curve.iter().map(|c| (c[0] / per, of(c[k]))).collect::<Vec<_>>();
            let band = one.curve.iter().map(|c| (c[0] / per, of(c[3]), of(c[4]))).collect();
            let readings = || one.readings.iter().flat_map(|r| [r.value - r.scatter, r.value + r.scatter]);
            let curves = one.curve.iter().flat_map(|c| c[1..].to_vec());
            let (low, high) = extent(readings().chain(curves).map(of));
            let room = 0.03 * (high - low);
            let panel = Panel {
                heading: heading_of(one),
                across: time,
                up,
                x: (0.0, last / per * 1.02).into(),
                y: rounded((low - room, high + room), 6.0),
                curves: vec![
                    Curve { band, dash: None, ..Curve::of("fitted", 1, point(2)) },
                    Curve { dash: dash(1), ..Curve::of("before", 0, point(1)) },
                ],
                stacked: look.narrow(),
                room: 66.0,
                beside,
                ..Panel::default()
            };
            panel.draw(sheet, frame)?;
            let (x, y) = panel.axes(frame);
            for r in &one.readings {
                let at = x.within(r.at / per);
                let ends = [of(r.value - r.scatter), of(r.value + r.scatter)].map(|v| (at, y.within(v)));
                sheet.line(&ends, colour(4), 0.8, None)?;
                sheet.dot((at, y.within(of(r.value))), 2.6, colour(4))?;
            }
        }
        Ok(())
    })
}
