//! Torques over the motor's speed: engagement and lock-up speed of each spring, and their distance from idle.

use crate::figures::shared_curves::{self, Kind, Spring, points};
use crate::sheet::prelude::*;
use crate::words::findings::engaging;
use crate::words::reading::asked;
use slipsoak_engine::numerics::along;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Engagement, Record};
use slipsoak_engine::units::in_rpm;

/// Largest room above the chart for the clutches' names, and room below it for its axis, px.
const NAMES: f64 = 260.0;
/// Largest number of clutches: more curves cannot be distinguished.
const MOST: usize = 60;
const AXIS: f64 = 48.0;
/// Distance from a name to the chart, px.
const REACH: f64 = 16.0;
/// Height of a table row, px.
const ROW: f64 = 18.0;
/// Height of a table row on a narrow sheet, with the name above the numbers, px.
const NARROW_ROW: f64 = 36.0;
const CHART: f64 = 330.0;
/// Additional height of the table heads on a narrow sheet, px.
const HEADS: f64 = 48.0;
/// Length of a line that shows a clutch's colour in the table, px.
const SWATCH: f64 = 22.0;
/// N·m to lbf·ft.
const FEET: f64 = 0.737_562_149;

/// Whether two tables belong to the same clutch when new; its later state depends on the duty.
fn one_clutch(a: &Engagement, b: &Engagement) -> bool {
    let drawn = |t: &Engagement| (t.balance, t.idle);
    a.speed == b.speed && a.motor == b.motor && a.capacity == b.capacity && a.load == b.load && drawn(a) == drawn(b)
}

/// The different clutches, in the order of the runs, and the number left out.
fn springs(record: &Record) -> (Vec<Spring<'_>>, usize) {
    let mut all: Vec<Spring<'_>> = vec![];
    let hues = hues::of_runs(record);
    for (k, run) in record.runs.iter().enumerate() {
        let table = &run.engagement;
        let n = table.speed.len();
        let whole = n > 1 && [&table.motor, &table.capacity, &table.load].iter().all(|t| t.len() == n);
        match all.iter_mut().find(|spring| one_clutch(spring.table, table)) {
            Some(shared) => shared.of = None,
            None if whole => all.push(Spring { run, of: Some(k), table, hue: hues[k] }),
            None => {}
        }
    }
    let left_out = all.len().saturating_sub(MOST);
    all.truncate(MOST);
    (all, left_out)
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let (springs, left_out) = springs(record);
    let top = HEAD + names(&springs)?;
    let pitch = if look.narrow() { NARROW_ROW } else { ROW };
    let table = 34.0 + pitch * springs.len() as f64 + if look.narrow() { HEADS } else { 0.0 };
    let height = top + CHART + AXIS + table + FOOT;
    let more = if left_out > 0 { format!(" {left_out} more clutches are in the table alone.") } else { String::new() };
    let shared = if springs.len() + left_out < distinct(record) {
        " Machines with the same clutch share the name of the first."
    } else {
        ""
    };
    let note = look.note(record, &format!("Clutch new at {}, level road unless the record says a slope. A clutch engages where its first shoe touches. Coloured: slips at full throttle. Grey: range in which 90 % of motors idle, assumed unless the script gives it; a clutch that engages there drags. Dot: lowest speed of locking at full throttle.{shared}{more}", scales::pair("20 °C", "68 °F")));
    let describe = "Torques, N·m (lbf·ft), over the motor's speed, rpm: the motor at full throttle, the road load, and what each clutch can carry, with the idle speed, the engagement and the balance point. Below: a table of these speeds.";
    let heading = engaging(record).unwrap_or_else(|| format!("Engagement: {}", asked(&record.head)));
    sheet(look, height, [&heading, &note, describe], |sheet| {
        if springs.is_empty() {
            let words = "the record holds no torques: run it again";
            return sheet.text(words, (SIDE, top + 20.0), Type::LABEL.ink(QUIET));
        }
        chart(sheet, &springs, top)?;
        rows(sheet, &springs, top + CHART + AXIS + 14.0)
    })
}

/// Number of machines with names of their own.
fn distinct(record: &Record) -> usize {
    record.runs.iter().map(|run| &run.variant).collect::<std::collections::BTreeSet<_>>().len()
}

/// Room above the chart for the longest name, px; that of a single clutch is level.
fn names(springs: &[Spring<'_>]) -> Result<f64, DrawError> {
    if springs.len() == 1 {
        return Ok(20.0 + REACH);
    }
    let mut most = 20.0_f64;
    for spring in springs {
        most = most.max(width_of(&spring.run.variant, Type::LABEL)?);
    }
    Ok((most + REACH).min(NAMES))
}

/// Scales of the chart: rpm horizontally, N·m vertically.
fn scales(sheet: &Sheet<'_>, springs: &[Spring<'_>], top: f64) -> (Axis, Axis) {
    let (low, high) = extent(springs.iter().flat_map(|s| &s.table.speed).map(|w| in_rpm(*w)));
    let torques = springs.iter().flat_map(|s| s.table.motor.iter().chain(&s.table.load)).copied();
    let most = extent(torques.chain([1.0])).1;
    let ends = (SIDE + 54.0, sheet.width - SIDE - 62.0);
    let low = (low / 200.0).floor() * 200.0;
    (Axis::linear((low, high), ends), Axis::linear(rounded((0.0, 1.25 * most), 6.0), (top + CHART, top)))
}

fn chart(sheet: &Sheet<'_>, springs: &[Spring<'_>], top: f64) -> Result<(), DrawError> {
    let narrow = sheet.narrow();
    let (x, y) = scales(sheet, springs, top);
    frame(sheet, &x, &y, top)?;
    idle(sheet, springs, &x, (top, top + CHART))?;
    for spring in springs {
        sheet.of(spring.of, || slipping(sheet, spring, (&x, &y), 0.22 / springs.len() as f64))?;
    }
    let kinds = [
        Kind {
            of: |t| &t.motor,
            line: (QUIET, 2.6, None),
            name: if narrow { "motor" } else { "motor torque, full throttle" },
            place: (0.2, 1, -11.0),
        },
        Kind { of: |t| &t.load, line: (QUIET, 1.6, Some((3.0, 3.0))), name: "road load", place: (0.01, -1, 12.0) },
    ];
    shared_curves::lines(sheet, springs, &kinds, (&x, &y))?;
    let mut names: Vec<(f64, usize)> = vec![];
    for (k, spring) in springs.iter().enumerate() {
        let table = spring.table;
        // Without the section at zero torque, of which only the corner matters.
        let bare = table.capacity.iter().take_while(|t| **t <= 0.0).count().saturating_sub(1);
        let carried = pieces(&points(table, &table.capacity)[bare..], &x, &y);
        let line = || carried.iter().try_for_each(|piece| sheet.line(piece, spring.hue.ink, 1.8, spring.hue.dash));
        sheet.of(spring.of, || sheet.says(&spring.run.variant, line))?;
        if let Some(end) = carried.last().and_then(|piece| piece.last()) {
            names.push((end.0, k));
        }
    }
    shared_curves::names(sheet, springs, &kinds, (&x, &y))?;
    for spring in springs {
        if let Some(speed) = spring.table.balance.map(in_rpm) {
            let motor = points(spring.table, &spring.table.motor);
            let at = (x.within(speed), y.within(along(&motor, speed)));
            let said = format!("{}: locks at full throttle at {speed:.0} rpm", spring.run.variant);
            let dot = || {
                sheet.dot(at, 4.6, PAPER)?;
                sheet.dot(at, 3.6, spring.hue.ink)
            };
            sheet.of(spring.of, || sheet.says(&said, dot))?;
        }
    }
    write_names(sheet, springs, &names, top)
}

fn frame(sheet: &Sheet<'_>, x: &Axis, y: &Axis, top: f64) -> Result<(), DrawError> {
    let (left, right) = (SIDE + 54.0, sheet.width - SIDE - 62.0);
    let bottom = top + CHART;
    ruler::beside(sheet, y, &y.ticks(7), (left, right), ("torque, N·m", 46.0))?;
    let feet = y.in_unit(|t| t * FEET);
    for (value, words) in feet.ticks(7) {
        sheet.line(&[(right, feet.at(value)), (right + 4.0, feet.at(value))], TEXT, 0.9, None)?;
        sheet.text(&words, (right + 7.0, feet.at(value)), Type::TICK)?;
    }
    ruler::below(sheet, x, &apart(x, Type::TICK, 9)?, bottom, None, "motor speed, rpm")?;
    sheet.line(&[(right, bottom), (right, top)], TEXT, 0.9, None)?;
    sheet.text("torque, lbf·ft", (sheet.width - SIDE - 8.0, 0.5 * (top + bottom)), Type::LABEL.upright())
}

/// Draws the idle speeds of the machines and their ranges.
fn idle(sheet: &Sheet<'_>, springs: &[Spring<'_>], x: &Axis, (top, bottom): (f64, f64)) -> Result<(), DrawError> {
    let of = |spring: &Spring<'_>| Some((spring.run.setting(&settings::motor::idle)?, spring.table.idle));
    let mut idles: Vec<(f64, Option<(f64, f64)>)> = springs.iter().filter_map(of).collect();
    idles.dedup();
    for (low, high) in idles.iter().filter_map(|idle| idle.1) {
        sheet.bar((x.within(in_rpm(low)), top), (x.within(in_rpm(high)), bottom), FAINT)?;
    }
    for (k, (idle, wander)) in idles.iter().enumerate().filter(|(_, idle)| x.holds(in_rpm(idle.0))) {
        let at = x.at(in_rpm(*idle));
        sheet.line(&[(at, top), (at, bottom)], QUIET, 1.1, LIMIT_DASH)?;
        let wander_said = wander.filter(|_| !sheet.narrow());
        let reach =
            wander_said.map_or_else(String::new, |(low, high)| format!(" ({:.0} to {:.0})", in_rpm(low), in_rpm(high)));
        let edge = wander.map_or(at, |wander| x.within(in_rpm(wander.0)));
        let words = Type::LABEL.ink(QUIET).side(1);
        sheet.on_paper(
            &format!("idle {:.0}{reach}", in_rpm(*idle)),
            (edge - 5.0, top + 10.0 + 16.0 * k as f64),
            words,
        )?;
    }
    Ok(())
}

/// Shades the area between clutch capacity and motor torque, where the clutch slips.
fn slipping(sheet: &Sheet<'_>, spring: &Spring<'_>, (x, y): (&Axis, &Axis), opacity: f64) -> Result<(), DrawError> {
    let t = spring.table;
    let all: Vec<(f64, f64, f64)> = (0..t.speed.len())
        .map(|j| (in_rpm(t.speed[j]), t.capacity[j], t.motor[j]))
        .filter(|p| p.0.is_finite() && p.1.is_finite() && p.2.is_finite() && p.1 > 0.0 && p.1 < p.2)
        .collect();
    if all.len() < 2 {
        return Ok(());
    }
    let low = in_rpm(t.speed[0]);
    // Where the first shoe touches below the motor's speeds, the area starts with them.
    let touch = spring.run.engages().map(in_rpm).filter(|n| *n + 1.0 >= low);
    let start = touch.into_iter().map(|n| (x.within(n), y.at(0.0)));
    let over = all.iter().rev().map(|p| (x.within(p.0), y.within(p.2)));
    let corner = all.first().map(|p| (x.within(p.0), y.within(p.2)));
    let under = all.iter().map(|p| (x.within(p.0), y.within(p.1)));
    let area = start.chain(under).chain(over).chain(corner).collect::<Vec<_>>();
    sheet.says(&format!("{}: slips at full throttle", spring.run.variant), || {
        sheet.shape(&area, spring.hue.ink, opacity)
    })
}

/// Writes the clutches' names above the ends of their curves: one level, several upright, a line apart.
fn write_names(sheet: &Sheet<'_>, springs: &[Spring<'_>], names: &[(f64, usize)], foot: f64) -> Result<(), DrawError> {
    let mut order_of = names.to_vec();
    order_of.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut last = f64::NEG_INFINITY;
    if let (1, [(at, k)]) = (springs.len(), names) {
        let set = Type::LABEL.side(0).ink(springs[*k].hue.ink);
        let words = fit(&springs[*k].run.variant, Type::LABEL, NAMES)?;
        let half = 0.5 * width_of(&words, Type::LABEL)?;
        let middle = at.clamp(SIDE + half, sheet.width - SIDE - half);
        return sheet.of(springs[*k].of, || sheet.text(&words, (middle, foot - 13.0), set));
    }
    for (at, k) in order_of {
        let place = f64::max(at, last + 16.0);
        last = place;
        let set = Type::LABEL.upright().ink(springs[k].hue.ink);
        let words = fit(&springs[k].run.variant, Type::LABEL, NAMES - REACH)?;
        let half = 0.5 * width_of(&words, Type::LABEL)?;
        sheet.of(springs[k].of, || {
            sheet.line(&[(at, foot), (place, foot - 10.0)], springs[k].hue.ink.tint(0.6), 0.8, None)?;
            sheet.text(&words, (place, foot - 13.0 - half), set)
        })?;
    }
    Ok(())
}

/// Table of each clutch's speeds.
fn rows(sheet: &Sheet<'_>, springs: &[Spring<'_>], top: f64) -> Result<(), DrawError> {
    let narrow = sheet.narrow();
    let columns = if narrow { [0.24, 0.4, 0.55, 0.72, 1.0] } else { [0.24, 0.33, 0.48, 0.69, 1.0] };
    let heads = [
        "engages, rpm",
        "margin over idle, rpm",
        "locks at full throttle, rpm",
        "lowest speed without slip, km/h (mph)",
    ];
    let left = SIDE + SWATCH + 4.0;
    let wide = sheet.width - SIDE - left;
    let set = Type::TICK.ink(QUIET).side(1);
    for (k, head) in heads.iter().enumerate() {
        let room = if narrow { (columns[k + 1] - columns[k]) * wide - 6.0 } else { wide };
        for (line, words) in wrapped(head, set, room)?.iter().enumerate() {
            sheet.text(words, (left + columns[k + 1] * wide, top + 15.0 * line as f64), set)?;
        }
    }
    let top = if narrow { top + HEADS } else { top };
    for (k, spring) in springs.iter().enumerate() {
        let pitch = if narrow { NARROW_ROW } else { ROW };
        let y = top + pitch * k as f64 + ROW + 2.0;
        sheet.of(spring.of, || row(sheet, spring, (y, left, wide), &columns))?;
    }
    Ok(())
}

/// One row of the table.
fn row(
    sheet: &Sheet<'_>,
    spring: &Spring<'_>,
    (y, left, wide): (f64, f64, f64),
    columns: &[f64],
) -> Result<(), DrawError> {
    let swatch = [(SIDE, y), (SIDE + SWATCH, y)];
    sheet.says(&spring.run.variant, || sheet.line(&swatch, spring.hue.ink, 1.8, spring.hue.dash))?;
    let name = Type::LABEL;
    let room = if sheet.narrow() { wide - 8.0 } else { columns[0] * wide };
    sheet.fitted(&spring.run.variant, (left + 4.0, y), name, room)?;
    // On a narrow sheet the numbers are below the name.
    let y = if sheet.narrow() { y + 16.0 } else { y };
    let engages = spring.run.engages();
    let over = engages.zip(spring.run.setting(&settings::motor::idle)).map(|(e, idle)| in_rpm(e - idle));
    let held = spring.run.lock_up_speed().map(|v| 3.6 * v);
    // A shoe without a spring touches as soon as the motor turns.
    let whole = |value: Option<f64>| match value {
        None => "–".to_owned(),
        Some(0.0) => "always".to_owned(),
        Some(v) => number(v, 1.0),
    };
    let signed = over.map_or_else(
        || "–".to_owned(),
        |v| if v.round() > 0.0 { format!("+{}", number(v, 1.0)) } else { number(v, 1.0) },
    );
    let lock = spring.table.balance.map_or_else(|| "never".to_owned(), |w| number(in_rpm(w), 1.0));
    let speed = held.map_or_else(|| "–".to_owned(), |v| format!("{} ({})", number(v, 0.1), number(v / 1.609_344, 0.1)));
    for (words, share) in [whole(engages.map(in_rpm)), signed, lock, speed].iter().zip(&columns[1..]) {
        sheet.text(words, (left + share * wide, y), name.side(1))?;
    }
    Ok(())
}
