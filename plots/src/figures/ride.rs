//! A ride through the clutch: the clutch cut open at its hottest, five moments of the ride, and its temperatures.

use crate::figures::chosen::named;
use crate::figures::film_strip::{Shot, happens, shots};
use crate::figures::moment::{self, clock};
use crate::figures::painted::{BAR, Scale, colour_bar, scale};
use crate::figures::ride_curve;
use crate::figures::ride_finding::{finding, worst};
use crate::figures::ride_section::{LINE, height, large};
use crate::sheet::prelude::*;
use crate::words::compared::{by_duty, peak};
use crate::words::fault::{most_over, unfit};
use crate::words::findings::longest_that_fits;
use crate::words::reading::name;
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::{Record, Run};

/// Width of the large section, and room beside it for its callouts, px.
const SECTION: f64 = 600.0;
/// Height of a shot's words, px.
const WORDS: f64 = 108.0;
/// Number of shots whose width a single one has at most.
const FEWEST: f64 = 4.0;
/// Width of a shot on a narrow sheet, px.
const NARROW_SHOT: f64 = 168.0;

/// The run that is followed, with its index: the first that is asked for, or else, of those that have the times asked for, under several
/// duties the gravest, under one the longest-lived that fits, or else the first.
fn followed<'a>(record: &'a Record, look: &Look) -> (usize, &'a Run) {
    let runs: Vec<&Run> = record.runs.iter().collect();
    let has = |run: &&Run| look.at.iter().all(|when| moment::at(run, *when).is_some());
    let able: Vec<&Run> = runs.iter().copied().filter(has).collect();
    let grave = gravest(record, &able).filter(|_| by_duty(record).len() > 1);
    let chosen = || grave.or_else(|| longest_that_fits(record, &able));
    let asked = || runs.iter().copied().find(|run| named(record, run, &look.of));
    let run = if look.of.is_empty() { chosen().or(able.first().copied()) } else { asked() };
    let index = run.and_then(|run| runs.iter().position(|one| std::ptr::eq(*one, run))).unwrap_or(0);
    (index, runs[index])
}

/// Of the runs with a fault or a part over its limit the one with the gravest, of several with that the one with the hottest lining: under
/// several duties the longest-lived run is that of the mildest.
fn gravest<'a>(record: &Record, runs: &[&'a Run]) -> Option<&'a Run> {
    let rank = |run: &Run| unfit(record, run).map_or((true, None), |fault| (false, Some(fault)));
    let lining = |run: &Run| peak(run, Channel::LiningSurface).unwrap_or(0.0);
    let grave = runs.iter().copied().filter(|run| unfit(record, run).is_some() || most_over(run).is_some());
    grave.min_by(|a, b| rank(a).cmp(&rank(b)).then(lining(b).total_cmp(&lining(a))))
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
    fn of(look: &Look, run: &Run, shots: &[Shot<'_>]) -> Result<Self, DrawError> {
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
        let section = height(run, (worst(run, shots), shots), large, (look.width(), narrow))?;
        Ok(Self { large, small, section, picture, strip, curve: if narrow { 320.0 } else { 256.0 } })
    }
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    look.at.iter().try_for_each(|when| moment::check(record, *when))?;
    moment::check_span(record, look)?;
    let (index, run) = followed(record, look);
    let shots = shots(run, look);
    let layout = Layout::of(look, run, &shots)?;
    let curve = ride_curve::panel(run, look, &shots);
    let high = layout.section + layout.strip + if curve.is_some() { layout.curve } else { 0.0 };
    let tall = if shots.is_empty() { HEAD + 80.0 + FOOT } else { HEAD + BAR + high + FOOT };
    let note = "Half-sections to scale; web, hub, sprocket, cover and spaces assumed. Arrows: conductance times difference of temperature; a range: dry to oiled clearance; none within the lining. Dots: oil in the bushing's clearance and on its faces, one for a tenth of a drop.";
    let describe = "Above: half-section of the clutch at the moment that matters most, its parts coloured by temperature. Middle: the same at moments of the ride and of the rest after it, each with a sentence. Below: temperatures of lining and bushing over the ride, numbered dots at these moments.";
    if shots.is_empty() && !look.at.is_empty() {
        let run = name(record, run);
        return Err(DrawError::NoMoment {
            run,
            asked: moment::all_said(look),
            known: moment::known(&record.runs[index]),
        });
    }
    let heading = finding(run, &shots, !look.at.is_empty());
    let title = if record.runs.len() > 1 {
        let others =
            record.runs.iter().filter(|other| !std::ptr::eq(*other, run) && most_over(other).is_some()).count();
        let others = match others {
            0 => String::new(),
            1 => "; in 1 other a part is over its limit".to_owned(),
            all => format!("; in {all} others a part is over its limit"),
        };
        format!("{heading} (“{}”, one of {} runs{others})", name(record, run), record.runs.len())
    } else {
        heading
    };
    let gone = if curve.is_none() && !shots.is_empty() {
        " The record's windows are too long to draw the ride over time."
    } else {
        ""
    };
    let note = look.note(record, &format!("{note}{gone}"));
    sheet(look, tall, [&title, &note, describe], |sheet| {
        sheet.of((record.runs.len() > 1).then_some(index), || {
            if shots.is_empty() {
                let words = "no ride, or the record lacks a size";
                return sheet.text(words, (SIDE, HEAD + 30.0), Type::LABEL.ink(QUIET));
            }
            let range = scale(shots.iter().map(|shot| &shot.painted));
            colour_bar(sheet, range, HEAD)?;
            large(sheet, run, (worst(run, &shots), &shots), layout.large, range)?;
            let top = HEAD + BAR + layout.section;
            strip(sheet, (run, &shots), &layout, range, top)?;
            curve.as_ref().map_or(Ok(()), |curve| {
                let top = top + layout.strip;
                let frame = Frame { left: 0.0, top, right: sheet.width, bottom: top + layout.curve };
                ride_curve::draw(sheet, curve, &shots, frame)
            })
        })
    })
}

/// The moments side by side, or on a narrow sheet one below the other, each with its number, name, time and sentence.
fn strip(
    sheet: &Sheet<'_>,
    (run, shots): (&Run, &[Shot<'_>]),
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
        let lines = wrapped(&happens(run, shots, k), Type::TICK, room)?;
        sheet.lines(&lines, (at.0, at.1 + 35.0), Type::TICK, LINE)?;
    }
    Ok(())
}
