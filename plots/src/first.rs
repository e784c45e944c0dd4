//! Which part is the first worn out, the oil set apart: its share of each fleet, with bounds.

use crate::axis::Axis;
use crate::canvas::{FOOT, HEAD, LETTERS, SIDE, Sheet, Type, sheet};
use crate::fleet::{followed, name, shown};
use crate::palette::{FAINT, TEXT, colour};
use crate::{DrawError, Drawing, Look};
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::names::Part;
use slipsoak_engine::say::time;

/// Most fleets in the figure.
const ROWS: usize = 40;
const ROW: f64 = 30.0;
const ABOVE: f64 = 44.0;
const BELOW: f64 = 46.0;
const NAMES: f64 = 236.0;

/// Every part that is first in some fleet, the commonest first; what outlived the horizon last.
fn parts(fleets: &[(usize, &Fleet)]) -> Vec<Option<Part>> {
    let mut all: Vec<(Option<Part>, u64)> = vec![];
    for share in fleets.iter().flat_map(|(_, fleet)| &fleet.first) {
        match all.iter_mut().find(|known| known.0 == share.part) {
            Some(known) => known.1 += share.clutches,
            None => all.push((share.part, share.clutches)),
        }
    }
    all.sort_by_key(|(part, clutches)| (part.is_none(), std::cmp::Reverse(*clutches)));
    all.into_iter().map(|(part, _)| part).collect()
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let (fleets, left_out) = shown(report, ROWS);
    let parts = parts(&fleets);
    let height = HEAD + ABOVE + ROW * fleets.len() as f64 + BELOW + FOOT;
    let longest = fleets.iter().map(|(_, fleet)| followed(fleet)).fold(0.0, f64::max);
    let within = time(longest);
    let note = format!(
        "{} clutches each; none: no part worn out within {within} of running. Lines: 90 % bounds of each share by itself (Wilson's score). Oil set apart: at its limit it is due for service. Depends on the spreads of assumed constants.{left_out}",
        report.clutches
    );
    let describe = "One row for each fleet, one column for each part: a dot at the share of clutches in which the part is the first worn out, with bounds.";
    let heading = format!("First worn out: {}", report.title);
    sheet((look.size.width, height.ceil().max(240.0) as u32), &heading, &look.under(&note), describe, |sheet| {
        let set = Type::of(LETTERS[2]).side(1);
        let first = HEAD + ABOVE + 0.5 * ROW;
        for (k, (_, fleet)) in fleets.iter().enumerate() {
            let words = sheet.fit(&name(report, fleet), set, NAMES - SIDE - 14.0)?;
            sheet.text(&words, (NAMES - 14.0, first + ROW * k as f64), set)?;
        }
        let wide = (sheet.width - SIDE - NAMES) / parts.len() as f64;
        for (k, part) in parts.iter().enumerate() {
            column(sheet, &fleets, (k, *part), (NAMES + wide * k as f64, NAMES + wide * (k + 1) as f64), first)?;
        }
        Ok(())
    })
}

/// The shares of one part.
fn column(
    sheet: &Sheet<'_>,
    fleets: &[(usize, &Fleet)],
    (k, part): (usize, Option<Part>),
    (left, right): (f64, f64),
    first: f64,
) -> Result<(), DrawError> {
    let (start, end) = (left + 8.0, right - 44.0);
    let axis = Axis::linear((0.0, 100.0), (start, end));
    let (tick, head) = (Type::of(LETTERS[3]), Type::of(LETTERS[2]));
    let floor = first + ROW * (fleets.len() as f64 - 0.5) + 4.0;
    sheet.text(
        &sheet.fit(part.map_or("none", Part::name), head, right - left - 4.0)?,
        (start - 4.0, HEAD + 20.0),
        head,
    )?;
    for percent in if end - start > 90.0 { vec![0, 50, 100] } else { vec![0, 100] } {
        let at = axis.at(f64::from(percent));
        sheet.line(&[(at, first - 0.5 * ROW), (at, floor)], FAINT, 0.7, None)?;
        sheet.text(&percent.to_string(), (at, floor + 12.0), tick.side(0))?;
    }
    sheet.line(&[(start, floor), (end, floor)], TEXT, 0.9, None)?;
    sheet.text("% of clutches", (0.5 * (start + end), floor + 28.0), tick.side(0))?;
    let ink = colour(k);
    for (row, (_, fleet)) in fleets.iter().enumerate() {
        let y = first + ROW * row as f64;
        let Some(share) = fleet.first.iter().find(|s| s.part == part) else {
            sheet.text("0", (axis.at(0.0) + 6.0, y), tick)?;
            continue;
        };
        let at = |share: f64| axis.within(100.0 * share);
        sheet.line(&[(at(share.low), y), (at(share.high), y)], ink, 1.8, None)?;
        sheet.dot((at(share.share), y), 4.4, ink)?;
        sheet.text(&share.clutches.to_string(), (at(share.high) + 7.0, y), tick)?;
    }
    Ok(())
}
