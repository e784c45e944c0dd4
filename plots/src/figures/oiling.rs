//! The oiling plan: time that a full bushing lasts, share of a dose that is absorbed, effect of a dose on friction.

use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::say;
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Lasts, OilPlan};
use slipsoak_engine::units::HOUR;

/// Heights of the upper chart and of the two below it, px.
const UPPER: f64 = 226.0;
const LOWER: f64 = 280.0;
/// Width from which the two lower charts are side by side, px.
const WIDE: f64 = 840.0;
/// Room for labels beside the lower charts, px.
const ROOM: f64 = 98.0;

/// A waiting time as text.
fn wait(seconds: f64) -> String {
    if seconds < 60.0 {
        format!("{seconds:.0} s")
    } else if seconds < HOUR {
        format!("{:.0} min", seconds / 60.0)
    } else {
        format!("{:.0} h", seconds / HOUR)
    }
}

/// One row per case: riding time until service is due.
fn rows(sheet: &Sheet<'_>, plan: &OilPlan, frame: Frame) -> Result<(), DrawError> {
    // On a narrow sheet the cases are above their lines.
    let beside = sheet.width >= WIDE;
    let (left, end) = (frame.left + if beside { 318.0 } else { SIDE + 8.0 }, frame.right - 150.0);
    let (top, bottom) = (frame.top + 34.0, frame.bottom - 50.0);
    let title = Type::LABEL;
    let set = Type::HEADING;
    let heading = format!("Riding until a full bushing is down to {:.0} %; use: {}", 100.0 * plan.due_at, plan.usage);
    let start = if sheet.narrow() { SIDE } else { 64.0 };
    let lines = wrapped(&heading, set, frame.right - start - SIDE)?;
    sheet.lines(&lines, (start, frame.top + 13.0), set, 17.0)?;
    let top = top + 17.0 * (lines.len() - 1) as f64;
    let last = |lasts: &Lasts| lasts.due.or(lasts.fill.last().map(|p| p.0)).unwrap_or(0.0) / HOUR;
    let x = Axis::decades(extent(plan.lasts.iter().map(last)), (left, end));
    let ticks = apart(&x, Type::TICK, 8)?;
    ruler::below(sheet, &x, &ticks, bottom, Some(top), "hours of riding without oiling (log scale)")?;
    let step = (bottom - top) / plan.lasts.len() as f64;
    for (k, lasts) in plan.lasts.iter().enumerate() {
        let y = top + step * (k as f64 + if beside { 0.5 } else { 0.75 });
        let leak = figures(lasts.leak * HOUR, 2);
        let case = match lasts.name {
            LeakCase::AsSet => format!("end leakage {leak} per hour, as set"),
            LeakCase::Greased => format!("with {:.1} mL of grease, {leak} per hour", lasts.grease * 1e6),
            LeakCase::Least => format!("{leak} per hour, the least possible"),
            LeakCase::Most => format!("{leak} per hour, the greatest possible"),
        };
        let set = title.bold(k == 0);
        if beside {
            let named = set.side(1);
            sheet.fitted(&case, (left - 12.0, y), named, left - frame.left - 30.0)?;
        } else {
            sheet.on_paper(&fit(&case, set, frame.right - left)?, (left + 4.0, y - 14.0), set)?;
        }
        let (at, ink) = (x.within(last(lasts)), colour(k));
        sheet.line(&[(left, y), (at, y)], FAINT, 1.2, None)?;
        sheet.dot((at, y), 5.0, ink)?;
        let early = if lasts.within_first() { ", within the first outing" } else { "" };
        let words = lasts
            .due
            .map_or_else(|| format!("more than {}", say::time(last(lasts) * HOUR)), |due| say::time(due) + early);
        sheet.text(&words, (at + 11.0, y), set)?;
    }
    Ok(())
}

/// A curve over named steps.
fn steps(label: &str, order: usize, values: impl Iterator<Item = f64>) -> Curve {
    Curve { dots: true, ..Curve::of(label, order, values.enumerate().map(|(k, v)| (k as f64, v)).collect()) }
}

/// A chart over named steps, in per cent.
fn chart(heading: String, across: &str, up: &str, steps: Vec<String>, curves: Vec<Curve>) -> Panel {
    Panel {
        heading,
        across: across.to_owned(),
        up: up.to_owned(),
        x: (-0.3, steps.len() as f64 - 0.7).into(),
        y: (0.0, 1.04),
        ticks: Some(steps.into_iter().enumerate().map(|(k, words)| (k as f64, words)).collect()),
        curves,
        share: true,
        room: ROOM,
        ..Panel::default()
    }
}

pub fn draw(plan: &OilPlan, look: &Look) -> Result<Drawing, DrawError> {
    let (Some(habit), Some(_)) = (plan.habits.first(), plan.lasts.first()) else { return Err(DrawError::Empty) };
    let rows_below = if look.width() >= WIDE { 1 } else { 2 };
    let upper = if look.narrow() { UPPER + 72.0 } else { UPPER };
    let height = HEAD + upper + LOWER * f64::from(rows_below) + FOOT;
    let heading = look.titled(|| format!("Oiling the bushing of the {}", plan.machine));
    let hot = scales::pair("80 °C", "176 °F");
    let note = format!(
        "The end leakage (at {hot} and 2500 rpm) is assumed and decides: nobody has measured it. What counts is the rest before the drum turns again; keep oil off the linings."
    );
    let describe = "Above: hours of riding until service is due, by end leakage and with grease. Below: share of a dose kept by wait, cold and warm; friction of the lining by drops put on before a ride.";
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        rows(sheet, plan, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: HEAD + upper })?;
        let below = Frame { left: 0.0, top: HEAD + upper, right: sheet.width, bottom: sheet.height - FOOT };
        let below = below.split(rows_below as usize, 3 - rows_below as usize);
        let waits = habit.kept.iter().map(|k| wait(k.0)).collect();
        let kept =
            plan.habits.iter().enumerate().map(|(k, h)| {
                steps(if h.warm { "after, warm" } else { "before, cold" }, k, h.kept.iter().map(|p| p.1))
            });
        let heading = format!("What is kept of {:.0} drops", plan.drops);
        chart(heading, "wait before riding", "oil kept, %", waits, kept.collect()).draw(sheet, below[0])?;
        let drops = plan.doses.iter().map(|d| format!("{:.0}", d.drops)).collect();
        let doses = vec![
            steps("friction", 2, plan.doses.iter().map(|d| d.grip)),
            steps("oil kept", 1, plan.doses.iter().map(|d| d.kept)),
        ];
        let heading = "Oiled 30 s before the ride".to_owned();
        chart(heading, "drops put on", "friction, % of dry; oil kept, %", drops, doses).draw(sheet, below[1])
    })
}
