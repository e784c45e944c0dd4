//! A recorded ride: target and actual speed, and a histogram of the launches' slip energy.

use crate::figures::reading::clock;
use crate::sheet::prelude::*;
use slipsoak_engine::retraced::Retraced;

pub fn draw(of: &Retraced, look: &Look) -> Result<Drawing, DrawError> {
    if of.speeds.len() < 2 {
        return Err(DrawError::Empty);
    }
    let heading = look.title.clone().unwrap_or_else(|| format!("{} on the {}", of.file, of.machine));
    let note = look.under(
        "Energy: slip heat of the lining from the clutch's engagement until it locks, or stops again. Dashed: the recording, cleaned. Estimates.",
    );
    let describe = "Above: speed recorded (dashed) and ridden (solid) over time. Below: number of launches in each class of slip energy.";
    let height = look.size.height.max(640);
    sheet((look.size.width, height), &heading, &note, describe, |sheet| {
        let middle = 0.55 * sheet.height;
        let last = of.speeds.last().map_or(1.0, |s| s.0);
        let (per, unit) = clock(last);
        let points = |pick: fn(&(f64, f64, f64)) -> f64| of.speeds.iter().map(|s| (s.0 / per, 3.6 * pick(s))).collect();
        let most = of.speeds.iter().map(|s| 3.6 * s.1.max(s.2)).fold(5.0, f64::max);
        let step = round_step(most / 6.0);
        let panel = Panel {
            heading: "speed".into(),
            across: format!("time, {unit}"),
            up: "speed, km/h (mph)".into(),
            x: (0.0, last / per),
            y: (0.0, (most / step).ceil() * step),
            curves: vec![
                Curve { dash: None, ..Curve::of("ridden", 1, points(|s| s.2)) },
                Curve { dash: dash(2), ..Curve::of("recorded", 0, points(|s| s.1)) },
            ],
            stacked: look.narrow(),
            room: 84.0,
            beside: Some(|km_h| number(km_h / 1.609_344, 1.0)),
            ..Panel::default()
        };
        panel.draw(sheet, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: middle })?;
        let (left, right, top, floor) =
            (92.0, sheet.width - if sheet.narrow() { SIDE } else { 102.0 }, middle + 40.0, sheet.height - FOOT - 46.0);
        let words = Type::LABEL;
        let tick = Type::TICK;
        sheet.text("launches", (left, middle + 22.0), Type::HEADING)?;
        if of.classes.is_empty() {
            return sheet.text("no launch from standstill", (left, 0.5 * (top + floor)), words);
        }
        let end = of.classes.last().map_or(1.0, |c| c.1);
        let x = Axis::linear((0.0, end / 1e3), (left, right));
        let count = of.classes.iter().map(|c| c.2).max().unwrap_or(1);
        let y = Axis::linear((0.0, count as f64 * 1.15), (floor, top));
        // Counts are whole numbers.
        let whole = round_step((count as f64 / 5.0).max(1.0));
        for value in (0..).map(|k| f64::from(k) * whole).take_while(|v| y.holds(*v)) {
            sheet.line(&[(left, y.at(value)), (right, y.at(value))], FAINT, 0.6, None)?;
            sheet.text(&format!("{value:.0}"), (left - 7.0, y.at(value)), tick.side(1))?;
        }
        for (from, to, count) in of.classes.iter().filter(|c| c.2 > 0) {
            let (a, b) = (x.at(from / 1e3) + 1.5, x.at(to / 1e3) - 1.5);
            sheet.bar((a, y.at(*count as f64)), (b, floor), colour(1))?;
            sheet.text(&count.to_string(), (0.5 * (a + b), y.at(*count as f64) - 8.0), tick.side(0))?;
        }
        for (value, text) in x.ticks(8) {
            sheet.line(&[(x.at(value), floor), (x.at(value), floor + 4.0)], TEXT, 0.9, None)?;
            sheet.text(&text, (x.at(value), floor + 13.0), tick.side(0))?;
        }
        sheet.line(&[(left, top), (left, floor), (right, floor)], TEXT, 0.9, None)?;
        sheet.text("slip energy of a launch, kJ", (0.5 * (left + right), floor + 31.0), words.side(0))?;
        sheet.text("number of launches", (20.0, 0.5 * (top + floor)), words.upright())
    })
}
