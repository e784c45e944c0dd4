//! A season of carts: their events over the weeks, the carts down below, and the spare parts at the right.

use crate::figures::part_mark::{self, MARK};
use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::reading::brief;
use crate::words::season::{date as say_date, found, month, policy, wrong};
use slipsoak_engine::calendar::Date;
use slipsoak_engine::names::Part;
use slipsoak_engine::season::{Event, Happened, Need, Outcome, SPARES, Season, spare};

/// Height of a cart's row, of the oiling ticks, of the chart of carts down, and of what surrounds them, px.
const ROW: f64 = 17.0;
const TICKS: f64 = 16.0;
const DOWN: f64 = 74.0;
const AROUND: f64 = 86.0;
/// Height of the title over the bars of that chart, px.
const TITLE: f64 = 14.0;
/// Least width of the spares at the right, and height of a part's row there or, on a narrow sheet, below, px.
const SPARES_WIDE: f64 = 236.0;
const SPARE: f64 = 46.0;
/// Least width of a square for a spare with the gap after it, and that gap, px: less look like one bar.
const LEAST: f64 = 5.0;
const GAP: f64 = 2.0;
/// Space left of the spares, and from their left to their words, px.
const BESIDE: f64 = 24.0;
const MARKED: f64 = 16.0;
/// Most carts with a row of their own.
const MOST: u64 = 24;

/// Lines of a panel's heading at the sheet's width, px, and their distance.
fn heading(outcome: &Outcome, width: f64) -> Result<Vec<String>, DrawError> {
    let lost = format!("{}: {} cart-days lost on average", policy(&outcome.policy), figures(outcome.down.mean, 2));
    wrapped(&lost, Type::HEADING.bold(true), width - 2.0 * SIDE)
}
const LINE: f64 = 17.0;

/// Height of a policy's panel, px.
fn panel_height(season: &Season, look: &Look) -> Result<f64, DrawError> {
    let rows = season.question.carts.min(MOST) as f64;
    let spares = SPARE * SPARES.len() as f64 + 30.0;
    let mut lines = 1;
    for outcome in &season.policies {
        lines = lines.max(heading(outcome, look.width())?.len());
    }
    let chart = AROUND + TICKS + ROW * rows + DOWN + LINE * (lines - 1) as f64;
    Ok(if look.narrow() { chart + spares } else { chart.max(spares + 60.0) })
}

/// Months of the season with their first days in it.
fn months(season: &Season) -> Vec<(f64, String)> {
    let (first, last) = (season.question.first, season.question.last);
    let mut known: Vec<(f64, String)> = vec![];
    for number in first.0..=last.0 {
        let (_, m, day) = Date(number).parts();
        if number == first.0 || day == 1 {
            known.push(((number - first.0) as f64, month(m as u64).chars().take(3).collect()));
        }
    }
    known
}

/// Rows of carts with their events.
fn carts(sheet: &Sheet<'_>, season: &Season, outcome: &Outcome, x: &Axis, top: f64) -> Result<(), DrawError> {
    let rows = season.question.carts.min(MOST);
    let at = |date: Date| x.at((date.0 - season.question.first.0) as f64 + 0.5);
    let y = |cart: u64| top + TICKS + ROW * (cart as f64 - 0.5);
    let (left, right) = x.ends();
    sheet.text("oil", (left - 8.0, top + 0.5 * TICKS), Type::TICK.ink(QUIET).side(1))?;
    let oiled =
        slipsoak_engine::names::distinct(outcome.events.iter().filter(|e| e.what == Happened::Oiled).map(|e| e.date));
    for date in oiled {
        let ink = hues::of_part(Part::Oil).ink;
        let tick = [(at(date), top + 3.0), (at(date), top + TICKS - 3.0)];
        sheet.says(&format!("oiled on {}", say_date(date)), || sheet.line(&tick, ink, 1.4, None))?;
    }
    for cart in 1..=rows {
        sheet.line(&[(left, y(cart)), (right, y(cart))], FAINT, 0.8, None)?;
        sheet.text(&cart.to_string(), (left - 8.0, y(cart)), Type::TICK.side(1))?;
        let own: Vec<&Event> = outcome.events.iter().filter(|event| event.cart == cart).collect();
        for event in own.iter().filter(|event| event.what == Happened::Stopped) {
            let end =
                own.iter().find(|e| e.what == Happened::Renewed && e.date >= event.date).map_or(right, |e| at(e.date));
            sheet.bar(
                (at(event.date), y(cart) - 3.0),
                (end.max(at(event.date) + 2.0), y(cart) + 3.0),
                QUIET.tint(0.6),
            )?;
        }
        for event in own {
            let Some(part) = event.part else { continue };
            let place = (at(event.date), y(cart));
            let said = |what: &str| format!("cart {cart}, {}: {}{what}", say_date(event.date), brief(part));
            match event.what {
                Happened::Stopped => sheet.says(&said(""), || part_mark::draw(sheet, spare(part), place))?,
                Happened::RenewedEarly => {
                    sheet.says(&said(", renewed early"), || part_mark::hollow(sheet, part, place))?;
                }
                _ => {}
            }
        }
    }
    Ok(())
}

/// Expected carts down, with what one season of ten exceeds.
fn down(sheet: &Sheet<'_>, outcome: &Outcome, x: &Axis, (top, bottom): (f64, f64), most: f64) -> Result<(), DrawError> {
    let y = Axis::linear((0.0, most), (bottom, top + TITLE));
    let (left, right) = x.ends();
    for (value, words) in y.ticks(3) {
        sheet.line(&[(left, y.at(value)), (right, y.at(value))], FAINT, 0.7, None)?;
        sheet.text(&words, (left - 8.0, y.at(value)), Type::TICK.side(1))?;
    }
    for (k, week) in outcome.weeks.iter().enumerate() {
        let (from, to) = (x.within(7.0 * k as f64), x.within(7.0 * (k as f64 + 1.0)));
        let ink = QUIET.tint(0.35);
        let said = format!(
            "carts down in week {}: {} on average, {} in one season of ten",
            k + 1,
            figures(week.down, 2),
            figures(week.worst, 2)
        );
        sheet.says(&said, || {
            sheet.bar((from + 0.5, y.within(week.worst)), (to - 0.5, bottom), ink)?;
            sheet.bar((from + 0.5, y.within(week.down)), (to - 0.5, bottom), QUIET)
        })?;
    }
    sheet.on_paper("carts down: mean, and in one season of ten (pale)", (left + 6.0, top + 6.0), Type::TICK.ink(QUIET))
}

/// What to have of a part, or where the use or the service is wrong what it takes; and how many are enough in half of the seasons.
fn stock(season: &Season, need: &Need) -> (&'static str, String) {
    let name = if need.part == Part::Spring { "springs, sets" } else { need.part.name() };
    let half = if need.half < need.nine_tenths { format!(" (half need {})", need.half) } else { String::new() };
    let verb = if wrong(season) { "takes" } else { "have" };
    (name, format!("{name}: {verb} {}{half}", need.nine_tenths))
}

/// Width of the spares beside the carts with the space around them, px.
fn spares_wide(season: &Season) -> Result<f64, DrawError> {
    let needs = season.policies.iter().flat_map(|outcome| &outcome.needs);
    let widths = needs.map(|need| width_of(&stock(season, need).1, Type::LABEL.bold(true)));
    let widest = widths.collect::<Result<Vec<_>, _>>()?.into_iter().fold(0.0, f64::max);
    Ok((widest + BESIDE + MARKED + SIDE).max(SPARES_WIDE))
}

/// The largest number of spares of a part that is drawn, over all rules: their common scale.
fn largest(season: &Season, part: Part) -> u64 {
    let needs = season.policies.iter().flat_map(|outcome| &outcome.needs).filter(|need| need.part == part);
    needs.map(|need| need.most.max(need.nine_tenths)).max().unwrap_or(0)
}

/// Width of one spare of a part, px: alike by all rules, so that they can be compared.
fn step(season: &Season, part: Part, width: f64) -> f64 {
    (width / largest(season, part).max(1) as f64).min(13.0)
}

/// The spares of one part: a square for each, filled to the median, half filled to 9 in 10, outlined to 19 in 20.
fn spares(sheet: &Sheet<'_>, season: &Season, need: &Need, (left, top): Place, width: f64) -> Result<(), DrawError> {
    let ink = hues::of_part(need.part).ink;
    let (name, words) = stock(season, need);
    sheet.says(name, || part_mark::draw(sheet, need.part, (left + MARK, top)))?;
    sheet.text(&words, (left + MARKED, top), Type::LABEL.bold(need.nine_tenths > 0))?;
    let count = need.most.max(need.nine_tenths);
    let step = step(season, need.part, width);
    // Very many are one block for each share of the seasons.
    let blocks = if step < LEAST {
        let ends = [0, need.half, need.nine_tenths, count];
        ends.windows(2).map(|pair| (pair[0], pair[1])).filter(|(from, to)| from < to).collect::<Vec<_>>()
    } else {
        (0..count).map(|k| (k, k + 1)).collect()
    };
    for (from, to) in blocks {
        let (x, y) = (left + step * from as f64, top + 11.0);
        let square =
            Frame { left: x, top: y, right: left + step * to as f64 - (0.2 * step).max(GAP), bottom: y + 11.0 };
        let (enough, filled) = match from {
            k if k < need.half => ("half", 1.0),
            k if k < need.nine_tenths => ("9 in 10", 0.45),
            _ => ("19 in 20", 0.0),
        };
        sheet.says(&format!("{name} {to}: enough in {enough} of the seasons"), || {
            if filled > 0.0 {
                sheet.block(square, ink, filled)?;
            }
            sheet.outline(&square.corners(), ink, 1.0)
        })?;
    }
    Ok(())
}

fn panel(sheet: &Sheet<'_>, season: &Season, outcome: &Outcome, frame: Frame, most: f64) -> Result<(), DrawError> {
    let narrow = sheet.narrow();
    let days = (season.question.last.0 - season.question.first.0 + 1) as f64;
    let right = if narrow { frame.right - SIDE } else { frame.right - spares_wide(season)? };
    let x = Axis::linear((0.0, days), (frame.left + 52.0, right));
    let lines = heading(outcome, sheet.width)?;
    let top = frame.top + 32.0 + LINE * (lines.len() - 1) as f64;
    sheet.lines(&lines, (SIDE, frame.top + 12.0), Type::HEADING.bold(true), LINE)?;
    let rows = season.question.carts.min(MOST) as f64;
    let end = top + TICKS + ROW * rows;
    let months = months(season);
    for (value, _) in &months {
        sheet.line(&[(x.at(*value), top), (x.at(*value), end + 12.0 + DOWN)], FAINT, 0.8, None)?;
    }
    sheet.text("cart", (SIDE, top + TICKS + 0.5 * ROW * rows), Type::LABEL.upright())?;
    carts(sheet, season, outcome, &x, top)?;
    down(sheet, outcome, &x, (end + 12.0, end + 12.0 + DOWN), most)?;
    ruler::below(sheet, &x, &thinned(&x, months, Type::TICK)?, end + 12.0 + DOWN, None, "")?;
    let (left, mut at) = if narrow { (SIDE, end + DOWN + 58.0) } else { (right + BESIDE, top + 12.0) };
    sheet.text("spares for 9 in 10 seasons", (left, at), Type::LABEL.ink(QUIET))?;
    for need in &outcome.needs {
        at += if need == &outcome.needs[0] { 22.0 } else { SPARE - 6.0 };
        spares(sheet, season, need, (left, at), frame.right - SIDE - left)?;
    }
    Ok(())
}

pub fn draw(season: &Season, look: &Look) -> Result<Drawing, DrawError> {
    if season.policies.is_empty() {
        return Err(DrawError::Empty);
    }
    let each = panel_height(season, look)?;
    let height = HEAD + each * season.policies.len() as f64 + FOOT;
    let worst = season.policies.iter().flat_map(|one| &one.weeks).map(|week| week.worst.max(week.down));
    let most = worst.fold(1.0, f64::max);
    let title = found(season);
    let more = if season.question.carts > MOST { format!(" The first {MOST} carts are shown.") } else { String::new() };
    let room = if look.narrow() { look.width() - 2.0 * SIDE } else { spares_wide(season)? - BESIDE - SIDE };
    let bars = SPARES.into_iter().any(|part| step(season, part, room) < LEAST);
    let drawn = if bars { "squares, or a bar where they are many" } else { "squares" };
    let note = format!(
        "Events of one sampled season, the same for every rule, with the median number of renewals by the first; a mark where a cart stops, hollow where a part is renewed early, a grey bar while it is down.{more} Spares: {drawn}, each part on one scale for all rules; full, enough in half of the {} sampled seasons; pale, in 9 of 10; empty, in 19 of 20. Wear constants are assumed.",
        season.samples
    );
    let describe = "A panel for each policy. Days across; a row for each cart with its events; below, carts down by week. At the right the spare parts needed.";
    sheet(look, height, [&title, &look.under(&note), describe], |sheet| {
        let body = sheet.body().split(season.policies.len(), 1);
        season.policies.iter().zip(body).try_for_each(|(outcome, frame)| panel(sheet, season, outcome, frame, most))
    })
}
