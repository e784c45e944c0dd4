//! A row of a fleet's failed clutches over time: a mark for each, or stacked bars if they are many, and below it hollow
//! marks where oil was first due.

use crate::figures::part_mark::{self, MARK};
use crate::sheet::prelude::*;
use crate::words::clock::Clock;
use crate::words::reading::brief;
use slipsoak_engine::fleet::Fleet;
use slipsoak_engine::names::{Part, distinct};

/// Largest number of clutches of which each has a mark.
const FEW: usize = 60;
/// Height of one level of marks, largest number of levels, and height of the ticks of oil, px.
const LEVEL: f64 = 10.0;
const LEVELS: usize = 5;
const TICK: f64 = 9.0;
/// Width of a bar, and the greatest height of those of failures and of oil, px.
const BAR: f64 = 12.0;
const TALL: f64 = 40.0;
const LOW: f64 = 16.0;
/// Height of the words above a narrow row, px.
const WORDS: f64 = 34.0;

/// Failures of a fleet in the order of time.
fn failures(fleet: &Fleet, clock: &Clock) -> Vec<(f64, Part)> {
    let mut all: Vec<(f64, Part)> = fleet.outcomes.iter().filter_map(|o| Some((clock.end(o)?, o.ended_by?))).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

/// Level of each failure, so that marks at one level do not overlap.
fn levels(fleet: &Fleet, clock: &Clock, x: &Axis) -> Vec<usize> {
    let mut free = [f64::NEG_INFINITY; LEVELS];
    let place = |(time, _): (f64, Part)| {
        let at = x.within(time);
        let level = free.iter().position(|end| at - end >= 2.0 * MARK).unwrap_or(LEVELS - 1);
        free[level] = at;
        level
    };
    failures(fleet, clock).into_iter().map(place).collect()
}

/// Whether each clutch of these fleets has a mark of its own.
fn few(fleets: &[(usize, &Fleet)]) -> bool {
    fleets.iter().all(|(_, fleet)| fleet.outcomes.len() <= FEW)
}

/// Height of every row, px.
pub fn height(fleets: &[(usize, &Fleet)], clock: &Clock, x: &Axis, narrow: bool) -> f64 {
    let marks = if few(fleets) {
        let most = fleets.iter().flat_map(|(_, fleet)| levels(fleet, clock, x)).max().unwrap_or(0);
        LEVEL * (most + 1) as f64 + TICK + 18.0
    } else {
        TALL + LOW + 26.0
    };
    marks + if narrow { WORDS } else { 0.0 }
}

/// Draws the row of a fleet between a top and a height.
pub fn draw(
    sheet: &Sheet<'_>,
    fleet: &Fleet,
    clock: &Clock,
    x: &Axis,
    (top, high): (f64, f64),
) -> Result<(), DrawError> {
    let due = || fleet.outcomes.iter().filter_map(|o| clock.due(o));
    let few = few(&[(0, fleet)]);
    let base = top + high - if few { TICK + 9.0 } else { LOW + 6.0 };
    let (start, stop) = x.ends();
    sheet.line(&[(start, base), (stop, base)], FAINT, 0.8, None)?;
    if !few {
        return bars(sheet, &failures(fleet, clock), &due().collect::<Vec<_>>(), x, base);
    }
    for time in due() {
        let at = (x.within(time), base + 0.5 * TICK + 1.0);
        sheet.says(&format!("service due, {}", clock.say(time)), || part_mark::service(sheet, at, TICK))?;
    }
    for ((time, part), level) in failures(fleet, clock).into_iter().zip(levels(fleet, clock, x)) {
        let at = (x.within(time), base - LEVEL * (level as f64 + 0.5) - 1.0);
        sheet.says(&format!("{}, {}", brief(part), clock.say(time)), || part_mark::draw(sheet, part, at))?;
    }
    Ok(())
}

/// Stacked bars of the failures upward, and hollow ones of the oil downward, each to its own scale.
fn bars(sheet: &Sheet<'_>, failures: &[(f64, Part)], due: &[f64], x: &Axis, base: f64) -> Result<(), DrawError> {
    let (start, stop) = x.ends();
    let count = ((stop - start) / BAR).floor().max(1.0) as usize;
    let wide = (stop - start) / count as f64;
    let bin = |time: f64| (((x.within(time) - start) / wide) as usize).min(count - 1);
    let parts: Vec<Part> = distinct(failures.iter().map(|failure| failure.1));
    let of = |k: usize, part: Part| failures.iter().filter(|f| f.1 == part && bin(f.0) == k).count() as f64;
    let all = |k: usize| parts.iter().map(|part| of(k, *part)).sum::<f64>();
    let oil = |k: usize| due.iter().filter(|time| bin(**time) == k).count() as f64;
    let most = (0..count).map(all).fold(1.0, f64::max);
    let wet = (0..count).map(oil).fold(1.0, f64::max);
    for k in 0..count {
        let (left, right) = (start + wide * k as f64 + 1.0, start + wide * (k + 1) as f64 - 1.0);
        let mut floor = base;
        for part in &parts {
            let tall = TALL * of(k, *part) / most;
            if tall > 0.0 {
                let said = format!("{} {}", brief(*part), of(k, *part));
                let ink = hues::of_part(*part).ink;
                sheet.says(&said, || sheet.bar((left, floor - tall), (right, floor), ink))?;
                floor -= tall;
            }
        }
        let low = LOW * oil(k) / wet;
        if low > 0.0 {
            let corners = [(left, base), (right, base), (right, base + low), (left, base + low)];
            let ink = hues::of_part(Part::Oil).ink;
            sheet.says(&format!("service due {}", oil(k)), || sheet.outline(&corners, ink, 0.9))?;
        }
    }
    let peak = (0..count).find(|k| all(*k) == most && !failures.is_empty());
    let Some(peak) = peak else { return Ok(()) };
    let at = (start + wide * (peak as f64 + 0.5), base - TALL - 8.0);
    sheet.text(&format!("{most:.0}"), at, Type::TICK.ink(QUIET).side(0))
}
