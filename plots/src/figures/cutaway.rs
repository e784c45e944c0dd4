//! The clutch cut open, to scale: temperatures of its parts during the ride and while the heat spreads after it.

use crate::figures::chosen::shown;
use crate::figures::moment::{self, clock};
use crate::figures::painted::{BAR, Painted, Scale, both, colour_bar, leader, scale};
use crate::figures::reading::rows_that_fit;
use crate::figures::section::{Piece, Side};
use crate::sheet::prelude::*;
use crate::words::part_findings;
use slipsoak_engine::names::{Channel, MomentOf};
use slipsoak_engine::record::{Record, Run};
use std::borrow::Cow;

/// Largest number of cells side by side, and smallest width of one, px.
const ACROSS: usize = 4;
const NARROWEST: f64 = 222.0;
/// Largest number of runs.
const MOST: usize = 12;
/// Room for text to the right of a section, and above and below it, px.
const BESIDE: f64 = 74.0;
const OVER: f64 = 40.0;
const UNDER: f64 = 44.0;
/// Largest distance of a leader's end from the middle of its label above or below, px.
const ASIDE: f64 = 14.0;
/// Height of a run's name and of a moment's name, px.
const NAME: f64 = 24.0;
const WHEN: f64 = 20.0;

/// Name of a moment of the record.
pub(super) fn words(what: MomentOf) -> &'static str {
    match what {
        MomentOf::MotorOff => "stop",
        MomentOf::Standstill => "last stop, idling",
        MomentOf::After2Min => "stop + 2 min",
        MomentOf::After30Min => "stop + 30 min",
        other => other.name(),
    }
}

/// Sections of a run, one for each of its moments or of the requested times.
fn cells<'a>(run: &'a Run, look: &Look) -> Vec<Painted<'a>> {
    if !look.at.is_empty() {
        return Painted::asked(run, look);
    }
    let recorded = run.moments.iter().take(ACROSS);
    recorded.filter_map(|m| Painted::of(run, Cow::Borrowed(m), words(m.what).to_owned())).collect()
}

/// Temperatures of the parts at the moments of a run, °C, and its oil fill, %.
fn prints(run: &Run, look: &Look) -> Vec<f64> {
    let of = |cell: &Painted<'_>| cell.temperatures().chain([100.0 * cell.value(Channel::OilFill)]).collect::<Vec<_>>();
    cells(run, look).iter().flat_map(of).collect()
}

/// Where the sections of some runs stand.
struct Layout {
    /// for each run its row, the column of its first section, and the number of its columns
    places: Vec<(usize, usize, usize)>,
    /// number of sections below one another in each row of runs
    deep: Vec<usize>,
    /// number of columns
    wide: usize,
}

impl Layout {
    /// Of runs with so many sections each, at most `across` side by side: as many runs in a row as have room. Three with few
    /// sections are side by side, each moment in a row.
    fn of(counts: &[usize], across: usize) -> Self {
        let beside = counts.len() == 3 && across >= 3 && counts.iter().all(|count| *count < 3);
        let columns = |count: usize| if beside { 1 } else { count.clamp(1, across) };
        let mut layout = Self { places: vec![], deep: vec![], wide: 1 };
        let mut free = 0;
        for count in counts {
            let own = columns(*count);
            let deep = count.div_ceil(own).max(1);
            if own > free {
                layout.deep.push(deep);
                free = across;
            }
            let row = layout.deep.len() - 1;
            layout.deep[row] = layout.deep[row].max(deep);
            layout.places.push((row, across - free, own));
            free -= own;
            layout.wide = layout.wide.max(across - free);
        }
        layout
    }

    /// Height of its rows, px, of sections of this height.
    fn height(&self, cell: f64) -> f64 {
        self.deep.iter().map(|deep| Self::row(*deep, cell)).sum()
    }

    fn row(deep: usize, cell: f64) -> f64 {
        NAME + deep as f64 * (cell + 4.0) + 10.0
    }

    /// Top of a row under the first one's, px.
    fn top(&self, row: usize, cell: f64) -> f64 {
        self.deep[..row].iter().map(|deep| Self::row(*deep, cell)).sum()
    }
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    look.at.iter().try_for_each(|when| moment::check(record, *when))?;
    let all = record.runs.iter().map(|run| cells(run, look)).collect::<Vec<_>>();
    let room = look.width() - 2.0 * SIDE;
    let across = ((room / NARROWEST) as usize).clamp(1, ACROSS);
    let (mut length, mut radius) = (0.06_f64, 0.03_f64);
    for section in all.iter().flatten().map(|cell| &cell.section) {
        length = length.max(section.span.1 - section.span.0);
        radius = radius.max(section.radius);
    }
    let laid = |most: usize| {
        let chosen = shown(record, look, most, |run| prints(run, look), 1.0);
        let counts: Vec<usize> = chosen.runs().map(|(k, _)| all[k].len()).collect();
        let layout = Layout::of(&counts, across);
        let cell_width = room / layout.wide.max(2.min(across)) as f64;
        let per = ((cell_width - BESIDE - 14.0) / length).clamp(100.0, if look.narrow() { 5000.0 } else { 3600.0 });
        (chosen, layout, cell_width, per)
    };
    let cell_height = |per: f64| WHEN + OVER + per * radius + UNDER;
    let fits =
        |layout: &Layout, per: f64| layout.height(cell_height(per)) <= rows_that_fit(HEAD + BAR + FOOT, 1.0) as f64;
    let (chosen, layout, cell_width, per) =
        (2..=MOST).rev().map(laid).find(|(_, layout, _, per)| fits(layout, *per)).unwrap_or_else(|| laid(1));
    let cell_height = cell_height(per);
    let height = HEAD + BAR + layout.height(cell_height) + FOOT;
    let range = scale(chosen.runs().flat_map(|(k, _)| &all[k]));
    let note = format!(
        "Half-sections to scale, {}; strip in the bushing: its oil. Not settings, so assumed: web, hub, sprocket and cover thickness, spaces. {}",
        scales::pair("°C", "°F"),
        said(&all, look)
    );
    let when =
        if look.at.is_empty() { "at the hottest lining, at the stop and after it" } else { "at the times given" };
    let describe = format!(
        "Half-sections of the clutch, to scale, for each run: motor block, shaft, carrier, shoe, lining, drum rim, web, sprocket, bushing with its oil, washer and cover, each coloured by its temperature {when}."
    );
    chosen.sheet(look, height, [&scales::marked(&part_findings::rested(record)), &note, &describe], |sheet| {
        colour_bar(sheet, range, HEAD)?;
        for ((k, _), (row, column, own)) in chosen.runs().zip(&layout.places) {
            let cells = &all[k];
            let left = SIDE + *column as f64 * cell_width;
            let top = HEAD + BAR + layout.top(*row, cell_height);
            let set = Type::HEADING;
            let room = *own as f64 * cell_width - 12.0;
            sheet.of(Some(k), || {
                sheet.named(&chosen.name(k), (left, top + 0.5 * NAME), set, room)?;
                if cells.is_empty() {
                    let set = Type::LABEL.ink(QUIET);
                    let words = "no ride, or the record lacks a size";
                    sheet.fitted(words, (left, top + NAME + 30.0), set, room)?;
                }
                cells.iter().enumerate().try_for_each(|(j, cell)| {
                    let from = left + (j % own) as f64 * cell_width;
                    let over = top + NAME + (j / own) as f64 * (cell_height + 4.0);
                    let frame = Frame { left: from, top: over, right: from + cell_width, bottom: over + cell_height };
                    draw_cell(sheet, cell, frame, per, range)
                })
            })?;
        }
        Ok(())
    })
}

/// A sentence on the requested times, or on moments that some run lacks.
fn said(all: &[Vec<Painted<'_>>], look: &Look) -> String {
    if !look.at.is_empty() {
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

/// A moment: its section with a leader from each part to its label.
fn draw_cell(sheet: &Sheet<'_>, cell: &Painted<'_>, frame: Frame, per: f64, range: Scale) -> Result<(), DrawError> {
    let place = cell.on_sheet((frame.left + 4.0, frame.bottom - UNDER), per);
    let time = clock(cell.moment.time);
    let when = if cell.words == time { time } else { format!("{}, {time}", cell.words) };
    sheet.fitted(&when, (frame.left, frame.top + 8.0), Type::LABEL, frame.right - frame.left - 8.0)?;
    cell.paint(sheet, &place, range)?;
    for cover in cell.section.pieces.iter().filter(|piece| piece.channel.is_none()) {
        let at =
            cover.outline.iter().map(|p| place(*p)).fold((0.0_f64, f64::INFINITY), |m, p| (m.0.max(p.0), m.1.min(p.1)));
        sheet.text(cover.name, (at.0 + 5.0, at.1 - 8.0), Type::TICK.ink(QUIET).side(1))?;
    }
    leaders(sheet, cell, frame, &place)
}

/// Labels around a section, each with a thin line to its part.
fn leaders(
    sheet: &Sheet<'_>,
    cell: &Painted<'_>,
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
            let from = place(piece.anchor);
            leader(sheet, from, (at.0 + (from.0 - at.0).clamp(-ASIDE, ASIDE), height))?;
            let lines = [height + step * 21.0, height + step * 8.0];
            let [first, second] = if step > 0.0 { [lines[1], lines[0]] } else { lines };
            sheet.text(piece.name, (at.0, first), Type::TICK.ink(QUIET).side(0))?;
            sheet.text(&both(cell.temperature(piece)), (at.0, second), Type::TICK.side(0))?;
        }
    }
    // So high that the lowest number stands over the leader of the shaft.
    let heights = spread(&[30.0, 30.0, 44.0, 30.0], top - 3.0, axis + 1.0);
    for (piece, height) in of(Side::Right).zip(heights) {
        leader(sheet, place(piece.anchor), (right - 3.0, height))?;
        let mut texts = vec![(piece.name.to_owned(), QUIET), (both(cell.temperature(piece)), TEXT)];
        if piece.channel == Some(Channel::Bushing) {
            let fill = cell.value(Channel::OilFill);
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_with_few_moments_share_a_row_and_three_stand_side_by_side() {
        let layout = Layout::of(&[4, 2, 2], 4);
        assert_eq!((layout.places, layout.deep, layout.wide), (vec![(0, 0, 4), (1, 0, 2), (1, 2, 2)], vec![1, 1], 4));
        let three = Layout::of(&[2, 2, 2], 4);
        assert_eq!((three.places, three.deep, three.wide), (vec![(0, 0, 1), (0, 1, 1), (0, 2, 1)], vec![2], 3));
        // A printed column has one below another, as many as the run has.
        let narrow = Layout::of(&[2], 1);
        assert_eq!((narrow.places, narrow.deep, narrow.wide), (vec![(0, 0, 1)], vec![2], 1));
    }
}
