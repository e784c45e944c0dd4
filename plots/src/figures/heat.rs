//! Where the frictional heat goes: the flow of one run over its clutch cut open, and the shares of every run.

use crate::figures::chosen::named;
use crate::figures::heat_ribbons::{Drawn, high};
use crate::figures::heat_shares::{Heat, Way, energy};
use crate::figures::painted::{Painted, scale};
use crate::sheet::prelude::*;
use crate::words::findings;
use crate::words::reading::{name, reference};
use crate::words::say::percent;
use slipsoak_engine::names::MomentOf;
use slipsoak_engine::record::{Moment, Record, Run};
use std::borrow::Cow;

/// Height of the heading over the flow, and of that over the bars, px.
const NAME: f64 = 26.0;
const BARS: f64 = 30.0;
/// Height of a run's bar with its space, px, and on a narrow sheet, where its name is above it.
const ROW: f64 = 24.0;
const NARROW_ROW: f64 = 42.0;
/// Height of a line of the key, px.
const KEY: f64 = 18.0;
/// Least and greatest room for names, and room for sums, px.
const NAMES: (f64, f64) = (80.0, 290.0);
const SUMS: f64 = 176.0;
/// Height of a bar among many, px, and the number from which it holds; the largest number that has room on a page.
const CLOSE: f64 = 19.0;
const MANY: usize = 20;
const MOST: usize = 32;
/// Width of a stroke of a hatched block, px.
const STROKES: f64 = 3.5;
/// Difference of a share that is not seen.
const ALIKE: f64 = 0.005;

/// The run whose flow is drawn, with its index: the first that is asked for, else the reference that the script names, else
/// the longest-lived that fits, else the first.
fn followed<'a>(record: &'a Record, look: &Look) -> (usize, &'a Run) {
    let runs: Vec<&Run> = record.runs.iter().collect();
    let run = match look.of.is_empty() {
        false => runs.iter().copied().find(|run| named(record, run, &look.of)),
        true if record.reference.is_some() => runs.iter().copied().find(|run| reference(record, run)),
        true => findings::longest_that_fits(record, &runs),
    };
    let index = run.and_then(|run| runs.iter().position(|one| std::ptr::eq(*one, run))).unwrap_or(0);
    (index, &record.runs[index])
}

/// Runs with a bar each: one for all if their shares and sums are alike.
fn rows(record: &Record) -> Vec<(Option<usize>, String, Heat)> {
    let all: Vec<Heat> = record.runs.iter().map(Heat::of).collect();
    let alike = |one: &Heat| {
        (one.whole - all[0].whole).abs() <= ALIKE * all[0].whole
            && Way::ALL.iter().all(|way| (one.share(*way) - all[0].share(*way)).abs() <= ALIKE)
    };
    if all.len() > 1 && all.iter().all(alike) {
        return vec![(None, format!("the same for all {}", all.len()), all[0].clone())];
    }
    let row = |(k, heat): (usize, Heat)| (Some(k), name(record, &record.runs[k]), heat);
    all.into_iter().enumerate().map(row).filter(|row| row.2.whole > 0.0).take(MOST).collect()
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let (index, run) = followed(record, look);
    let heat = Heat::of(run);
    let rows = rows(record);
    let narrow = look.narrow();
    let row = match rows.len() {
        _ if narrow => NARROW_ROW,
        ..MANY => ROW,
        _ => CLOSE,
    };
    let key = key(look, &rows)?;
    let lines = key.last().map_or(0.0, |last| KEY * (last.0 + 1) as f64 + 4.0);
    let bars = BARS + lines + row * rows.len() as f64;
    let height = HEAD + NAME + high(narrow) + bars + FOOT;
    let known: Vec<[f64; 4]> = record.runs.iter().map(Heat::of).filter_map(|heat| heat.found()).collect();
    let shown = rows.iter().filter(|row| row.0.is_some()).count();
    let part = match record.runs.len() {
        all if shown < known.len() && rows.len() > 1 => format!(" ({shown} of {all} runs shown)"),
        _ => String::new(),
    };
    let heading = findings::heat(&known) + &part;
    let others = if record.runs.len() > 1 { " Another run's flow:\u{a0}--of." } else { "" };
    let note = look.note(record, &format!("Heat of the whole run. Ribbons and bars: shares of it. Temperatures and colours: the highest of each part in the run. The heat is made at the slipping face; green: where bushing and washer rub. Inner parts: shoes, carrier, shaft. Drum: with web and sprocket.{others}"));
    let describe = "Above: half-section of the clutch of one run, its parts coloured by their highest temperatures, with ribbons as wide as the shares of the heat that leave the slipping face by each way. Below: for each run a bar of these shares with the heat in all, kJ (W h).";
    let names = names(&rows)?;
    sheet(look, height, [&heading, &note, describe], |sheet| {
        if heat.whole <= 0.0 {
            let words = "no friction heat, or the record does not tell where it goes";
            return sheet.text(words, (SIDE, HEAD + 20.0), Type::LABEL.ink(QUIET));
        }
        sheet.of(Some(index).filter(|_| record.runs.len() > 1), || flow(sheet, record, (run, &heat)))?;
        let top = HEAD + NAME + high(narrow);
        sheet.text("Share of the heat by each way, and all of it", (SIDE, top + 14.0), Type::HEADING)?;
        for (way, (line, at)) in ways(&rows).into_iter().zip(&key) {
            let (x, y) = (SIDE + at, top + BARS + KEY * (*line as f64 + 0.5));
            let (ink, strong) = way.map_or((QUIET, 0.2), Way::ink);
            let words = way.map_or("other", |way| way.names()[0]);
            let frame = Frame::between((x, y - 6.0), (x + 14.0, y + 6.0));
            sheet.says(words, || {
                sheet.block(frame, ink, strong)?;
                if way == Some(Way::InnerAir) { hatch(sheet, (x, x + 14.0), (y, 6.0), ink) } else { Ok(()) }
            })?;
            sheet.text(words, (x + 20.0, y), Type::TICK)?;
        }
        let set = |of: Option<usize>| Type::LABEL.bold(rows.len() > 1 && of == Some(index));
        let room = |heat: &Heat| -> Result<f64, DrawError> {
            let beside = sheet.width - 2.0 * SIDE - 8.0;
            Ok(if sheet.narrow() { beside - width_of(&energy(heat.whole), Type::TICK)? } else { names - 10.0 })
        };
        let whole = rows.iter().map(|(of, name, heat)| Ok((name.as_str(), set(*of), room(heat)?)));
        let short = fit_names(&whole.collect::<Result<Vec<_>, DrawError>>()?)?;
        for (k, ((of, name, heat), short)) in rows.iter().zip(&short).enumerate() {
            let over = top + BARS + lines + row * k as f64;
            let at = if sheet.narrow() { over + 10.0 } else { over + 0.5 * row };
            sheet.of(*of, || {
                sheet.text(short, (SIDE, at), set(*of))?;
                bar(sheet, names, (of.map(|_| name.as_str()), heat), (over, row))
            })?;
        }
        Ok(())
    })
}

/// The flow of a run over its section.
fn flow(sheet: &Sheet<'_>, record: &Record, (run, heat): (&Run, &Heat)) -> Result<(), DrawError> {
    let set = Type::HEADING;
    let share = percent(heat.slip / heat.whole);
    let all = energy(heat.whole);
    let sum = if sheet.narrow() {
        format!(": {}, {share} from slip", all.split(" (").next().unwrap_or(&all))
    } else {
        format!(": {all}, {share} of it from slip")
    };
    let room = sheet.width - 2.0 * SIDE - width_of(&sum, set)?;
    sheet.text(&format!("{}{sum}", fit_name(&name(record, run), set, room)?), (SIDE, HEAD + 13.0), set)?;
    let moment = Moment { what: MomentOf::Asked, time: 0.0, values: run.overall.most.clone() };
    let Some(cell) = Painted::of(run, Cow::Owned(moment), String::new()) else {
        let set = Type::LABEL.ink(QUIET);
        return sheet.text("the record lacks a size of the clutch", (SIDE, HEAD + NAME + 20.0), set);
    };
    Drawn::fitted(sheet, &cell, scale([&cell].into_iter()), HEAD + NAME).draw(sheet, heat)
}

/// Ways that some bar has, in their order, and “other” as none.
fn ways(rows: &[(Option<usize>, String, Heat)]) -> Vec<Option<Way>> {
    let has = |way: &Way| rows.iter().any(|row| row.2.parts().0.iter().any(|part| part.0 == *way));
    let other = rows.iter().any(|row| row.2.parts().1 > ALIKE);
    Way::ALL.into_iter().filter(has).map(Some).chain(other.then_some(None)).collect()
}

/// Room for the names beside the bars, px.
fn names(rows: &[(Option<usize>, String, Heat)]) -> Result<f64, DrawError> {
    let widths = rows.iter().map(|row| width_of(&row.1, Type::LABEL.bold(true)));
    let widest = widths.collect::<Result<Vec<_>, _>>()?.into_iter().fold(0.0, f64::max);
    Ok((widest + 14.0).clamp(NAMES.0, NAMES.1))
}

/// Line and place across of each entry of the key, px.
fn key(look: &Look, rows: &[(Option<usize>, String, Heat)]) -> Result<Vec<(usize, f64)>, DrawError> {
    let (mut line, mut at, mut all) = (0, 0.0, vec![]);
    for way in ways(rows) {
        let wide = 20.0 + width_of(way.map_or("other", |way| way.names()[0]), Type::TICK)?;
        if at > 0.0 && at + wide > look.width() - 2.0 * SIDE {
            (line, at) = (line + 1, 0.0);
        }
        all.push((line, at));
        at += wide + 16.0;
    }
    Ok(all)
}

/// The bar of a run's shares, of one with a name, with its heat in all.
fn bar(
    sheet: &Sheet<'_>,
    names: f64,
    (name, heat): (Option<&str>, &Heat),
    (top, row): (f64, f64),
) -> Result<(), DrawError> {
    let sum = energy(heat.whole);
    let (left, right, middle) = if sheet.narrow() {
        sheet.text(&sum, (sheet.width - SIDE, top + 10.0), Type::TICK.side(1))?;
        (SIDE, sheet.width - SIDE, top + 28.0)
    } else {
        let middle = top + 0.5 * row;
        let right = sheet.width - SIDE - SUMS;
        sheet.text(&sum, (right + 10.0, middle), Type::LABEL)?;
        (SIDE + names, right, middle)
    };
    let (parts, left_over) = heat.parts();
    let high = 0.5 * row.min(24.0) - 3.0;
    let mut at = left;
    for (way, share) in parts.into_iter().map(|(way, share)| (Some(way), share)).chain([(None, left_over)]) {
        let words = way.map_or("other", |way| way.names()[0]);
        let (ink, strong) = way.map_or((QUIET, 0.2), Way::ink);
        let end = at + share * (right - left);
        let whose = name.map_or_else(String::new, |name| format!("{name}, "));
        let said = format!("{whose}{words}: {}, {}", percent(share), energy(share * heat.whole));
        let words = percent(share);
        let wide = width_of(&words, Type::TICK)? + 6.0;
        let fits = wide < end - at;
        if end - at > 1.5 {
            sheet.says(&said, || {
                sheet.block(Frame::between((at, middle - high), (end, middle + high)), ink, strong)?;
                let centre = f64::midpoint(at, end);
                if way == Some(Way::InnerAir) {
                    hatch(sheet, (at, end), (middle, high), ink)?;
                    let free = if fits { 0.5 * bare_width(&words, Type::TICK)? + 2.0 } else { 0.0 };
                    let patch = Frame::between((centre - free, middle - high), (centre + free, middle + high));
                    sheet.block(patch, PAPER, 1.0)?;
                    sheet.block(patch, ink, strong)?;
                }
                if fits { sheet.text(&words, (centre, middle), Type::TICK.side(0)) } else { Ok(()) }
            })?;
        }
        sheet.line(&[(end, middle - high), (end, middle + high)], PAPER, 1.4, None)?;
        at = end;
    }
    Ok(())
}

/// Strokes to and fro across a block, so that a grey print tells it from the other pale ones.
fn hatch(sheet: &Sheet<'_>, (from, to): (f64, f64), (middle, high): (f64, f64), ink: Ink) -> Result<(), DrawError> {
    let count = ((to - from) / STROKES).floor().max(0.0) as i32;
    let height = |k: i32| if k % 2 == 0 { middle + high } else { middle - high };
    let strokes = (0..=count).map(|k| (from + STROKES * f64::from(k), height(k)));
    sheet.line(&strokes.collect::<Vec<Place>>(), ink, 0.8, None)
}
