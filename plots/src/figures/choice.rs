//! Every spring of a stock on one machine: life, temperature, and lock-up speed.

use crate::figures::choice_panel::{LEFT, Quantity, RIGHT, Row, panel, room};
use crate::figures::painted::with_unit;
use crate::sheet::prelude::*;
use crate::words::choice::found;
use crate::words::reading::{celsius, fahrenheit};
use crate::words::say;
use crate::words::slope::steep;
use crate::words::verdict::brief;
use slipsoak_engine::spring_choice::{Choice, Judged, Verdict};
use slipsoak_engine::units::{HOUR, in_rpm};

/// Height of a panel, and of the text above the first, px.
const PANEL: f64 = 168.0;
const ABOVE: f64 = 58.0;
/// Distance from the lowest panel to the note, px.
const BELOW: f64 = 48.0;

/// Whether springs were judged by a start on a slope, warm from the use.
fn starts(choice: &Choice) -> bool {
    choice.springs.iter().filter_map(|spring| spring.found.as_ref()).any(|found| found.start.is_some())
}

fn quantities(choice: &Choice) -> [Quantity; 3] {
    [
        Quantity {
            up: "life, h".to_owned(),
            also: None,
            both: scales::pair,
            said: |hours| say::time(HOUR * hours),
            rows: vec![Row { label: "life", of: |f| f.life.map(|l| l / HOUR), order: hues::MOTOR }],
            limits: vec![],
        },
        Quantity {
            up: scales::titled("peak"),
            also: Some(fahrenheit),
            both: scales::pair,
            said: with_unit,
            rows: [
                Row { label: "lining", of: |f| Some(celsius(f.peaks.lining)), order: hues::LINING },
                Row { label: "bushing", of: |f| Some(celsius(f.peaks.bushing)), order: hues::BUSHING },
            ]
            .into_iter()
            .chain(starts(choice).then_some(Row {
                label: "lining, start on slope",
                of: |f| f.start.map(|start| celsius(start.lining)),
                order: hues::LINING,
            }))
            .collect(),
            limits: vec![(celsius(choice.lining_most), "lining limit")],
        },
        Quantity {
            up: "speed, km/h (mph)".to_owned(),
            also: Some(|v| v / 1.609_344),
            both: |v, also| format!("{v} ({also})"),
            said: |speed| say::road_speed(speed / 3.6),
            rows: vec![
                Row {
                    label: "full-throttle lock-up",
                    of: |f| f.balance.map(|b| 3.6 * b.vehicle),
                    order: hues::OUTSIDE,
                },
                Row { label: "lowest without slip", of: |f| Some(3.6 * f.lock_speed), order: hues::OUTSIDE },
            ],
            limits: vec![],
        },
    ]
}

pub fn draw(choice: &Choice, look: &Look) -> Result<Drawing, DrawError> {
    let mut springs: Vec<&Judged> = choice.springs.iter().filter(|s| s.found.is_some()).collect();
    springs.sort_by(|a, b| a.engagement.total_cmp(&b.engagement));
    let (Some(first), Some(last)) = (springs.first(), springs.last()) else { return Err(DrawError::Empty) };
    let least = in_rpm(first.engagement.min(choice.idle - choice.wander)) - 40.0;
    let most = in_rpm(last.engagement.max(choice.idle + choice.wander)) + 40.0;
    let panels = quantities(choice);
    let height = HEAD + ABOVE + PANEL * panels.len() as f64 + BELOW + FOOT;
    let sketched = if choice.sketched.is_some() { " The torque curve is sketched." } else { "" };
    let note = format!(
        "Use: {}. Filled: it fits; half filled: with warnings; hollow, on grey ground: it does not. Shaded: the idle and its variation. Lives depend on assumed constants.{sketched}{}",
        choice.usage,
        if starts(choice) {
            format!(" Start on slope: {}, from the hottest stop of the use.", steep(choice.grade))
        } else {
            String::new()
        }
    );
    let describe = "Across: engagement speed of each spring. Three panels: life in this use, peak of lining and bushing, speeds at which the clutch locks.";
    sheet(look, height, [&found(choice), &look.under(&note), describe], |sheet| {
        let end = sheet.width - RIGHT - room(sheet);
        let x = Axis::linear((least, most), (LEFT, end));
        let (top, floor) = (HEAD + ABOVE, HEAD + ABOVE + PANEL * panels.len() as f64);
        unfit(sheet, &springs, &x, (top, floor))?;
        idle(sheet, choice, &x, (top, floor))?;
        marks(sheet, choice, &x, (top, floor))?;
        for (k, quantity) in panels.iter().enumerate() {
            let from = top + PANEL * k as f64;
            panel(sheet, quantity, &springs, &x, (from + 10.0, from + PANEL - 10.0))?;
        }
        let ticks = apart(&x, Type::TICK, 9)?;
        ruler::below(sheet, &x, &ticks, floor, None, "engagement speed of the spring, new and cold, rpm")
    })
}

/// Draws the range of the idle speed, and its name above.
fn idle(sheet: &Sheet<'_>, choice: &Choice, x: &Axis, (top, floor): (f64, f64)) -> Result<(), DrawError> {
    let (low, high) = (x.within(in_rpm(choice.idle - choice.wander)), x.within(in_rpm(choice.idle + choice.wander)));
    sheet.block(Frame::between((low, top), (high.max(low + 1.0), floor)), QUIET, 0.15)?;
    let set = Type::LABEL.ink(QUIET);
    let words = format!("idle {:.0} ± {:.0} rpm", in_rpm(choice.idle), in_rpm(choice.wander));
    let wide = width_of(&words, set)?;
    // Clear of the springs' lines, which are to the right of a usual idle.
    let lines = marked(choice).into_iter().map(|name| place(choice, x, name));
    let right = lines.flatten().filter(|at| *at > f64::midpoint(low, high)).fold(x.within(f64::MAX), f64::min) - 6.0;
    let at = f64::midpoint(low, high).min(right - 0.5 * wide).max(SIDE + 0.5 * wide);
    sheet.text(&words, (at, top - 8.0), set.side(0))
}

/// Shades springs that do not fit, with the reason in a word.
fn unfit(sheet: &Sheet<'_>, springs: &[&Judged], x: &Axis, (top, floor): (f64, f64)) -> Result<(), DrawError> {
    let at: Vec<f64> = springs.iter().map(|s| x.at(in_rpm(s.engagement))).collect();
    let edge = |k: usize, to: usize| if to < at.len() { f64::midpoint(at[k], at[to]) } else { at[k] + 12.0 };
    let mut k = 0;
    while k < springs.len() {
        let why = in_a_word(springs[k]);
        let end = (k..springs.len()).take_while(|j| in_a_word(springs[*j]) == why).last().unwrap_or(k);
        if let Some(why) = why {
            let left = if k == 0 { at[0] - 12.0 } else { f64::midpoint(at[k - 1], at[k]) };
            let right = edge(end, end + 1);
            sheet.block(Frame::between((left, top), (right, floor)), FAINT, 0.6)?;
            let set = Type::TICK.ink(QUIET);
            // Below the speeds, where no curve runs.
            if width_of(why, set)? < right - left + 6.0 {
                sheet.text(why, (f64::midpoint(left, right), floor - 22.0), set.side(0))?;
            }
        }
        k = end + 1;
    }
    Ok(())
}

/// Reason in a word why a spring does not fit; none if it fits.
fn in_a_word(spring: &Judged) -> Option<&'static str> {
    spring.reasons.first().filter(|_| spring.verdict == Verdict::Unfit).map(brief)
}

/// Names of the marked springs.
fn marked(choice: &Choice) -> Vec<&str> {
    std::iter::once(&choice.trade.spring).chain(&choice.best).map(String::as_str).collect()
}

/// Horizontal position of a spring, px.
fn place(choice: &Choice, x: &Axis, name: &str) -> Option<f64> {
    choice.springs.iter().find(|s| s.name == name).map(|s| x.at(in_rpm(s.engagement)))
}

/// Marks the spring by the usual trade rule and the spring with the longest computed life.
fn marks(sheet: &Sheet<'_>, choice: &Choice, x: &Axis, (top, floor): (f64, f64)) -> Result<(), DrawError> {
    let at = |name: &str| place(choice, x, name);
    let trade = &choice.trade.spring;
    let marks = match choice.best.as_ref() {
        Some(best) if best == trade => vec![(at(best), format!("trade and computed: {best}"), None)],
        Some(best) => {
            vec![(at(trade), format!("trade: {trade}"), LIMIT_DASH), (at(best), format!("computed: {best}"), None)]
        }
        None => vec![(at(trade), format!("trade: {trade}"), LIMIT_DASH)],
    };
    let right = marks.iter().filter_map(|m| m.0).fold(0.0, f64::max);
    for (at, words, line) in marks {
        let Some(at) = at else { continue };
        // On a narrow sheet the line is interrupted at the names above each panel.
        let spans: Vec<(f64, f64)> = if sheet.narrow() {
            let panels = (0..).map(|k| top + PANEL * f64::from(k)).take_while(|from| *from < floor - 1.0);
            std::iter::once((top - 36.0, top - 20.0)).chain(panels.map(|from| (from + 34.0, from + PANEL))).collect()
        } else {
            vec![(top - 36.0, floor)]
        };
        spans.into_iter().try_for_each(|(from, to)| sheet.line(&[(at, from), (at, to)], QUIET, 1.0, line))?;
        let (place, side) = if at < right { (at - 5.0, 1) } else { (at + 5.0, -1) };
        sheet.text(&words, (place, top - 30.0), Type::LABEL.side(side))?;
    }
    Ok(())
}
