//! A recorded ride: target and actual speed, and a histogram of the launches' slip energy.

use crate::figures::moment::clock as clock_of;
use crate::figures::reading::clock;
use crate::sheet::prelude::*;
use crate::words::retraced::found;
use slipsoak_engine::retraced::Retraced;

pub fn draw(of: &Retraced, look: &Look) -> Result<Drawing, DrawError> {
    if of.speeds.len() < 2 {
        return Err(DrawError::Empty);
    }
    let heading = found(of);
    let note = look.under(
        "Slip energy of the lining from the clutch's engagement until it locks, or stops again. Dashed: the recording, cleaned. Estimates.",
    );
    let describe = "Above: speed recorded (dashed) and ridden (solid) over time. Below: number of launches in each class of slip energy.";
    sheet(look, look.height().max(640.0), [&heading, &note, describe], |sheet| {
        let middle = 0.55 * sheet.height;
        let last = of.speeds.last().map_or(1.0, |s| s.0);
        let (per, unit) = clock(last);
        let points = |pick: fn(&(f64, f64, f64)) -> f64| of.speeds.iter().map(|s| (s.0 / per, 3.6 * pick(s))).collect();
        let most = of.speeds.iter().map(|s| 3.6 * s.1.max(s.2)).fold(5.0, f64::max);
        let panel = Panel {
            heading: "speed".into(),
            across: format!("time, {unit}"),
            up: "speed, km/h (mph)".into(),
            x: (0.0, last / per).into(),
            y: rounded((0.0, most), 6.0),
            curves: vec![
                Curve { dash: None, ..Curve::of("ridden", 1, points(|s| s.2)) },
                Curve { dash: dash(2), ..Curve::of("recorded", 0, points(|s| s.1)) },
            ],
            stacked: look.narrow(),
            room: 84.0,
            beside: Some(|km_h| number(km_h / 1.609_344, 1.0)),
            at: Some(Box::new(move |time| clock_of(per * time))),
            ..Panel::default()
        };
        panel.draw(sheet, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: middle })?;
        let count = of.classes.iter().map(|c| c.2).max().unwrap_or(0);
        let y = (0.0, (count.max(1) as f64) * 1.15);
        let whole = |tick: &(f64, String)| tick.0.fract() == 0.0;
        let histogram = Panel {
            heading: "launches".into(),
            across: "slip energy of a launch, kJ".into(),
            up: "number of launches".into(),
            x: (0.0, of.classes.last().map_or(1e3, |c| c.1) / 1e3).into(),
            y,
            // Counts are whole numbers.
            ticks_up: Some(Axis::from(y).ticks(7).into_iter().filter(whole).map(|t| (t.0, number(t.0, 1.0))).collect()),
            room: if sheet.narrow() { 0.0 } else { 84.0 },
            ..Panel::default()
        };
        let below = Frame { left: 30.0, top: middle + 9.0, ..sheet.body() };
        histogram.draw(sheet, below)?;
        let (x, y) = histogram.axes(below);
        if count == 0 {
            let at = Frame::between((x.ends().0, y.ends().0), (x.ends().1, y.ends().1)).middle();
            return sheet.text("no launch from standstill", at, Type::LABEL.side(0));
        }
        for (from, to, count) in of.classes.iter().filter(|c| c.2 > 0) {
            let (a, b, top) = (x.at(from / 1e3) + 1.5, x.at(to / 1e3) - 1.5, y.at(*count as f64));
            let launches = if *count == 1 { "launch" } else { "launches" };
            let said = format!("{count} {launches}, {} to {} kJ", number(from / 1e3, 1.0), number(to / 1e3, 1.0));
            sheet.says(&said, || sheet.bar((a, top), (b, y.at(0.0)), colour(1)))?;
            sheet.text(&count.to_string(), (f64::midpoint(a, b), top - 8.0), Type::TICK.side(0))?;
        }
        Ok(())
    })
}
