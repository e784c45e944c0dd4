//! The oiling plan: time that a full bushing lasts, share of a dose that is absorbed, effect of a dose on friction.

use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::oiling::{found, leakage};
use crate::words::say;
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Dose, Habit, Lasts, OilPlan};
use slipsoak_engine::units::HOUR;

/// Heights of the upper chart, of the one below it, and of each of the two small ones on a sheet of one column, px.
const UPPER: f64 = 226.0;
const LOWER: f64 = 380.0;
const SMALL: f64 = 196.0;
/// Width from which the lower charts are side by side, px.
const WIDE: f64 = 840.0;
/// Room for labels beside the chart of rests, px.
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
    let heading = format!(
        "Riding until a full bushing is down to {:.0} %, by end leakage and life of the oil in heat; use: {}",
        100.0 * plan.due_at,
        plan.usage
    );
    let start = if sheet.narrow() { SIDE } else { 64.0 };
    let lines = wrapped(&heading, set, frame.right - start - SIDE)?;
    sheet.lines(&lines, (start, frame.top + 13.0), set, 17.0)?;
    let top = top + 17.0 * (lines.len() - 1) as f64;
    let last = |lasts: &Lasts| lasts.due.or(lasts.fill.last().map(|p| p.0)).unwrap_or(0.0) / HOUR;
    let x = Axis::decades(extent(plan.lasts.iter().map(last)), (left, end));
    let ticks = apart(&x, Type::TICK, 8)?;
    ruler::below(sheet, &x, &ticks, bottom, Some(top), "hours of riding without oiling (log scale)")?;
    let step = (bottom - top) / plan.lasts.len() as f64;
    // By rising leakage, with grease last.
    let mut sorted: Vec<&Lasts> = plan.lasts.iter().collect();
    sorted.sort_by(|a, b| a.grease.total_cmp(&b.grease).then(a.leak.total_cmp(&b.leak)));
    for (k, lasts) in sorted.into_iter().enumerate() {
        let y = top + step * (k as f64 + if beside { 0.5 } else { 0.75 });
        let leak = figures(lasts.leak * HOUR, 2);
        let life = say::lasts(lasts.oil_life);
        let case = match lasts.name {
            LeakCase::AsSet => format!("as set: {leak} per hour, oil lives {life}"),
            LeakCase::Greased => format!("with {:.1} mL of grease, {leak} per hour", lasts.grease * 1e6),
            LeakCase::Least => format!("at best: {leak} per hour, oil lives {life}"),
            LeakCase::Most => format!("at worst: {leak} per hour, oil lives {life}"),
        };
        let set = title.bold(lasts.name == LeakCase::AsSet);
        if beside {
            let named = set.side(1);
            sheet.fitted(&case, (left - 12.0, y), named, left - frame.left - 30.0)?;
        } else {
            sheet.on_paper(&fit(&case, set, frame.right - left)?, (left + 4.0, y - 14.0), set)?;
        }
        let (at, ink) = (x.within(last(lasts)), colour(hues::OIL));
        sheet.line(&[(left, y), (at, y)], FAINT, 1.2, None)?;
        let early = if lasts.within_first() { ", within the first outing" } else { "" };
        let words = lasts
            .due
            .map_or_else(|| format!("more than {}", say::time(last(lasts) * HOUR)), |due| say::time(due) + early);
        sheet.says(&format!("{case}: {words}"), || sheet.dot((at, y), 5.0, ink))?;
        sheet.text(&words, (at + 11.0, y), set)?;
    }
    Ok(())
}

/// A curve with a dot at each of its points.
fn dotted(label: &str, order: usize, points: impl Iterator<Item = Place>) -> Curve {
    Curve { dots: true, ..Curve::of(label, order, points.collect()) }
}

/// A chart in per cent with a tick at each of its values.
fn chart(heading: &str, across: &str, up: &str, x: Axis, ticks: Vec<(f64, String)>, curves: Vec<Curve>) -> Panel {
    Panel {
        heading: heading.to_owned(),
        across: across.to_owned(),
        up: up.to_owned(),
        x,
        y: (0.0, 1.04),
        ticks: Some(ticks),
        curves,
        upward: Upward::Share,
        room: ROOM,
        ..Panel::default()
    }
}

/// What is kept of a dose over the wait after it, by powers of ten.
fn kept(plan: &OilPlan, habit: &Habit) -> Panel {
    let rests = habit.kept.iter().map(|kept| kept.0.max(1.0));
    let ends = extent(rests.clone());
    let curves = plan.habits.iter().enumerate().map(|(k, habit)| {
        let name = if habit.warm { "after, warm" } else { "before, cold" };
        dotted(name, k, habit.kept.iter().map(|(rest, share)| (rest.max(1.0), *share)))
    });
    let x = Axis::logarithmic((0.8 * ends.0, 1.25 * ends.1), (0.0, 1.0));
    let ticks = rests.map(|rest| (rest, wait(rest))).collect();
    let heading = format!("What is kept of {:.0} drops", plan.drops);
    let chart = chart(&heading, "wait before riding (log scale)", "oil kept, %", x, ticks, curves.collect());
    Panel { at: Some(Box::new(wait)), ..chart }
}

/// What drops put on shortly before a ride do to the linings' friction, and what the bushing keeps of them.
fn doses(plan: &OilPlan) -> [Panel; 2] {
    let most = plan.doses.iter().map(|dose| dose.drops).fold(1.0, f64::max);
    let one = |what: &str, heading, up, order, of: fn(&Dose) -> f64| {
        let curve = dotted("", order, plan.doses.iter().map(|dose| (dose.drops, of(dose))));
        let curves = vec![Curve { said: what.to_owned(), ..curve }];
        let ticks = plan.doses.iter().map(|dose| (dose.drops, format!("{:.0}", dose.drops))).collect();
        let x = (0.0, 1.04 * most).into();
        let chart = chart(heading, "drops put on", up, x, ticks, curves);
        Panel { room: 0.0, at: Some(Box::new(|drops| format!("{drops:.0} drops"))), ..chart }
    };
    [
        one(
            "friction",
            "Oiled 30 s before the ride: friction of the linings",
            "% of dry friction",
            hues::LINING,
            |dose| dose.grip,
        ),
        one("oil kept", "Oil that the bushing keeps of it", "oil kept, %", hues::OIL, |dose| dose.kept),
    ]
}

pub fn draw(plan: &OilPlan, look: &Look) -> Result<Drawing, DrawError> {
    let (Some(habit), Some(_)) = (plan.habits.first(), plan.lasts.first()) else { return Err(DrawError::Empty) };
    let beside = look.width() >= WIDE;
    let upper = if look.narrow() { UPPER + 72.0 } else { UPPER };
    let height = HEAD + upper + if beside { LOWER } else { LOWER + 2.0 * SMALL } + FOOT;
    let heading = found(plan);
    let [hot, hotter] = [("80 °C", "176 °F"), ("100 °C", "212 °F")].map(|(c, f)| scales::pair(c, f));
    let note = format!(
        "The end leakage (at {hot} and 2500 rpm) and the life of the oil (at {hotter}) decide. The first is {}; the second is assumed. What counts is the rest before the drum turns again; keep oil off the linings.",
        leakage(plan)
    );
    let describe = "Above: hours of riding until service is due, by end leakage and with grease. Below: share of a dose kept by wait, cold and warm; friction of the lining by drops put on before a ride.";
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        rows(sheet, plan, Frame { left: 0.0, top: HEAD, right: sheet.width, bottom: HEAD + upper })?;
        let middle = if beside { 0.5 * sheet.width } else { sheet.width };
        let top = HEAD + upper;
        kept(plan, habit).draw(sheet, Frame { left: 0.0, top, right: middle, bottom: top + LOWER })?;
        let (left, from, high) = if beside { (middle, top, 0.5 * LOWER) } else { (0.0, top + LOWER, SMALL) };
        for (k, panel) in doses(plan).iter().enumerate() {
            let top = from + high * k as f64;
            panel.draw(sheet, Frame { left, top, right: sheet.width, bottom: top + high })?;
        }
        Ok(())
    })
}
