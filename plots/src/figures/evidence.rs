//! Measurements against the fit: readings with their scatter, the curve before and after, the fit's band.

use crate::figures::reading::clock;
use crate::sheet::prelude::*;
use crate::words::calibration::learned;
use crate::words::reading::celsius;
use crate::words::say::{temperature, turns};
use slipsoak_engine::calibrate::{Evidence, Stated, Told};
use slipsoak_engine::names::{Condition, Quantity};
use slipsoak_engine::units::{HOUR, THOU, in_rpm};

/// Height of a panel, px.
const HIGH: f64 = 300.0;

/// Display of a quantity: axis title, conversion from SI, and a second unit.
struct Shown {
    up: String,
    of: fn(f64) -> f64,
    beside: Option<fn(f64) -> String>,
}

fn shown(evidence: &Evidence) -> Shown {
    let shown = |up: &str, of, beside| Shown { up: up.to_owned(), of, beside };
    let thou: fn(f64) -> String = |mm| number(1e-3 * mm / THOU, 0.1);
    match evidence.quantity {
        None => shown(&scales::titled("temperature"), celsius, None),
        Some(Quantity::Bushing) => shown("play, mm (thou)", |v| 1e3 * v, Some(thou)),
        Some(Quantity::Washer | Quantity::Lining) => shown("thickness, mm (thou)", |v| 1e3 * v, Some(thou)),
        Some(Quantity::Drop) => shown("drop of the idle, rpm", in_rpm, None),
        Some(Quantity::Engagement) => shown("engagement, cold, rpm", in_rpm, None),
        Some(Quantity::Spring) => shown("pull of a shoe, N", |v| v, None),
        Some(Quantity::SpinDown) => shown("time to rest, s", |v| v, None),
        Some(Quantity::Charring) => shown("charred, %", |v| 100.0 * v, None),
        Some(Quantity::Weight) => shown("oil less worn bronze, mg", |v| 1e6 * v, None),
    }
}

/// Name of what was read, and the conditions under which it was.
fn heading_of(evidence: &Evidence) -> String {
    let stated = |s: &Stated| match s.name {
        Condition::Warm => format!(", {}", temperature(s.value)),
        Condition::Spun => format!(", {}", turns(s.value)),
        Condition::Drag => format!(", {} {}", number(s.value, 0.01), s.unit),
    };
    evidence.name.clone() + &evidence.under.iter().map(stated).collect::<String>()
}

/// Draws all charts of the evidence on one sheet.
pub fn draw(told: &Told, look: &Look) -> Result<Drawing, DrawError> {
    let evidence = &told.evidence;
    if evidence.is_empty() {
        return Err(DrawError::Empty);
    }
    let across = look.columns(evidence.len() > 1);
    let rows = evidence.len().div_ceil(across);
    let height = rows as f64 * HIGH + HEAD + FOOT;
    let note = look.under("Dots: readings less each clutch's own level, or the offset of thermocouple and clock; bars: 90 % of their scatter. Shade: 90 % band of the fitted curve. Dashed: before, with the values assumed. Estimates, on stated and assumed scatter.");
    let describe = "One panel for each quantity measured; across: running hours, launches or minutes; upward: the quantity; dots with bars: readings; dashed: before; solid with shade: fitted.";
    sheet(look, height, [&learned(&told.calibration), &note, describe], |sheet| {
        let body = sheet.body();
        for (one, frame) in evidence.iter().zip(body.split(rows, across)) {
            let Shown { up, of, beside } = shown(one);
            let last = one.curve.last().map_or(1.0, |c| c[0]);
            let (per, time) = match (one.quantity, one.by_launches) {
                (None, _) => {
                    let (per, unit) = clock(last);
                    (per, format!("time, {unit}"))
                }
                (Some(_), true) => (1.0, "launches".to_owned()),
                (Some(_), false) => (HOUR, "running hours".to_owned()),
            };
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
                upward: if one.quantity.is_none() { Upward::Celsius } else { Upward::Plain },
                ..Panel::default()
            };
            panel.draw(sheet, frame)?;
            let (x, y) = panel.axes(frame);
            for r in &one.readings {
                let at = x.within(r.at / per);
                let ends = [of(r.value - r.scatter), of(r.value + r.scatter)].map(|v| (at, y.within(v)));
                let said = format!("read {}", panel.said((r.at / per, of(r.value))));
                sheet.says(&said, || {
                    sheet.line(&ends, colour(4), 0.8, None)?;
                    sheet.dot((at, y.within(of(r.value))), 2.6, colour(4))
                })?;
            }
        }
        Ok(())
    })
}
