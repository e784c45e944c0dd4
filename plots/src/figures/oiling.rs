//! The oiling plan: time that a full bushing lasts, share of a dose that is absorbed, effect of a dose on friction.

use crate::sheet::prelude::*;
use crate::words::say;
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Lasts, OilPlan};
use slipsoak_engine::units::HOUR;

/// Heights of the upper chart and of the two below it, px.
const UPPER: f64 = 226.0;
const LOWER: f64 = 280.0;
/// Width from which the two lower charts are side by side, px.
const WIDE: u32 = 840;
/// Room for labels beside the lower charts, px.
const ROOM: f64 = 116.0;

/// A curve of a chart with named steps.
struct Steps<'a> {
    label: &'a str,
    order: usize,
    values: Vec<f64>,
}

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
    let beside = sheet.width >= f64::from(WIDE);
    let (left, end) = (frame.left + if beside { 318.0 } else { SIDE + 8.0 }, frame.right - 150.0);
    let (top, bottom) = (frame.top + 34.0, frame.bottom - 50.0);
    let (tick, title) = (Type::TICK, Type::LABEL);
    let set = Type::HEADING;
    let heading = format!("Riding until a full bushing is down to {:.0} %; use: {}", 100.0 * plan.due_at, plan.usage);
    let start = if sheet.narrow() { SIDE } else { 64.0 };
    let lines = wrapped(&heading, set, frame.right - start - SIDE)?;
    for (k, line) in lines.iter().enumerate() {
        sheet.text(line, (start, frame.top + 13.0 + 17.0 * k as f64), set)?;
    }
    let top = top + 17.0 * (lines.len() - 1) as f64;
    let last = |lasts: &Lasts| lasts.due.or(lasts.fill.last().map(|p| p.0)).unwrap_or(0.0) / HOUR;
    let (low, high) =
        plan.lasts.iter().map(last).fold((f64::INFINITY, 0.0), |(a, b), h| (f64::min(a, h), f64::max(b, h)));
    let x = Axis::decades((low, high), (left, end));
    for (value, words) in apart(&x, tick, 8)? {
        sheet.line(&[(x.at(value), top), (x.at(value), bottom)], FAINT, 0.6, None)?;
        sheet.line(&[(x.at(value), bottom), (x.at(value), bottom + 4.0)], TEXT, 0.9, None)?;
        sheet.text(&words, (x.at(value), bottom + 13.0), tick.side(0))?;
    }
    sheet.line(&[(left, bottom), (end, bottom)], TEXT, 0.9, None)?;
    sheet.text("hours of riding without oiling (log scale)", (0.5 * (left + end), bottom + 32.0), title.side(0))?;
    let step = (bottom - top) / plan.lasts.len() as f64;
    for (k, lasts) in plan.lasts.iter().enumerate() {
        let y = top + step * (k as f64 + if beside { 0.5 } else { 0.75 });
        let leak = say::figures(lasts.leak * HOUR, 2);
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

/// A chart over named steps, in per cent.
fn chart(
    sheet: &Sheet<'_>,
    frame: Frame,
    (heading, across, up): (&str, &str, &str),
    steps: &[String],
    curves: &[Steps<'_>],
) -> Result<(), DrawError> {
    let (left, end) = (frame.left + 64.0, frame.right - ROOM);
    let (top, bottom) = (frame.top + 30.0, frame.bottom - 50.0);
    let x = Axis::linear((-0.3, steps.len() as f64 - 0.7), (left, end));
    let y = Axis::linear((0.0, 1.04), (bottom, top));
    let (tick, title) = (Type::TICK, Type::LABEL);
    sheet.text(heading, (left, frame.top + 13.0), Type::HEADING)?;
    for (value, _) in y.ticks(6) {
        sheet.line(&[(left, y.at(value)), (end, y.at(value))], FAINT, 0.6, None)?;
        sheet.text(&format!("{:.0}", 100.0 * value), (left - 7.0, y.at(value)), tick.side(1))?;
    }
    let mut free = f64::NEG_INFINITY;
    for (k, words) in steps.iter().enumerate() {
        let at = x.at(k as f64);
        sheet.line(&[(at, bottom), (at, bottom + 4.0)], TEXT, 0.9, None)?;
        let half = 0.5 * width_of(words, tick)?;
        if at - half < free {
            continue;
        }
        free = at + half + 4.0;
        sheet.text(words, (at, bottom + 13.0), tick.side(0))?;
    }
    sheet.line(&[(left, top), (left, bottom), (end, bottom)], TEXT, 0.9, None)?;
    sheet.text(across, (0.5 * (left + end), bottom + 32.0), title.side(0))?;
    sheet.text(up, (frame.left + 20.0, 0.5 * (top + bottom)), title.upright())?;
    let mut labels = vec![];
    for curve in curves {
        let ink = colour(curve.order);
        let places: Vec<_> = curve.values.iter().enumerate().map(|(k, v)| (x.at(k as f64), y.within(*v))).collect();
        sheet.line(&places, ink, 1.7, dash(curve.order))?;
        for place in &places {
            sheet.dot(*place, 3.6, ink)?;
        }
        if let Some(last) = places.last() {
            labels.push(Label::of(curve.label, last.1, ink));
        }
    }
    label::write(sheet, labels, (end, ROOM), (top, bottom))
}

pub fn draw(plan: &OilPlan, look: &Look) -> Result<Drawing, DrawError> {
    let (Some(habit), Some(_)) = (plan.habits.first(), plan.lasts.first()) else { return Err(DrawError::Empty) };
    let rows_below = if look.size.width >= WIDE { 1 } else { 2 };
    let upper = if look.narrow() { UPPER + 72.0 } else { UPPER };
    let height = (HEAD + upper + LOWER * rows_below as f64 + FOOT) as u32;
    let heading = look.titled(|| format!("Oiling the bushing of the {}", plan.machine));
    let hot = scales::pair("80 °C", "176 °F");
    let note = format!(
        "The end leakage (at {hot} and 2500 rpm) is assumed and decides: nobody has measured it. What helps is the rest before the drum turns again; keep oil off the linings."
    );
    let describe = "Above: hours of riding until service is due, by end leakage and with grease. Below: share of a dose kept by wait, cold and warm; friction of the lining by drops put on before a ride.";
    sheet((look.size.width, height), &heading, &look.under(&note), describe, |sheet| {
        rows(sheet, plan, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: HEAD + upper })?;
        let below = Frame { left: 0.0, top: HEAD + upper, right: sheet.width, bottom: sheet.height - FOOT };
        let below = below.split(rows_below, 3 - rows_below);
        let waits: Vec<String> = habit.kept.iter().map(|k| wait(k.0)).collect();
        let kept: Vec<Steps<'_>> = plan
            .habits
            .iter()
            .enumerate()
            .map(|(k, h)| Steps {
                label: if h.warm { "after, warm" } else { "before, cold" },
                order: k,
                values: h.kept.iter().map(|p| p.1).collect(),
            })
            .collect();
        chart(
            sheet,
            below[0],
            (&format!("What is kept of {:.0} drops", plan.drops), "wait before riding", "oil kept, %"),
            &waits,
            &kept,
        )?;
        let drops: Vec<String> = plan.doses.iter().map(|d| format!("{:.0}", d.drops)).collect();
        let doses = [
            Steps { label: "friction", order: 2, values: plan.doses.iter().map(|d| d.grip).collect() },
            Steps { label: "oil kept", order: 1, values: plan.doses.iter().map(|d| d.kept).collect() },
        ];
        chart(
            sheet,
            below[1],
            ("Oiled 30 s before the ride", "drops put on", "friction, % of dry; oil kept, %"),
            &drops,
            &doses,
        )
    })
}
