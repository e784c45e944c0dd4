//! The flow of a run's heat over the section of its clutch: ribbons as wide as their shares.

use crate::figures::heat_shares::{Heat, LEAST, Way, energy};
use crate::figures::painted::{Painted, Scale, leader, with_unit};
use crate::figures::ribbon::{End, ribbon};
use crate::figures::section::Piece;
use crate::sheet::prelude::*;
use crate::words::say::percent;
use slipsoak_engine::names::Channel;

/// Room above and below the section, px.
const OVER: f64 = 62.0;
const UNDER: f64 = 44.0;
/// How far ribbons end beyond the section, px.
const BEYOND: f64 = 14.0;
/// Height of the section, px, and of a narrow one.
const HIGH: f64 = 300.0;
const NARROW_HIGH: f64 = 186.0;
/// Room below a narrow one for the temperatures of its parts, px.
const LISTED: f64 = 66.0;
/// Room for labels left and right of the section, px, and of a narrow one.
const BESIDE: [f64; 2] = [210.0, 250.0];
const NARROW_BESIDE: [f64; 2] = [106.0, 40.0];
/// Width of all heat, as a share of the lining's width, and the most of it, px.
const TRUNK: f64 = 0.72;
const WIDEST: f64 = 150.0;
/// Distance from the face at which the head of a ribbon begins that comes in, px.
const INTO: f64 = 11.0;
/// Line spacing of a label, px.
const LINE: f64 = 15.5;

/// Parts whose temperature is written, from the face outwards and inwards.
const NODES: [Channel; 10] = [
    Channel::LiningSurface,
    Channel::Band,
    Channel::Web,
    Channel::Sprocket,
    Channel::Bushing,
    Channel::Washer,
    Channel::Shoes,
    Channel::Carrier,
    Channel::Shaft,
    Channel::Block,
];

/// The section on the sheet.
pub struct Drawn<'a> {
    pub cell: &'a Painted<'a>,
    pub range: Scale,
    /// upper left corner of its room, and scale, px per m
    at: Place,
    per: f64,
}

impl<'a> Drawn<'a> {
    /// A section in the room of a sheet below a height, px.
    pub fn fitted(sheet: &Sheet<'_>, cell: &'a Painted<'a>, range: Scale, top: f64) -> Self {
        let [left, right] = if sheet.narrow() { NARROW_BESIDE } else { BESIDE };
        let room = sheet.width - 2.0 * SIDE - left - right;
        let section = &cell.section;
        let long = (section.span.1 - section.span.0).max(1e-3);
        let high = if sheet.narrow() { NARROW_HIGH } else { HIGH };
        let per = (room / long).min(high / section.radius.max(1e-3));
        let middle = SIDE + left + 0.5 * (room - per * long);
        Self { cell, range, at: (middle, top + OVER), per }
    }

    /// Left, right, top and axis of the section, px.
    fn bounds(&self) -> [f64; 4] {
        let section = &self.cell.section;
        let right = self.at.0 + self.per * (section.span.1 - section.span.0);
        [self.at.0, right, self.at.1, self.at.1 + self.per * section.radius]
    }

    fn place(&self) -> impl Fn((f64, f64)) -> Place + use<> {
        let [left, _, _, axis] = self.bounds();
        self.cell.on_sheet((left, axis), self.per)
    }

    fn piece(&self, channel: Channel) -> Option<&Piece> {
        self.cell.section.pieces.iter().find(|piece| piece.channel == Some(channel))
    }

    /// Left, right and top of a part on the sheet, px.
    fn reach(&self, channel: Channel) -> Option<[f64; 3]> {
        let place = self.place();
        let corners: Vec<Place> = self.piece(channel)?.outline.iter().map(|p| place(*p)).collect();
        let (left, right) = extent(corners.iter().map(|p| p.0));
        Some([left, right, extent(corners.iter().map(|p| p.1)).0])
    }

    /// Paints the section, the ribbons over it, and all labels.
    pub fn draw(&self, sheet: &Sheet<'_>, heat: &Heat) -> Result<(), DrawError> {
        let place = self.place();
        self.cell.paint(sheet, &place, self.range)?;
        self.ribbons(sheet, heat)?;
        self.nodes(sheet)
    }

    fn ribbons(&self, sheet: &Sheet<'_>, heat: &Heat) -> Result<(), DrawError> {
        let Some([from, to, face]) = self.reach(Channel::LiningSurface) else { return Ok(()) };
        let [left, right, top, axis] = self.bounds();
        let all = (TRUNK * (to - from)).min(WIDEST);
        let middle = 0.5 * (from + to);
        let high = |share: f64| axis - share * (axis - top);
        let wide = |way: Way| heat.share(way).abs() * all;
        // Each side of the face: ways from left to right, so that no two cross.
        let outer = [Way::DrumAir, Way::Radiated];
        let inner = [Way::InnerAir, Way::Motor, Way::Kept];
        let rubbing = all * heat.rubbing / heat.whole;
        let sum = |ways: &[Way]| ways.iter().map(|way| wide(*way)).sum::<f64>();
        let half = 0.5 * sum(&outer).max(sum(&inner) + rubbing);
        let mut at = middle - 0.5 * sum(&outer);
        for way in outer {
            let x = at + 0.5 * wide(way);
            at += wide(way);
            let end = match way {
                Way::DrumAir => ((x, top - BEYOND - 10.0), (0.0, -1.0)),
                _ => ((right + BEYOND, top - BEYOND - 4.0), (1.0, 0.0)),
            };
            self.way(sheet, heat, way, (((x, face), (0.0, -1.0)), end), wide(way))?;
        }
        let mut at = middle - 0.5 * (sum(&inner) + rubbing);
        for way in inner {
            let x = at + 0.5 * wide(way);
            at += wide(way);
            let end = match way {
                Way::InnerAir => ((left - BEYOND, high(0.7)), (-1.0, 0.0)),
                Way::Motor => ((left - BEYOND, high(0.3)), (-1.0, 0.0)),
                _ => {
                    ((x, self.reach(Channel::Carrier).map_or(axis, |reach| reach[2] + 0.06 * (axis - top))), (0.0, 1.0))
                }
            };
            self.way(sheet, heat, way, (((x, face), (0.0, 1.0)), end), wide(way))?;
        }
        if heat.rubbing >= LEAST * heat.whole
            && let Some([from, to, over]) = self.reach(Channel::Bushing)
        {
            let start = ((f64::midpoint(from, to), over), (0.0, -1.0));
            let end = ((at + 0.5 * rubbing, face + INTO), (0.0, -1.0));
            let share = percent(heat.rubbing / heat.whole);
            let said = format!("bushing and washer rub: {share}, {}", energy(heat.rubbing));
            sheet.says(&said, || ribbon(sheet, (start, end), rubbing, (colour(hues::BUSHING), 0.6), true))?;
            let beside = (start.0.0 - 0.5 * rubbing - 5.0, start.0.1 - 12.0);
            sheet.on_paper(&share, beside, Type::TICK.bold(true).side(1))?;
        }
        // The rubbed face, where the heat is made.
        let said = format!("slip: {}", energy(heat.slip));
        sheet.says(&said, || {
            sheet.line(&[(middle - half, face), (middle + half, face)], colour(hues::LINING), 4.0, None)
        })
    }

    /// The ribbon of a way, and its label.
    fn way(
        &self,
        sheet: &Sheet<'_>,
        heat: &Heat,
        way: Way,
        (face, end): (End, End),
        wide: f64,
    ) -> Result<(), DrawError> {
        let share = heat.share(way);
        if share.abs() < LEAST {
            return Ok(());
        }
        let name = way.names()[usize::from(share < 0.0)];
        // What comes in ends with its arrowhead below or above the face.
        let back = |((x, y), along): End, by: f64| ((x + by * along.0, y + by * along.1), (-along.0, -along.1));
        let ends = if share < 0.0 { (back(end, 0.0), back(face, INTO)) } else { (face, end) };
        let said = format!("{name}: {}, {}", percent(share.abs()), energy(heat.by[way as usize].abs()));
        sheet.says(&said, || ribbon(sheet, ends, wide, way.ink(), way != Way::Kept || share < 0.0))?;
        let ((x, y), along) = end;
        let [left, right, _, axis] = self.bounds();
        let (at, side, room) = match (way, along) {
            (Way::DrumAir, _) => ((x - 0.5 * wide - 12.0, y), 1, left),
            (Way::Kept, _) => {
                leader(sheet, (x, y - 4.0), (x, axis + 12.0))?;
                ((x, axis + 28.0), 0, right - left)
            }
            (_, (..0.0, _)) => ((x - 18.0, y), 1, x - 18.0 - SIDE),
            _ if sheet.narrow() => ((sheet.width - SIDE, y - 34.0), 1, right - left),
            _ => ((x + 24.0, y), -1, sheet.width - SIDE - x - 24.0),
        };
        label(sheet, [&percent(share.abs()), name], at, (side, room))
    }

    /// Name and temperature of each part.
    fn nodes(&self, sheet: &Sheet<'_>) -> Result<(), DrawError> {
        let [left, right, top, axis] = self.bounds();
        let place = self.place();
        let said = |channel: Channel| {
            let piece = self.piece(channel)?;
            let at = self.cell.temperature(piece).filter(|t| t.is_finite());
            Some((piece, at.map_or_else(|| "–".to_owned(), with_unit)))
        };
        let set = Type::TICK;
        if sheet.narrow() {
            let all = NODES
                .into_iter()
                .filter_map(said)
                .map(|(piece, words)| format!("{} {words}", piece.name).replace(' ', "\u{a0}"));
            let lines = wrapped(&all.collect::<Vec<_>>().join(", "), set, sheet.width - 2.0 * SIDE)?;
            return sheet.lines(&lines, (SIDE, axis + UNDER + 14.0), set, LINE);
        }
        for (k, channel) in [Channel::Band, Channel::LiningSurface, Channel::Shoes].into_iter().enumerate() {
            let (Some((piece, words)), Some([edge, _, over])) = (said(channel), self.reach(channel)) else { continue };
            let y = top + 4.0 + 18.0 * k as f64;
            let inside = if channel == Channel::Shoes { 12.0 } else { 3.0 };
            leader(sheet, (edge + 5.0, over + inside), (left - 6.0, y))?;
            sheet.text(&format!("{} {words}", piece.name), (left - 10.0, y), set.side(1))?;
        }
        let parts = [Channel::Web, Channel::Sprocket, Channel::Bushing, Channel::Washer];
        let heights = spread(&[20.0; 4], top + 0.3 * (axis - top), axis + 4.0);
        for (channel, y) in parts.into_iter().zip(heights) {
            let Some((piece, words)) = said(channel) else { continue };
            leader(sheet, place(piece.anchor), (right + 6.0, y))?;
            sheet.text(&format!("{} {words}", piece.name), (right + 10.0, y), set)?;
        }
        for (k, channel) in [Channel::Block, Channel::Shaft].into_iter().enumerate() {
            let Some((piece, words)) = said(channel) else { continue };
            let at = (left + (0.06 + 0.86 * k as f64) * (right - left), axis + 12.0);
            let from = place(piece.anchor);
            leader(sheet, from, at)?;
            sheet.text(piece.name, (at.0, at.1 + 8.0), set.side(0))?;
            sheet.text(&words, (at.0, at.1 + 8.0 + LINE), set.side(0))?;
        }
        Ok(())
    }
}

/// Height of the flow with its labels, px.
pub fn high(narrow: bool) -> f64 {
    OVER + UNDER + if narrow { NARROW_HIGH + LISTED } else { HIGH }
}

/// A share in bold over its name, about a position, in lines no longer than some room, px.
fn label(sheet: &Sheet<'_>, [share, name]: [&str; 2], at: Place, (side, room): (i8, f64)) -> Result<(), DrawError> {
    sheet.text(share, (at.0, at.1 - 0.5 * LINE), Type::HEADING.bold(true).side(side))?;
    let set = Type::TICK.side(side);
    sheet.lines(&wrapped(name, set, room)?, (at.0, at.1 + 0.5 * LINE), set, LINE)
}
