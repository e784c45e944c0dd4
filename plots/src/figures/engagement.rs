//! Torques over the motor's speed, and how far over the idle each spring engages.

use crate::figures::engagement_feet as feet;
use crate::figures::shared_curves::{self, Kind, Spring, points};
use crate::sheet::prelude::*;
use crate::words::findings::engaging;
use crate::words::reading::asked;
use slipsoak_engine::numerics::along;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Engagement, Record};
use slipsoak_engine::units::in_rpm;

/// Largest number of clutches: more curves cannot be distinguished.
const MOST: usize = 60;
/// Room above the chart for the scale of road speed, and below its rows for that of the motor's, px.
const ROAD: f64 = 50.0;
const AXIS: f64 = 48.0;
const CHART: f64 = 330.0;
/// Relative difference of gearings that is not seen.
const SAME: f64 = 1e-3;
/// N·m to lbf·ft.
const FEET: f64 = 0.737_562_149;

/// Whether two tables belong to the same clutch when new; its later state depends on the duty, and its load on the slope.
fn one_clutch(a: &Engagement, b: &Engagement) -> bool {
    let drawn = |t: &Engagement| (t.balance, t.idle);
    a.speed == b.speed && a.motor == b.motor && a.capacity == b.capacity && drawn(a) == drawn(b)
}

/// The runs whose tables differ by this, each with the name that all like it share, in the order of the runs.
fn springs(record: &Record, alike: fn(&Engagement, &Engagement) -> bool) -> Vec<Spring<'_>> {
    let mut all: Vec<Spring<'_>> = vec![];
    let hues = hues::of_runs(record);
    for (k, run) in record.runs.iter().enumerate() {
        let table = &run.engagement;
        let n = table.speed.len();
        let whole = n > 1 && [&table.motor, &table.capacity, &table.load].iter().all(|t| t.len() == n);
        match all.iter_mut().find(|spring| alike(spring.table, table)) {
            Some(shared) => (shared.of, shared.name) = (None, common(&shared.name, &run.variant)),
            None if whole => all.push(Spring { run, name: run.variant.clone(), of: Some(k), table, hue: hues[k] }),
            None => {}
        }
    }
    all
}

/// What two names have in common of what stands between their commas; the first where that is nothing.
fn common(name: &str, other: &str) -> String {
    let parts: Vec<&str> = name.split(", ").filter(|part| other.split(", ").any(|one| one == *part)).collect();
    if parts.is_empty() { name.to_owned() } else { parts.join(", ") }
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    let (mut clutches, loads) =
        (springs(record, one_clutch), springs(record, |a, b| one_clutch(a, b) && a.load == b.load));
    let left_out = clutches.len().saturating_sub(MOST);
    clutches.truncate(MOST);
    let top = HEAD + ROAD;
    let height = top + CHART + feet::height(&clutches) + AXIS + FOOT;
    let more = if left_out > 0 { format!(" {left_out} more clutches have no room.") } else { String::new() };
    let shared = if clutches.len() + left_out < distinct(record) {
        " Machines with the same clutch share its curve."
    } else {
        ""
    };
    let note = look.note(record, &format!("Clutch new at {}, level road unless the record says a slope. A clutch engages where its first shoe touches. Coloured: slips at full throttle. Grey: range in which 90 % of motors idle, assumed unless the script gives it; a clutch that engages there drags. Dot on a curve: lowest speed of locking at full throttle.{shared}{more}", scales::pair("20 °C", "68 °F")));
    let describe = "Torques, N·m (lbf·ft), over the motor's speed, rpm: the motor at full throttle, the road load, and what each clutch can carry, with the idle speed. Below: a row for each clutch from the idle to the speed at which it engages, and where it locks.";
    let heading = engaging(record).unwrap_or_else(|| format!("Engagement: {}", asked(&record.head)));
    sheet(look, height, [&heading, &note, describe], |sheet| {
        if clutches.is_empty() {
            let words = "the record holds no torques: run it again";
            return sheet.text(words, (SIDE, top + 20.0), Type::LABEL.ink(QUIET));
        }
        chart(sheet, (&clutches, &loads), top)
    })
}

/// Number of machines with names of their own.
fn distinct(record: &Record) -> usize {
    record.runs.iter().map(|run| &run.variant).collect::<std::collections::BTreeSet<_>>().len()
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

/// The curves of the clutches, and of the motors and road loads of all runs.
fn chart(sheet: &Sheet<'_>, (springs, loads): (&[Spring<'_>], &[Spring<'_>]), top: f64) -> Result<(), DrawError> {
    let narrow = sheet.narrow();
    let (x, y) = scales(sheet, loads, top);
    let (floor, bottom) = (top + CHART, top + CHART + feet::height(springs));
    frame(sheet, (&x, &y), (top, bottom))?;
    road(sheet, springs, &x, top)?;
    idle(sheet, springs, &x, (top, bottom))?;
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
    shared_curves::lines(sheet, loads, &kinds, (&x, &y))?;
    for spring in springs {
        let table = spring.table;
        // Without the section at zero torque, of which only the corner matters.
        let bare = table.capacity.iter().take_while(|t| **t <= 0.0).count().saturating_sub(1);
        let carried = pieces(&points(table, &table.capacity)[bare..], &x, &y);
        let line = || carried.iter().try_for_each(|piece| sheet.line(piece, spring.hue.ink, 1.8, spring.hue.dash));
        sheet.of(spring.of, || sheet.says(&spring.name, line))?;
    }
    shared_curves::names(sheet, loads, &kinds, (&x, &y))?;
    for spring in springs {
        if let Some(speed) = spring.table.balance.map(in_rpm) {
            let motor = points(spring.table, &spring.table.motor);
            let at = (x.within(speed), y.within(along(&motor, speed)));
            let said = format!("{}: locks at full throttle at {speed:.0} rpm", spring.name);
            let dot = || {
                sheet.dot(at, 4.6, PAPER)?;
                sheet.dot(at, 3.6, spring.hue.ink)
            };
            sheet.of(spring.of, || sheet.says(&said, dot))?;
        }
    }
    feet::draw(sheet, springs, &x, floor)
}

fn frame(sheet: &Sheet<'_>, (x, y): (&Axis, &Axis), (top, bottom): (f64, f64)) -> Result<(), DrawError> {
    let (left, right) = x.ends();
    let floor = top + CHART;
    ruler::beside(sheet, y, &y.ticks(7), (left, right), ("torque, N·m", 46.0))?;
    let feet = y.in_unit(|t| t * FEET);
    for (value, words) in feet.ticks(7) {
        sheet.line(&[(right, feet.at(value)), (right + 4.0, feet.at(value))], TEXT, 0.9, None)?;
        sheet.text(&words, (right + 7.0, feet.at(value)), Type::TICK)?;
    }
    ruler::below(sheet, x, &apart(x, Type::TICK, 9)?, bottom, None, "motor speed, rpm")?;
    sheet.line(&[(left, floor), (right, floor)], TEXT, 0.9, None)?;
    sheet.line(&[(right, floor), (right, top)], TEXT, 0.9, None)?;
    sheet.text("torque, lbf·ft", (sheet.width - SIDE - 8.0, 0.5 * (top + floor)), Type::LABEL.upright())
}

/// Scale of road speed without slip above the chart, where all machines have the same gearing.
fn road(sheet: &Sheet<'_>, springs: &[Spring<'_>], x: &Axis, top: f64) -> Result<(), DrawError> {
    let per: Vec<f64> = springs.iter().filter_map(|spring| feet::road_speed_of(spring.run)).collect();
    let (Some(first), true) = (per.first(), per.len() == springs.len()) else { return Ok(()) };
    if per.iter().any(|other| (other / first - 1.0).abs() > SAME) {
        return Ok(());
    }
    let kmh = x.in_unit(|rpm| 3.6 * first * rpm);
    let ticks = kmh.ticks(9).into_iter();
    let both = |(value, words): (f64, String)| (value, format!("{words} ({})", number(value / 1.609_344, 1.0)));
    for (value, words) in thinned(&kmh, ticks.map(both).collect(), Type::TICK)? {
        let at = kmh.at(value);
        sheet.line(&[(at, top), (at, top - 4.0)], TEXT, 0.9, None)?;
        sheet.text(&words, (at, top - 12.0), Type::TICK.side(0))?;
    }
    let (left, right) = x.ends();
    sheet.line(&[(left, top), (right, top)], TEXT, 0.9, None)?;
    let title = if sheet.narrow() { "road speed, km/h (mph)" } else { "road speed without slip, km/h (mph)" };
    sheet.text(title, (f64::midpoint(left, right), top - 30.0), Type::LABEL.side(0))
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
    sheet.says(&format!("{}: slips at full throttle", spring.name), || sheet.shape(&area, spring.hue.ink, opacity))
}
