//! The clutch cut open, to scale: temperatures of its parts during the ride and while the heat spreads after it.

use crate::figures::chosen::shown;
use crate::figures::reading::rows_that_fit;
use crate::figures::section::{Piece, Section, Side, State};
use crate::sheet::prelude::*;
use crate::words::reading::{celsius, fahrenheit, longest};
use slipsoak_engine::names::{Channel, MomentOf};
use slipsoak_engine::record::{Moment, Record, Run};
use std::borrow::Cow;

/// Largest number of cells side by side, and smallest width of one, px.
const ACROSS: usize = 4;
const NARROWEST: f64 = 222.0;
/// Room for text to the right of a section, and above and below it, px.
const BESIDE: f64 = 74.0;
const OVER: f64 = 40.0;
const UNDER: f64 = 44.0;
/// Height of a run's name, of a moment's name, and of the colour bar, px.
const NAME: f64 = 24.0;
const WHEN: f64 = 20.0;
const BAR: f64 = 62.0;
/// Colours of oil in the bushing and of its pale background.
const OIL: Ink = Ink::Exact(24, 70, 104);
const GROUND: Ink = Ink::Exact(250, 250, 246);

/// A moment of a run and its section.
struct Cell<'a> {
    moment: Cow<'a, Moment>,
    section: Section,
}

/// Name of a moment of the record; none for a requested time.
fn words(what: MomentOf) -> Option<&'static str> {
    match what {
        MomentOf::Standstill => Some("last stop, idling"),
        MomentOf::Asked => None,
        other => Some(other.name()),
    }
}

/// The mean over the record's window at a time of the run, if the run lasts that long.
fn moment_at(run: &Run, time: f64) -> Option<Moment> {
    let k = run.windows.spans().position(|(start, end)| time >= start && time <= end)?;
    Some(Moment { what: MomentOf::Asked, time, values: run.windows.mean[k].clone() })
}

/// Cells of a run, one for each of its moments or of the requested times.
fn cells<'a>(run: &'a Run, at: &[f64]) -> Vec<Cell<'a>> {
    let asked: Vec<Cow<'a, Moment>> = match at {
        [] => run.moments.iter().take(ACROSS).map(Cow::Borrowed).collect(),
        times => times.iter().filter_map(|time| moment_at(run, *time)).map(Cow::Owned).collect(),
    };
    let whole = asked.into_iter().filter(|m| m.values.len() == Channel::COUNT);
    let cell = |moment: Cow<'a, Moment>| {
        let of = |channel: Channel| channel.of(&moment.values);
        let state = State {
            out: of(Channel::MotorSpeed) > of(Channel::Engagement),
            lining_wear: of(Channel::LiningWear),
            washer_wear: of(Channel::WasherWear),
        };
        Some(Cell { moment, section: Section::of(run, state)? })
    };
    whole.filter_map(cell).collect()
}

/// Temperature scale for all parts of all cells, °C, with round limits.
fn range(cells: &[Vec<Cell<'_>>]) -> (f64, f64) {
    let all = cells.iter().flatten();
    let (low, high) =
        extent(all.flat_map(|cell| cell.section.pieces.iter().filter_map(|piece| temperature(cell, piece))));
    if low > high { (0.0, 100.0) } else { rounded((low, high.max(low + 10.0)), 6.0) }
}

/// Temperature of a part, °C.
fn temperature(cell: &Cell<'_>, piece: &Piece) -> Option<f64> {
    Some(celsius(piece.channel?.of(&cell.moment.values)))
}

/// Temperatures of the parts at the moments of a run, K, and its oil fill, %.
fn prints(run: &Run, at: &[f64]) -> Vec<f64> {
    let of = |cell: Cell<'_>| {
        let temperatures: Vec<f64> = cell.section.pieces.iter().filter_map(|piece| temperature(&cell, piece)).collect();
        temperatures.into_iter().chain([100.0 * Channel::OilFill.of(&cell.moment.values)])
    };
    cells(run, at).into_iter().flat_map(of).collect()
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let lasts = longest(&record.runs);
    if let Some(time) = look.at.iter().find(|time| **time > lasts || !(**time >= 0.0)) {
        return Err(DrawError::Beyond { asked: clock(*time), longest: clock(lasts) });
    }
    let all = record.runs.iter().map(|run| cells(run, &look.at)).collect::<Vec<_>>();
    let columns = all.iter().map(Vec::len).max().unwrap_or(0).max(1);
    let room = look.width() - 2.0 * SIDE;
    let across = ((room / NARROWEST) as usize).clamp(1, ACROSS);
    // Runs with few moments are side by side; those with many are in rows of their own.
    let runs_across = (across / columns).max(1).min(record.runs.len());
    let cells_across = columns.min(across);
    let cell_width = room / (cells_across * runs_across).max(2.min(across)) as f64;
    let (mut length, mut radius) = (0.06_f64, 0.03_f64);
    for section in all.iter().flatten().map(|cell| &cell.section) {
        length = length.max(section.span.1 - section.span.0);
        radius = radius.max(section.radius);
    }
    let scale = ((cell_width - BESIDE - 14.0) / length).clamp(100.0, 3600.0);
    let cell_height = WHEN + OVER + scale * radius + UNDER;
    let row_height = NAME + columns.div_ceil(cells_across) as f64 * (cell_height + 4.0) + 10.0;
    let chosen = shown(
        record,
        look,
        runs_across * rows_that_fit(HEAD + BAR + FOOT, row_height),
        |run| prints(run, &look.at),
        1.0,
    );
    let height = HEAD + BAR + chosen.rows(runs_across) as f64 * row_height + FOOT;
    let y = range(&all);
    let note = format!(
        "Half-sections to scale, {}; strip in the bushing: its oil. Not settings, so assumed: web, hub, sprocket and cover thickness, spaces. {}",
        scales::pair("°C", "°F"),
        said(&all, &look.at)
    );
    let when =
        if look.at.is_empty() { "at the hottest lining, at the stop and after it" } else { "at the times given" };
    let describe = format!(
        "Half-sections of the clutch, to scale, one row for each run: motor block, shaft, carrier, shoe, lining, drum rim, web, sprocket, bushing with its oil, washer and cover, each coloured by its temperature {when}."
    );
    chosen.sheet(look, height, ["The clutch cut open", &note, &describe], |sheet| {
        colour_bar(sheet, y)?;
        for (place, (k, _)) in chosen.runs().enumerate() {
            let cells = &all[k];
            let left = SIDE + (place % runs_across) as f64 * cells_across as f64 * cell_width;
            let top = HEAD + BAR + (place / runs_across) as f64 * row_height;
            let set = Type::HEADING;
            let room = cells_across as f64 * cell_width - 12.0;
            sheet.of(Some(k), || {
                sheet.fitted(&chosen.name(k), (left, top + 0.5 * NAME), set, room)?;
                if cells.is_empty() {
                    let set = Type::LABEL.ink(QUIET);
                    let words = "no ride, or the record lacks a size";
                    sheet.fitted(words, (left, top + NAME + 30.0), set, room)?;
                }
                cells.iter().enumerate().try_for_each(|(j, cell)| {
                    let from = left + (j % cells_across) as f64 * cell_width;
                    let over = top + NAME + (j / cells_across) as f64 * (cell_height + 4.0);
                    let frame = Frame { left: from, top: over, right: from + cell_width, bottom: over + cell_height };
                    draw_cell(sheet, cell, frame, scale, y)
                })
            })?;
        }
        Ok(())
    })
}

/// A sentence on the requested times, or on moments that some run lacks.
fn said(all: &[Vec<Cell<'_>>], at: &[f64]) -> String {
    if !at.is_empty() {
        return "Temperatures: means of the record's windows around these times.".to_owned();
    }
    let holds = |what: MomentOf| all.iter().filter(|cells| cells.iter().any(|cell| cell.moment.what == what)).count();
    let (off, half) = (holds(MomentOf::MotorOff), holds(MomentOf::After30Min));
    if half == all.len() {
        String::new()
    } else if off == 0 {
        "The motor is never off: there is no rest to show.".to_owned()
    } else {
        "Where a later moment is missing, the rest was shorter or there was none.".to_owned()
    }
}

/// Temperature scale across the sheet: °C above, °F below.
fn colour_bar(sheet: &Sheet<'_>, y: (f64, f64)) -> Result<(), DrawError> {
    let (left, right) = if sheet.narrow() {
        (SIDE + 36.0, sheet.width - SIDE - 58.0)
    } else {
        (SIDE + 120.0, (sheet.width - SIDE - 24.0).min(SIDE + 640.0))
    };
    let (top, bottom) = (HEAD + 18.0, HEAD + 30.0);
    let axis = Axis::linear(y, (left, right));
    let share = axis.between((0.0, 1.0));
    colour_bar::draw(sheet, &axis, (top, bottom), false, |t| share.at(t))?;
    let set = Type::TICK;
    if !sheet.narrow() {
        sheet.text("temperature", (SIDE, HEAD + 7.0), set)?;
    }
    sheet.text("cold", (left - 8.0, 0.5 * (top + bottom)), set.side(1))?;
    sheet.text("hot", (right + 8.0, 0.5 * (top + bottom)), set)?;
    for (scale, unit, line, words, alone) in [
        (axis, "°C", top - 4.0, top - 11.0, scales::celsius_only as fn(&str) -> String),
        (axis.in_unit(fahrenheit), "°F", bottom + 4.0, bottom + 12.0, scales::fahrenheit_only),
    ] {
        let edge = if line < top { top } else { bottom };
        for (value, tick) in apart(&scale, set, 8)? {
            let at = scale.at(value);
            sheet.line(&[(at, edge), (at, line)], TEXT, 0.8, None)?;
            sheet.text(&alone(&tick), (at, words), set.side(0))?;
        }
        sheet.text(&alone(unit), (right + 36.0, words), set)?;
    }
    Ok(())
}

/// A time since the start in clock format.
fn clock(seconds: f64) -> String {
    if !seconds.is_finite() {
        return String::new();
    }
    let minutes = (seconds / 60.0).floor();
    if seconds < 7200.0 {
        format!("{} min {:.0} s", number(minutes, 1.0), (seconds - 60.0 * minutes).floor())
    } else {
        format!("{} h {:.0} min", number((minutes / 60.0).floor(), 1.0), minutes % 60.0)
    }
}

/// A moment: its section with a leader from each part to its label.
fn draw_cell(sheet: &Sheet<'_>, cell: &Cell<'_>, frame: Frame, scale: f64, y: (f64, f64)) -> Result<(), DrawError> {
    let section = &cell.section;
    let axis = frame.bottom - UNDER;
    let place = |(x, r): (f64, f64)| (frame.left + 4.0 + (x - section.span.0) * scale, axis - r * scale);
    let set = Type::LABEL;
    let when = match words(cell.moment.what) {
        None => clock(cell.moment.time),
        Some(words) => format!("{words}, {}", clock(cell.moment.time)),
    };
    sheet.fitted(&when, (frame.left, frame.top + 8.0), set, frame.right - frame.left - 8.0)?;
    for piece in &section.pieces {
        let outline: Vec<Place> = piece.outline.iter().map(|p| place(*p)).collect();
        let share = temperature(cell, piece).filter(|t| t.is_finite()).map(|t| (t - y.0) / (y.1 - y.0));
        sheet.shape(&outline, share.map_or(FAINT, ramp), 1.0)?;
        sheet.outline(&outline, TEXT, 0.7)?;
    }
    oil(sheet, cell, &place)?;
    let (start, end) = (place((section.span.0, 0.0)), place((section.span.1, 0.0)));
    sheet.line(&[(start.0 - 4.0, axis), (end.0 + 6.0, axis)], TEXT, 0.8, Some((12.0, 3.0)))?;
    for cover in section.pieces.iter().filter(|piece| piece.channel.is_none()) {
        let at =
            cover.outline.iter().map(|p| place(*p)).fold((0.0_f64, f64::INFINITY), |m, p| (m.0.max(p.0), m.1.min(p.1)));
        sheet.text(cover.name, (at.0 + 8.0, at.1 - 8.0), Type::TICK.ink(QUIET).side(1))?;
    }
    leaders(sheet, cell, frame, &place)
}

/// The oil strip in the bushing, filled as far as the pores are.
fn oil(sheet: &Sheet<'_>, cell: &Cell<'_>, place: &impl Fn((f64, f64)) -> Place) -> Result<(), DrawError> {
    let fill = Channel::OilFill.of(&cell.moment.values);
    let (from, to) = (place(cell.section.oil.0), place(cell.section.oil.1));
    let box_of = |right: f64| [from, (right, from.1), (right, to.1), (from.0, to.1)];
    sheet.shape(&box_of(to.0), GROUND, 1.0)?;
    if fill.is_finite() {
        sheet.shape(&box_of(from.0 + fill.clamp(0.0, 1.0) * (to.0 - from.0)), OIL, 1.0)?;
    }
    sheet.outline(&box_of(to.0), TEXT, 0.5)
}

/// Labels around a section, each with a thin line to its part.
fn leaders(
    sheet: &Sheet<'_>,
    cell: &Cell<'_>,
    frame: Frame,
    place: &impl Fn((f64, f64)) -> Place,
) -> Result<(), DrawError> {
    let (top, axis) = (place((0.0, cell.section.radius)).1, frame.bottom - UNDER);
    let right = place((cell.section.span.1, 0.0)).0 + 12.0;
    let of = |side: Side| cell.section.pieces.iter().filter(move |piece| piece.side == side);
    let wide = frame.right - 8.0 - frame.left;
    let row = |k: usize, count: usize| frame.left + wide * (k as f64 + 0.5) / count as f64;
    for (side, height, step) in [(Side::Above, top - 8.0, -1.0), (Side::Below, axis + 10.0, 1.0)] {
        let mut row_of: Vec<&Piece> = of(side).collect();
        row_of.sort_by(|a, b| a.anchor.0.total_cmp(&b.anchor.0));
        for (k, piece) in row_of.into_iter().enumerate() {
            let at = (row(k, of(side).count()), height);
            line(sheet, place(piece.anchor), at)?;
            let lines = [height + step * 21.0, height + step * 8.0];
            let [first, second] = if step > 0.0 { [lines[1], lines[0]] } else { lines };
            sheet.text(piece.name, (at.0, first), Type::TICK.ink(QUIET).side(0))?;
            sheet.text(&both(cell, piece), (at.0, second), Type::TICK.side(0))?;
        }
    }
    let heights = spread(&[30.0, 30.0, 44.0, 30.0], top + 4.0, axis + 8.0);
    for (piece, height) in of(Side::Right).zip(heights) {
        line(sheet, place(piece.anchor), (right - 3.0, height))?;
        let mut texts = vec![(piece.name.to_owned(), QUIET), (both(cell, piece), TEXT)];
        if piece.channel == Some(Channel::Bushing) {
            let fill = Channel::OilFill.of(&cell.moment.values);
            texts.push((format!("oil {:.0} %", 100.0 * fill), QUIET));
        }
        for (k, (words, ink)) in texts.iter().enumerate() {
            let at = (right, height + 13.0 * (k as f64 - 0.5 * (texts.len() - 1) as f64));
            let set = Type::TICK.ink(*ink);
            sheet.on_paper(&fit(words, set, frame.right - right)?, at, set)?;
        }
    }
    Ok(())
}

/// A leader that is visible on pale and on dark parts.
fn line(sheet: &Sheet<'_>, from: Place, to: Place) -> Result<(), DrawError> {
    sheet.line(&[from, to], PAPER.tint(0.6), 2.2, None)?;
    sheet.line(&[from, to], TEXT, 0.7, None)?;
    sheet.dot(from, 2.4, PAPER)?;
    sheet.dot(from, 1.6, TEXT)
}

/// A part's temperature: °C (°F).
fn both(cell: &Cell<'_>, piece: &Piece) -> String {
    match temperature(cell, piece) {
        Some(t) if t.is_finite() => scales::pair(&number(t, 1.0), &number(fahrenheit(t), 1.0)),
        _ => "–".to_owned(),
    }
}
