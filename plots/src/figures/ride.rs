//! A ride through the clutch: the clutch cut open at its hottest, five moments of the ride, and its temperatures.

use crate::figures::chosen::named;
use crate::figures::film_strip::{Shot, shots};
use crate::figures::heat_paths;
use crate::figures::moment::{self, clock};
use crate::figures::painted::{BAR, OIL, Painted, Scale, colour_bar, leader, scale, with_unit as temperature};
use crate::figures::reading::booked;
use crate::figures::ride_curve;
use crate::sheet::prelude::*;
use crate::words::compared::longest_first;
use crate::words::fault::unfit;
use crate::words::number::figures;
use crate::words::reading::{celsius, end, name};
use crate::words::ride;
use slipsoak_engine::names::{Channel, Entry};
use slipsoak_engine::parts::{Parameter, settings};
use slipsoak_engine::record::{Record, Run};
use std::cmp::Ordering;

/// Width of the large section, and room beside it for its callouts, px.
const SECTION: f64 = 600.0;
/// Room above the section and below it, px.
const OVER: f64 = 34.0;
const UNDER: f64 = 26.0;
/// Height of a shot's words, and of a line of them, px.
const WORDS: f64 = 108.0;
const LINE: f64 = 15.5;
/// Number of shots whose width a single one has at most.
const FEWEST: f64 = 4.0;
/// Width of a shot on a narrow sheet, px.
const NARROW_SHOT: f64 = 168.0;
/// Density of motor oil, kg/m³: within 3 % of every usual grade (from memory), far finer than a dot.
pub(super) const DENSITY: f64 = 880.0;
/// Line spacing of a callout, px.
const CALL: f64 = 34.0;

/// Parts with a temperature limit: channel, name in the section, name in a sentence, and the limit.
static LIMITS: [(Channel, &str, &Parameter); 4] = [
    (Channel::LiningSurface, "lining", &settings::limits::lining_most),
    (Channel::Bushing, "bushing", &settings::limits::bushing_warning),
    (Channel::Washer, "washer", &settings::limits::washer_oiled),
    (Channel::Shoes, "springs", &settings::limits::spring_most),
];

/// A part over its limit at a moment.
struct Over {
    part: &'static str,
    channel: Channel,
    /// temperature and limit, °C
    at: f64,
    limit: f64,
}

/// The parts over their limits, hottest above it first.
fn over(run: &Run, values: &[f64]) -> Vec<Over> {
    let one = |(channel, part, limit): &(Channel, &'static str, &Parameter)| {
        let (at, limit) = (celsius(channel.of(values)), celsius(run.setting(limit)?));
        (at > limit).then_some(Over { part, channel: *channel, at, limit })
    };
    let mut all: Vec<Over> = LIMITS.iter().filter_map(one).collect();
    all.sort_by(|a, b| (b.at - b.limit).total_cmp(&(a.at - a.limit)));
    all
}

/// The shot that matters most: that with a part farthest over its limit, or least far below it.
fn worst(run: &Run, shots: &[Shot<'_>]) -> usize {
    let excess = |shot: &Shot<'_>| {
        let one = |(channel, _, limit): &(Channel, &str, &Parameter)| {
            Some(channel.of(&shot.painted.moment.values) - run.setting(limit)?)
        };
        LIMITS.iter().filter_map(one).fold(f64::NEG_INFINITY, f64::max)
    };
    (0..shots.len()).max_by(|a, b| excess(&shots[*a]).total_cmp(&excess(&shots[*b]))).unwrap_or(0)
}

/// What the ride shows, as a title; of chosen moments what they show, since the ride may be hotter between them.
fn finding(run: &Run, shots: &[Shot<'_>], chosen: bool) -> String {
    let Some(shot) = shots.get(worst(run, shots)) else { return "A ride".to_owned() };
    if let Some(over) = over(run, &shot.painted.moment.values).first() {
        return format!(
            "A ride: the {} {} {} at “{}”, over the limit of {}",
            over.part,
            if over.part.ends_with('s') { "reach" } else { "reaches" },
            temperature(over.at),
            shot.painted.words,
            temperature(over.limit)
        );
    }
    let hottest = |channel: Channel| {
        shots.iter().map(|shot| celsius(shot.painted.value(channel))).fold(f64::NEG_INFINITY, f64::max)
    };
    let (lining, bushing) = (temperature(hottest(Channel::LiningSurface)), temperature(hottest(Channel::Bushing)));
    match (chosen, shots) {
        (false, _) => format!("A ride: lining up to {lining}, bushing up to {bushing}, no part over its limit"),
        (true, [one]) => {
            format!("At “{}”: lining {lining}, bushing {bushing}, no part over its limit then", one.painted.words)
        }
        (true, _) => {
            format!("At these moments: lining up to {lining}, bushing up to {bushing}, no part over its limit then")
        }
    }
}

/// The run that is followed, with its index: the first that is asked for, or else the longest-lived that fits, or else the first.
fn followed<'a>(record: &'a Record, look: &Look) -> (usize, &'a Run) {
    let runs: Vec<&Run> = record.runs.iter().collect();
    let fits = || longest_first(&runs).into_iter().find(|run| end(run).is_some() && unfit(record, run).is_none());
    let run = if look.of.is_empty() { fits() } else { runs.iter().copied().find(|run| named(record, run, &look.of)) };
    let index = run.and_then(|run| runs.iter().position(|one| std::ptr::eq(*one, run))).unwrap_or(0);
    (index, runs[index])
}

/// Sizes of a figure, px.
struct Layout {
    /// px per m of the large section and of a shot
    large: f64,
    small: f64,
    /// heights of the large section with its room, of a shot's picture, of the strip, and of the curve
    section: f64,
    picture: f64,
    strip: f64,
    curve: f64,
}

impl Layout {
    fn of(look: &Look, shots: &[Shot<'_>]) -> Self {
        let section = shots.first().map(|shot| &shot.painted.section);
        let (long, radius) = section.map_or((0.06, 0.03), |s| (s.span.1 - s.span.0, s.radius));
        let (wide, narrow) = (look.width() - 2.0 * SIDE, look.narrow());
        let count = shots.len().max(1) as f64;
        let large = (if narrow { wide } else { SECTION.min(0.64 * wide) } - 14.0) / long;
        let small = (if narrow { NARROW_SHOT } else { wide / count.max(FEWEST) - 18.0 } - 14.0) / long;
        let picture = small * radius + 12.0;
        // A single moment is the large section.
        let strip = if shots.len() < 2 {
            0.0
        } else if narrow {
            count * (picture + 14.0)
        } else {
            picture + WORDS
        };
        let section = OVER + large * radius + UNDER + if narrow { 96.0 } else { 0.0 };
        Self { large, small, section, picture, strip, curve: if narrow { 320.0 } else { 256.0 } }
    }
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    look.at.iter().try_for_each(|when| moment::check(record, *when))?;
    moment::check_span(record, look)?;
    let (index, run) = followed(record, look);
    let shots = shots(run, look);
    let layout = Layout::of(look, &shots);
    let curve = ride_curve::panel(run, look, &shots);
    let high = layout.section + layout.strip + if curve.is_some() { layout.curve } else { 0.0 };
    let height = if shots.is_empty() { HEAD + 80.0 + FOOT } else { HEAD + BAR + high + FOOT };
    let note = "Half-sections to scale; web, hub, sprocket, cover and spaces assumed. Arrows: conductance times difference of temperature; a range: dry to oiled clearance; none within the lining. Dots: oil in the bushing's clearance and on its faces, one for a tenth of a drop.";
    let describe = "Above: half-section of the clutch at the moment that matters most, its parts coloured by temperature. Middle: the same at moments of the ride and of the rest after it, each with a sentence. Below: temperatures of lining and bushing over the ride, numbered dots at these moments.";
    let heading = finding(run, &shots, !look.at.is_empty());
    let title = if record.runs.len() > 1 {
        format!("{heading} (“{}”, one of {} runs)", name(record, run), record.runs.len())
    } else {
        heading
    };
    let gone = if curve.is_none() && !shots.is_empty() {
        " The record's windows are too long to draw the ride over time."
    } else {
        ""
    };
    let note = look.note(record, &format!("{note}{gone}"));
    sheet(look, height, [&title, &note, describe], |sheet| {
        sheet.of((record.runs.len() > 1).then_some(index), || {
            if shots.is_empty() {
                let words = "no ride, or the record lacks a size";
                return sheet.text(words, (SIDE, HEAD + 30.0), Type::LABEL.ink(QUIET));
            }
            let range = scale(shots.iter().map(|shot| &shot.painted));
            colour_bar(sheet, range, HEAD)?;
            large(sheet, run, (worst(run, &shots), &shots), &layout, range)?;
            let top = HEAD + BAR + layout.section;
            strip(sheet, (&shots, full(run)), &layout, range, top)?;
            curve.as_ref().map_or(Ok(()), |curve| {
                let top = top + layout.strip;
                let frame = Frame { left: 0.0, top, right: sheet.width, bottom: top + layout.curve };
                ride_curve::draw(sheet, curve, &shots, frame)
            })
        })
    })
}

/// The large section with ribbons of heat, oil, and callouts of what is over a limit.
fn large(
    sheet: &Sheet<'_>,
    run: &Run,
    (k, shots): (usize, &[Shot<'_>]),
    layout: &Layout,
    range: Scale,
) -> Result<(), DrawError> {
    let painted = &shots[k].painted;
    let top = HEAD + BAR;
    let axis = top + OVER + layout.large * painted.section.radius;
    let place = painted.on_sheet((SIDE + 6.0, axis), layout.large);
    let when = format!("{} {}, {}", k + 1, painted.words, clock(painted.moment.time));
    sheet.text(&when, (SIDE, top + 12.0), Type::HEADING.bold(true))?;
    painted.paint(sheet, &place, range)?;
    oil(sheet, run, painted, &place, 2.6)?;
    heat_paths::draw(sheet, run, painted, &place)?;
    let beside = place((painted.section.span.1, 0.0)).0 + 30.0;
    let (left, mut at) = if sheet.narrow() { (SIDE, axis + UNDER) } else { (beside, top + OVER + 10.0) };
    let room = sheet.width - SIDE - left;
    let mut callout = |words: [String; 2], bold: bool, from: Option<Place>| {
        let head = wrapped(&words[0], Type::HEADING.bold(bold), room)?;
        if let Some(from) = from.filter(|_| !sheet.narrow()) {
            leader(sheet, from, (left - 6.0, at))?;
        }
        sheet.lines(&head, (left, at), Type::HEADING.bold(bold), LINE)?;
        at += LINE * head.len() as f64;
        let more = wrapped(&words[1], Type::LABEL.ink(QUIET), room)?;
        sheet.lines(&more, (left, at), Type::LABEL.ink(QUIET), LINE)?;
        at += LINE * more.len() as f64 + CALL - 2.0 * LINE + 12.0;
        Ok::<(), DrawError>(())
    };
    let anchor = |over: &Over| {
        let piece = painted.section.pieces.iter().find(|piece| piece.channel == Some(over.channel));
        piece.map(|piece| place(piece.anchor))
    };
    let mut all = over(run, &painted.moment.values);
    // From above downwards, so that leaders do not cross.
    all.sort_by(|a, b| anchor(a).map(|p| p.1).partial_cmp(&anchor(b).map(|p| p.1)).unwrap_or(Ordering::Equal));
    for over in &all {
        let from = anchor(over);
        let limit = format!("limit {}", temperature(over.limit));
        callout([format!("{} {}", over.part, temperature(over.at)), limit], true, from)?;
    }
    if all.is_empty() {
        let of = |channel| temperature(celsius(painted.value(channel)));
        let words = format!("lining {}, bushing {}", of(Channel::LiningSurface), of(Channel::Bushing));
        callout(["Every part is within its limit.".to_owned(), words], false, None)?;
    }
    let fill = painted.value(Channel::OilFill);
    let oil =
        if fill.is_finite() { format!("Oil in the bushing's pores: {:.0} %.", 100.0 * fill) } else { String::new() };
    callout([ride::moment(&painted.moment.values, stop(shots), full(run)), oil], false, None)?;
    if sheet.narrow() { Ok(()) } else { key(sheet, (left, axis - 54.0), room) }
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

/// Oil in the pores of a full bushing, kg.
fn full(run: &Run) -> f64 {
    let fill = run.windows.mean.last().map_or(f64::NAN, |row| Channel::OilFill.of(row));
    booked(&run.ledgers.oil, Entry::InPores) / fill
}

/// Values at the stop.
fn stop<'a>(shots: &'a [Shot<'_>]) -> Option<&'a [f64]> {
    shots.iter().find_map(|shot| shot.stop.as_deref())
}

/// Oil in the clearance and on the faces as dots at both ends of the bushing, one for a tenth of a drop.
fn oil(
    sheet: &Sheet<'_>,
    run: &Run,
    painted: &Painted<'_>,
    place: &impl Fn((f64, f64)) -> Place,
    radius: f64,
) -> Result<(), DrawError> {
    let Some(drop) = run.setting(&settings::oiling::drop).map(|volume| volume * DENSITY) else { return Ok(()) };
    let film = painted.value(Channel::Film);
    if !film.is_finite() || drop <= 0.0 {
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

/// The moments side by side, or on a narrow sheet one below the other, each with its number, name, time and sentence.
fn strip(
    sheet: &Sheet<'_>,
    (shots, full): (&[Shot<'_>], f64),
    layout: &Layout,
    range: Scale,
    top: f64,
) -> Result<(), DrawError> {
    if shots.len() < 2 {
        return Ok(());
    }
    let narrow = sheet.narrow();
    let wide = (sheet.width - 2.0 * SIDE) / (shots.len() as f64).max(FEWEST);
    for (k, shot) in shots.iter().enumerate() {
        let painted = &shot.painted;
        let (left, over) =
            if narrow { (SIDE, top + (layout.picture + 14.0) * k as f64) } else { (SIDE + wide * k as f64, top) };
        let place = painted.on_sheet((left + 6.0, over + layout.picture), layout.small);
        painted.paint(sheet, &place, range)?;
        let (at, room) = if narrow {
            ((left + NARROW_SHOT + 14.0, over + 16.0), sheet.width - 2.0 * SIDE - NARROW_SHOT - 14.0)
        } else {
            ((left, over + layout.picture + 18.0), wide - 12.0)
        };
        ride_curve::number(sheet, k, (at.0 + 8.0, at.1))?;
        sheet.fitted(&painted.words, (at.0 + 22.0, at.1), Type::LABEL.bold(true), room - 22.0)?;
        sheet.fitted(&clock(painted.moment.time), (at.0, at.1 + 18.0), Type::TICK.ink(QUIET), room)?;
        let lines = wrapped(&ride::moment(&painted.moment.values, stop(shots), full), Type::TICK, room)?;
        sheet.lines(&lines, (at.0, at.1 + 35.0), Type::TICK, LINE)?;
    }
    Ok(())
}
