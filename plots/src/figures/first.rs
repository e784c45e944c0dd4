//! Shares of the parts that wear out first in each fleet, oil excluded, with bounds. A column for each part; in a
//! printed column the parts of each fleet are listed below its name.

use crate::figures::fleet::shown;
use crate::sheet::prelude::*;
use crate::words::clutches::{followed, name};
use crate::words::reading::brief;
use crate::words::say::time;
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::names::{Part, distinct};
use std::cmp::Reverse;

/// Largest number of fleets.
const ROWS: usize = 40;
/// Largest number of fleets in a printed column.
const NARROW: usize = 12;
const ROW: f64 = 30.0;
/// Line spacing in a printed column, and distance from a fleet's last part to the next name, px.
const LINE: f64 = 19.0;
const GAP: f64 = 12.0;
const ABOVE: f64 = 44.0;
const BELOW: f64 = 46.0;
const NAMES: f64 = 236.0;

/// Every part that is first in some fleet, most frequent first; clutches that outlived the horizon last.
fn parts(fleets: &[(usize, &Fleet)]) -> Vec<Option<Part>> {
    let shares = || fleets.iter().flat_map(|(_, fleet)| &fleet.first);
    let clutches = |part| shares().filter(|share| share.part == part).map(|share| share.clutches).sum::<u64>();
    let mut parts = distinct(shares().map(|share| share.part));
    parts.sort_by_key(|part| (part.is_none(), Reverse(clutches(*part))));
    parts
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let narrow = look.narrow();
    let (fleets, left_out) = shown(report, if narrow { NARROW } else { ROWS });
    let parts = parts(&fleets);
    let lines = fleets
        .iter()
        .map(|(_, fleet)| Ok(names(report, fleet, look.width())?.len() + parts.len()))
        .sum::<Result<usize, DrawError>>()?;
    let rows = if narrow { LINE * lines as f64 + GAP * fleets.len() as f64 } else { ABOVE + ROW * fleets.len() as f64 };
    let height = HEAD + rows + BELOW + FOOT;
    let longest = fleets.iter().map(|(_, fleet)| followed(fleet)).fold(0.0, f64::max);
    let within = time(longest);
    let note = format!(
        "{} clutches each; none: no part worn out within {within} of running. Lines: 90 % bounds of each share by itself (Wilson's score). Oil set apart: at its limit it is due for service. Depends on the spreads of assumed constants.{left_out}",
        report.clutches
    );
    let describe = "For each fleet and each part a dot at the share of clutches in which the part is the first worn out, with bounds.";
    let heading = format!("First worn out: {}", look.asked(&report.head));
    sheet(look, height, [&heading, &look.under(&note), describe], |sheet| {
        if narrow {
            return stacked(sheet, report, &fleets, &parts);
        }
        let set = Type::LABEL.side(1);
        let first = HEAD + ABOVE + 0.5 * ROW;
        for (k, (_, fleet)) in fleets.iter().enumerate() {
            let words = fit(&name(report, fleet), set, NAMES - SIDE - 14.0)?;
            sheet.text(&words, (NAMES - 14.0, first + ROW * k as f64), set)?;
        }
        let wide = (sheet.width - SIDE - NAMES) / parts.len() as f64;
        for (k, part) in parts.iter().enumerate() {
            column(sheet, &fleets, *part, (NAMES + wide * k as f64, NAMES + wide * (k + 1) as f64), first)?;
        }
        let floor = first + ROW * (fleets.len() as f64 - 0.5) + 4.0;
        sheet.text(TITLE, (f64::midpoint(NAMES, sheet.width - SIDE), floor + 31.0), Type::LABEL.side(0))
    })
}

/// Title of the scales.
const TITLE: &str = "% of clutches, and how many";

/// Ticks of a scale of per cent.
fn percents(all: &[u32]) -> Vec<(f64, String)> {
    all.iter().map(|percent| (f64::from(*percent), percent.to_string())).collect()
}

/// Lines of a fleet's name on a sheet of this width, px.
fn names(report: &Report, fleet: &Fleet, width: f64) -> Result<Vec<String>, DrawError> {
    wrapped(&name(report, fleet), Type::HEADING, width - 2.0 * SIDE)
}

/// Parts of each fleet below its name, on one scale.
fn stacked(
    sheet: &Sheet<'_>,
    report: &Report,
    fleets: &[(usize, &Fleet)],
    parts: &[Option<Part>],
) -> Result<(), DrawError> {
    let set = Type::LABEL;
    let named = parts.iter().map(|part| width_of(part_name(*part), set)).collect::<Result<Vec<_>, _>>()?;
    let left = SIDE + named.into_iter().fold(0.0, f64::max) + 16.0;
    let axis = Axis::linear((0.0, 100.0), (left, sheet.width - SIDE - 34.0));
    let mut y = HEAD;
    for (_, fleet) in fleets {
        for line in names(report, fleet, sheet.width)? {
            sheet.text(&line, (SIDE, y + 0.5 * LINE), Type::HEADING)?;
            y += LINE;
        }
        let (from, to) = (y, y + LINE * parts.len() as f64);
        for percent in [0, 25, 50, 75, 100] {
            let at = axis.at(f64::from(percent));
            sheet.line(&[(at, from), (at, to)], if percent == 0 { TEXT } else { FAINT }, 0.7, None)?;
        }
        for part in parts {
            sheet.text(part_name(*part), (left - 8.0, y + 0.5 * LINE), set.side(1))?;
            share(sheet, fleet, *part, &axis, y + 0.5 * LINE)?;
            y += LINE;
        }
        y += GAP;
    }
    let floor = y - GAP + 4.0;
    ruler::below(sheet, &axis, &percents(&[0, 25, 50, 75, 100]), floor, None, TITLE)
}

/// Name of a part, or "none" if none wore out.
fn part_name(part: Option<Part>) -> &'static str {
    part.map_or("none", brief)
}

/// The dot of a part's share, its bounds, and the number of clutches.
fn share(sheet: &Sheet<'_>, fleet: &Fleet, part: Option<Part>, axis: &Axis, y: f64) -> Result<(), DrawError> {
    let tick = Type::TICK;
    let Some(share) = fleet.first.iter().find(|s| s.part == part) else {
        return sheet.text("0", (axis.at(0.0) + 6.0, y), tick);
    };
    let ink = hues::of_some(part).ink;
    let known = [share.low, share.share, share.high].map(|share| Some(100.0 * share));
    whisker::draw(sheet, axis, y, known, (ink, ink), None)?;
    sheet.text(&share.clutches.to_string(), (axis.within(100.0 * share.high) + 7.0, y), tick)
}

/// The shares of one part.
fn column(
    sheet: &Sheet<'_>,
    fleets: &[(usize, &Fleet)],
    part: Option<Part>,
    (left, right): (f64, f64),
    first: f64,
) -> Result<(), DrawError> {
    let (start, end) = (left + 8.0, right - 44.0);
    let axis = Axis::linear((0.0, 100.0), (start, end));
    let head = Type::LABEL;
    let floor = first + ROW * (fleets.len() as f64 - 0.5) + 4.0;
    sheet.fitted(part_name(part), (start - 4.0, HEAD + 20.0), head, right - left - 4.0)?;
    let ticks = percents(if end - start > 90.0 { &[0, 50, 100] } else { &[0, 100] });
    ruler::below(sheet, &axis, &ticks, floor, Some(first - 0.5 * ROW), "")?;
    let mut rows = fleets.iter().enumerate();
    rows.try_for_each(|(row, (_, fleet))| share(sheet, fleet, part, &axis, first + ROW * row as f64))
}
