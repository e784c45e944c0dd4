//! The large section of a ride: the clutch at the moment that matters most, with ribbons of heat, oil, and callouts.

use crate::figures::film_strip::{Shot, happens};
use crate::figures::heat_paths;
use crate::figures::moment::clock;
use crate::figures::oil_drops::usual_drop;
use crate::figures::painted::{BAR, OIL, Painted, Scale, leader, with_unit as temperature};
use crate::figures::ride_finding::{Over, over};
use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::reading::celsius;
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::Run;

/// Room above the section and below it, px.
pub(super) const OVER: f64 = 34.0;
pub(super) const UNDER: f64 = 26.0;
/// Height of a line of words, px.
pub(super) const LINE: f64 = 15.5;
/// Space below a callout, and height of the key, px.
const SPACE: f64 = 15.0;
const KEY: f64 = 54.0;

/// A callout: its head and what follows it, whether it is bold, and the part that it is about.
struct Callout {
    words: [String; 2],
    bold: bool,
    about: Option<Channel>,
}

/// Callouts of a moment: each part over its limit, what happens, and the oil.
fn callouts(run: &Run, (k, shots): (usize, &[Shot<'_>])) -> Vec<Callout> {
    let painted = &shots[k].painted;
    let height = |over: &Over| {
        let piece = painted.section.pieces.iter().find(|piece| piece.channel == Some(over.channel));
        piece.map_or(f64::INFINITY, |piece| piece.anchor.1)
    };
    let mut all = over(run, &painted.moment.values);
    // From above downwards, so that leaders do not cross.
    all.sort_by(|a, b| height(b).total_cmp(&height(a)));
    let mut said: Vec<Callout> = all
        .iter()
        .map(|over| Callout {
            words: [format!("{} {}", over.part, temperature(over.at)), format!("limit {}", temperature(over.limit))],
            bold: true,
            about: Some(over.channel),
        })
        .collect();
    if all.is_empty() {
        let of = |channel| temperature(celsius(painted.value(channel)));
        let words = format!("lining {}, bushing {}", of(Channel::LiningSurface), of(Channel::Bushing));
        said.push(Callout { words: ["Every part is within its limit.".to_owned(), words], bold: false, about: None });
    }
    let fill = painted.value(Channel::OilFill);
    let oil =
        if fill.is_finite() { format!("Oil in the bushing's pores: {:.0} %.", 100.0 * fill) } else { String::new() };
    said.push(Callout { words: [happens(run, shots, k), oil], bold: false, about: None });
    said
}

impl Callout {
    /// Lines of its head and of what follows it, at this width, px.
    fn lines(&self, room: f64) -> Result<[Vec<String>; 2], DrawError> {
        let head = wrapped(&self.words[0], Type::HEADING.bold(self.bold), room)?;
        Ok([head, wrapped(&self.words[1], Type::LABEL, room)?])
    }

    /// Its height with the space below it, px.
    fn height(&self, room: f64) -> Result<f64, DrawError> {
        Ok(LINE * self.lines(room)?.iter().map(Vec::len).sum::<usize>() as f64 + SPACE)
    }
}

/// Left end of the callouts beside the section, px.
fn beside(long: f64, per: f64) -> f64 {
    SIDE + 6.0 + per * long + 30.0
}

/// Height of the large section with its callouts, px, on a sheet of this width; they are beside it, or on a narrow sheet below it.
pub(super) fn height(
    run: &Run,
    (k, shots): (usize, &[Shot<'_>]),
    per: f64,
    (width, narrow): (f64, bool),
) -> Result<f64, DrawError> {
    let Some(shot) = shots.get(k) else { return Ok(0.0) };
    let section = &shot.painted.section;
    let left = if narrow { SIDE } else { beside(section.span.1 - section.span.0, per) };
    let all = callouts(run, (k, shots));
    let heights = all.iter().map(|one| one.height(width - SIDE - left)).collect::<Result<Vec<_>, _>>()?;
    let (own, called) = (OVER + per * section.radius + UNDER, heights.iter().sum::<f64>());
    Ok(if narrow { own + called + 4.0 } else { own.max(OVER + 10.0 + called + KEY) })
}

/// The large section with ribbons of heat, oil, and callouts of what is over a limit; `per` px per m.
pub(super) fn large(
    sheet: &Sheet<'_>,
    run: &Run,
    (k, shots): (usize, &[Shot<'_>]),
    per: f64,
    range: Scale,
) -> Result<(), DrawError> {
    let painted = &shots[k].painted;
    let top = HEAD + BAR;
    let axis = top + OVER + per * painted.section.radius;
    let place = painted.on_sheet((SIDE + 6.0, axis), per);
    let when = format!("{} {}, {}", k + 1, painted.words, clock(painted.moment.time));
    sheet.text(&when, (SIDE, top + 12.0), Type::HEADING.bold(true))?;
    painted.paint(sheet, &place, range)?;
    oil(sheet, run, painted, &place, 2.6)?;
    heat_paths::draw(sheet, run, painted, &place)?;
    let span = painted.section.span;
    let (left, mut at) =
        if sheet.narrow() { (SIDE, axis + UNDER) } else { (beside(span.1 - span.0, per), top + OVER + 10.0) };
    let room = sheet.width - SIDE - left;
    for call in callouts(run, (k, shots)) {
        let [head, more] = call.lines(room)?;
        let piece = painted.section.pieces.iter().find(|piece| call.about.is_some() && piece.channel == call.about);
        if let Some(piece) = piece.filter(|_| !sheet.narrow()) {
            leader(sheet, place(piece.anchor), (left - 6.0, at))?;
        }
        sheet.lines(&head, (left, at), Type::HEADING.bold(call.bold), LINE)?;
        sheet.lines(&more, (left, at + LINE * head.len() as f64), Type::LABEL.ink(QUIET), LINE)?;
        at += call.height(room)?;
    }
    if sheet.narrow() { Ok(()) } else { key(sheet, (left, (axis - KEY).max(at)), room) }
}

/// What arrows and dots mean.
fn key(sheet: &Sheet<'_>, (left, top): Place, room: f64) -> Result<(), DrawError> {
    let set = Type::TICK.ink(QUIET);
    let arrow = [(0.0, -2.5), (12.0, -2.5), (12.0, -6.0), (20.0, 0.0), (12.0, 6.0), (12.0, 2.5), (0.0, 2.5)];
    let arrow: Vec<Place> = arrow.iter().map(|p| (left + p.0, top + p.1)).collect();
    sheet.shape(&arrow, PAPER, 0.9)?;
    sheet.outline(&arrow, TEXT, 0.9)?;
    sheet.fitted("heat from part to part, by its width", (left + 28.0, top), set, room - 28.0)?;
    sheet.says("oil", || sheet.dot((left + 10.0, top + 20.0), 2.6, OIL))?;
    sheet.fitted("a tenth of a drop of oil in the clearance", (left + 28.0, top + 20.0), set, room - 28.0)?;
    sheet.says("oil", || sheet.bar((left, top + 36.0), (left + 20.0, top + 44.0), OIL))?;
    sheet.fitted("oil in the bushing's pores", (left + 28.0, top + 40.0), set, room - 28.0)
}

/// Oil in the clearance and on the faces as dots at both ends of the bushing, one for a tenth of a drop.
fn oil(
    sheet: &Sheet<'_>,
    run: &Run,
    painted: &Painted<'_>,
    place: &impl Fn((f64, f64)) -> Place,
    radius: f64,
) -> Result<(), DrawError> {
    let Some(drop) = usual_drop(run) else { return Ok(()) };
    let film = painted.value(Channel::Film);
    if !film.is_finite() {
        return Ok(());
    }
    let dots = (10.0 * film / drop).round().clamp(0.0, 60.0) as usize;
    let (low, high) = painted.section.oil;
    let step = 2.4 * radius;
    let mut all = vec![];
    for k in 0..dots {
        let (side, row, column) = (k % 2, (k / 2) % 3, k / 6);
        let out = step * (column as f64 + 1.2);
        let (x, y) = if side == 0 { place((high.0, low.1)) } else { place((low.0, low.1)) };
        let at = (if side == 0 { x + out } else { x - out }, y + 4.0 - step * row as f64);
        all.push(at);
    }
    let said = format!("{} drops of oil in the clearance", figures(0.1 * dots as f64, 2));
    sheet.says(&said, || {
        all.iter().try_for_each(|at| {
            sheet.dot(*at, radius + 0.7, PAPER)?;
            sheet.dot(*at, radius, OIL)
        })
    })
}
