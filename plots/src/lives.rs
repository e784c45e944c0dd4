//! Share of a fleet that has ended over hours: steps with bounds, one panel a fleet, the other fleets faint behind it.

use crate::axis::{Axis, number, round_step};
use crate::canvas::{LETTERS, Place, Sheet, Type};
use crate::fleet::{name, panels};
use crate::palette::{FAINT, LIMIT_DASH, QUIET, TEXT, colour};
use crate::panel::Frame;
use crate::{DrawError, Drawing, Look};
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::statistics::{Bounds, share_of};

/// Confidence of the bounds of each share.
const CONFIDENCE: f64 = 0.9;
/// Greatest over least life from which hours are counted in decades.
const WIDE: f64 = 30.0;
const HIGH: f64 = 268.0;

/// Ends of a fleet, h, rising.
fn ends(fleet: &Fleet) -> Vec<f64> {
    let mut ends: Vec<f64> =
        fleet.outcomes.iter().filter_map(|o| o.end).filter(|end| end.is_finite()).map(|end| end / 3600.0).collect();
    ends.sort_by(f64::total_cmp);
    ends
}

/// A staircase through (hours, share) from one time to another.
fn stairs(ends: &[f64], share: impl Fn(usize) -> f64, from: f64, until: f64) -> Vec<Place> {
    let mut places = vec![(from, share(0))];
    for (k, end) in ends.iter().enumerate() {
        places.extend([(*end, share(k)), (*end, share(k + 1))]);
    }
    places.push((until.max(ends.last().copied().unwrap_or(from)), share(ends.len())));
    places
}

/// A scale of hours over all fleets.
fn scale(fleets: &[Fleet], span: (f64, f64)) -> Axis {
    let all: Vec<f64> = fleets.iter().flat_map(ends).collect();
    let cut = fleets.iter().filter(|f| f.outcomes.iter().any(|o| o.end.is_none())).map(|f| f.horizon / 3600.0);
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().chain(cut).fold(0.0, f64::max).max(1e-3);
    if least > 0.0 && most > WIDE * least {
        return Axis::decades((least, most), span);
    }
    let step = round_step(most / 8.0);
    Axis::linear((0.0, (1.02 * most / step).ceil() * step), span)
}

/// A percentile with its bounds in words.
fn words(name: &str, bounds: &Bounds) -> String {
    let hours = |time: Option<f64>| {
        time.map_or_else(
            || "–".to_owned(),
            |t| {
                let h = t / 3600.0;
                number(h, if h < 9.95 { 0.1 } else { 1.0 })
            },
        )
    };
    format!("{name} {} h ({} to {})", hours(bounds.estimate), hours(bounds.low), hours(bounds.high))
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let note = format!(
        "{} clutches each. Shade: 90 % bounds at each time (Wilson's score); whiskers: of B10, B50 (order statistics). Grey: the others.",
        report.clutches
    );
    let describe = "One panel for each fleet; across: hours of the duty; upward: share of clutches of which a part is at its limit, as steps with bounds; the other fleets faint behind.";
    panels(report, look, HIGH, ["When clutches end", &note, describe], |sheet, fleets, k, frame| {
        panel(sheet, report, fleets, k, frame)
    })
}

fn panel(sheet: &Sheet<'_>, report: &Report, fleets: &[Fleet], k: usize, frame: Frame) -> Result<(), DrawError> {
    let fleet = &fleets[k];
    let (left, right, top, bottom) = (frame.left + 62.0, frame.right - 26.0, frame.top + 46.0, frame.bottom - 46.0);
    let (x, y) = (scale(fleets, (left, right)), Axis::linear((0.0, 1.0), (bottom, top)));
    let (tick, title, head) = (Type::of(LETTERS[3]), Type::of(LETTERS[2]), Type::of(LETTERS[1]));
    let own = name(report, fleet);
    sheet.text(&sheet.fit(&own, head, right - left - 130.0)?, (left, frame.top + 14.0), head)?;
    let at = |name: &str| fleet.end.iter().find(|m| m.name == name).map(|m| m.time).unwrap_or_default();
    let (all, n, horizon) = (ends(fleet), fleet.outcomes.len() as u64, fleet.horizon / 3600.0);
    let cut = n as usize - all.len();
    if cut > 0 {
        let words = format!("{cut} of {n} outlast {} h", number(horizon, 1.0));
        sheet.text(&words, (right, frame.top + 14.0), tick.side(1).ink(QUIET))?;
    }
    let verdict = format!("{} · {}", words("B10", &at("B10")), words("B50", &at("B50")));
    sheet.text(&sheet.fit(&verdict, title, right - left)?, (left, frame.top + 31.0), title)?;
    for percent in [0, 10, 25, 50, 75, 100] {
        let height = y.at(f64::from(percent) / 100.0);
        sheet.line(&[(left, height), (right, height)], FAINT, 0.6, None)?;
        sheet.text(&format!("{percent}"), (left - 7.0, height), tick.side(1))?;
    }
    for (value, words) in x.ticks(if right - left > 500.0 { 9 } else { 6 }) {
        sheet.line(&[(x.at(value), bottom), (x.at(value), bottom + 4.0)], TEXT, 0.9, None)?;
        sheet.text(&words, (x.at(value), bottom + 13.0), tick.side(0))?;
    }
    sheet.line(&[(left, top), (left, bottom), (right, bottom)], TEXT, 0.9, None)?;
    sheet.text("hours of the duty, rests included", (0.5 * (left + right), bottom + 31.0), title.side(0))?;
    sheet.text("ended, % of clutches", (frame.left + 18.0, 0.5 * (top + bottom)), title.upright())?;
    let path = |places: Vec<Place>| places.into_iter().map(|p| (x.within(p.0), y.within(p.1))).collect::<Vec<_>>();
    let line = |fleet: &Fleet| {
        let (ends, n) = (ends(fleet), fleet.outcomes.len() as f64);
        path(stairs(&ends, |i| i as f64 / n, 0.0, fleet.horizon / 3600.0))
    };
    for other in fleets.iter().enumerate().filter(|(i, _)| *i != k).map(|(_, other)| other) {
        sheet.line(&line(other), QUIET.tint(0.4), 0.9, None)?;
    }
    let bound = |of: fn(slipsoak_engine::statistics::Share) -> f64| {
        path(stairs(&all, |i| of(share_of(i as u64, n, CONFIDENCE)), 0.0, horizon))
    };
    let ink = colour(k);
    let mut band = bound(|share| share.low);
    band.extend(bound(|share| share.high).into_iter().rev());
    sheet.shape(&band, ink, 0.15)?;
    sheet.line(&line(fleet), ink, 2.0, None)?;
    for (name, share) in [("B10", 0.1), ("B50", 0.5)] {
        let bounds = at(name);
        let height = y.at(share);
        let place = |time: f64| x.within(time / 3600.0);
        let middle = bounds.estimate.or(bounds.low).or(bounds.high).map(place);
        // A bound that is not known leaves the whisker open, towards the axis's end.
        for (bound, edge) in [(bounds.low, left), (bounds.high, right)] {
            let (Some(middle), end) = (middle, bound.map_or(edge, place)) else { continue };
            let dash = if bound.is_some() { None } else { LIMIT_DASH };
            sheet.line(&[(middle, height), (end, height)], TEXT, 1.3, dash)?;
            if bound.is_some() {
                sheet.line(&[(end, height - 3.5), (end, height + 3.5)], TEXT, 1.3, None)?;
            }
        }
        if let Some(time) = bounds.estimate {
            sheet.dot((place(time), height), 4.0, ink)?;
            sheet.text(name, (place(time) - 8.0, height - 9.0), tick.side(1))?;
        }
    }
    if cut > 0 {
        let (end, height) = (x.within(horizon), y.at(all.len() as f64 / n as f64));
        sheet.line(&[(end - 4.0, height - 5.0), (end + 4.0, height), (end - 4.0, height + 5.0)], ink, 1.6, None)?;
    }
    Ok(())
}
