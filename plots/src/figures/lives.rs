//! Share of a fleet's clutches with a worn-out part over running hours: steps with bounds, one panel per fleet, the
//! other fleets faint behind it; dashed the share with oil due.

use crate::figures::fleet::panels;
use crate::sheet::prelude::*;
use crate::words::clutches::{followed, lived, milestone, name, oil_due};
use crate::words::say::time;
use slipsoak_engine::fleet::{Fleet, Outcome, Report};
use slipsoak_engine::statistics::share_of;
use slipsoak_engine::units::HOUR;

/// Confidence of the bounds of each share.
const CONFIDENCE: f64 = 0.9;
/// Ratio of the greatest to the least life above which hours are on a logarithmic scale.
const WIDE: f64 = 30.0;
/// Height of a panel without the text above its chart, and of a line of that text, px.
const HIGH: f64 = 237.0;
const LINE: f64 = 17.0;

/// Running times of a fleet's clutches, h, ascending.
fn hours(fleet: &Fleet, of: impl Fn(&Outcome) -> Option<f64>) -> Vec<f64> {
    let known = fleet.outcomes.iter().filter_map(of).filter(|time| time.is_finite());
    let mut hours: Vec<f64> = known.map(|time| time / HOUR).collect();
    hours.sort_by(f64::total_cmp);
    hours
}

/// Running times to the first worn part, h, ascending.
fn ends(fleet: &Fleet) -> Vec<f64> {
    hours(fleet, |o| o.running)
}

/// A step curve through (hours, share) from one time to another.
fn stairs(ends: &[f64], share: impl Fn(usize) -> f64, from: f64, until: f64) -> Vec<Place> {
    let mut places = vec![(from, share(0))];
    for (k, end) in ends.iter().enumerate() {
        places.extend([(*end, share(k)), (*end, share(k + 1))]);
    }
    places.push((until.max(ends.last().copied().unwrap_or(from)), share(ends.len())));
    places
}

/// A scale of hours for the fleets shown.
fn scale(fleets: &[(usize, &Fleet)], span: (f64, f64)) -> Axis {
    let all: Vec<f64> = fleets.iter().flat_map(|(_, f)| [ends(f), hours(f, |o| o.service_running)]).flatten().collect();
    let lasting = fleets.iter().filter(|(_, f)| f.outcomes.iter().any(|o| o.running.is_none()));
    let cut = lasting.map(|(_, f)| followed(f) / HOUR);
    let least = all.iter().copied().fold(f64::INFINITY, f64::min);
    let most = all.iter().copied().chain(cut).fold(0.0, f64::max).max(1e-3);
    if least > 0.0 && most > WIDE * least {
        return Axis::decades((least, most), span);
    }
    let step = round_step(most / 8.0);
    Axis::linear((0.0, (1.02 * most / step).ceil() * step), span)
}

pub fn draw(report: &Report, look: &Look) -> Result<Drawing, DrawError> {
    let note = format!(
        "{} clutches each, oil set apart. Shade: 90 % bounds at each time (Wilson's score); whiskers: of B10 and of the median, B50 (order statistics). Dashed: clutches whose oil was due. Grey: the other fleets.",
        report.clutches
    );
    let describe = "One panel for each fleet; across: hours of running; upward: share of clutches of which a part is worn out, as steps with bounds, and dashed of which the oil was due; the other fleets faint behind.";
    panels(
        report,
        look,
        |_, (_, fleet), wide| HIGH + LINE * heads(report, fleet, wide).len() as f64,
        ["When a part is worn out", &note, describe],
        |sheet, fleets, shown, frame| panel(sheet, report, fleets, shown, frame),
    )
}

/// Text above a chart at this width: fleet, lives, when oil is due, share that outlives the horizon.
fn heads(report: &Report, fleet: &Fleet, wide: f64) -> Vec<(String, Type)> {
    let title = Type::LABEL;
    let (n, lasting) = (fleet.outcomes.len(), fleet.outcomes.len() - ends(fleet).len());
    let outlast =
        if lasting > 0 { format!("{lasting} of {n} outlast {}", time(followed(fleet))) } else { String::new() };
    let all = [
        (name(report, fleet), Type::HEADING),
        (lived(fleet), title.bold(true)),
        (oil_due(fleet), title.ink(QUIET)),
        (outlast, title.ink(QUIET)),
    ];
    let lines = |(words, set): (String, Type)| {
        wrapped(&words, set, wide - 2.0 * SIDE).unwrap_or_default().into_iter().map(move |line| (line, set))
    };
    all.into_iter().flat_map(lines).collect()
}

fn panel(
    sheet: &Sheet<'_>,
    report: &Report,
    fleets: &[(usize, &Fleet)],
    (k, fleet): (usize, &Fleet),
    frame: Frame,
) -> Result<(), DrawError> {
    let heads = heads(report, fleet, frame.right - frame.left);
    let over = LINE * heads.len() as f64 + 14.0;
    let (left, right, top, bottom) = (frame.left + 62.0, frame.right - 26.0, frame.top + over, frame.bottom - 46.0);
    let (x, y) = (scale(fleets, (left, right)), Axis::linear((0.0, 1.0), (bottom, top)));
    let (tick, title) = (Type::TICK, Type::LABEL);
    for (k, (line, set)) in heads.iter().enumerate() {
        let words = fit(line, *set, frame.right - frame.left - 2.0 * SIDE)?;
        sheet.text(&words, (frame.left + SIDE, frame.top + 13.0 + LINE * k as f64), *set)?;
    }
    let (all, n, horizon) = (ends(fleet), fleet.outcomes.len() as u64, followed(fleet) / HOUR);
    let cut = n as usize - all.len();
    for percent in [0, 10, 25, 50, 75, 100] {
        let height = y.at(f64::from(percent) / 100.0);
        sheet.line(&[(left, height), (right, height)], FAINT, 0.6, None)?;
        sheet.text(&format!("{percent}"), (left - 7.0, height), tick.side(1))?;
    }
    for (value, words) in apart(&x, tick, if right - left > 500.0 { 9 } else { 6 })? {
        sheet.line(&[(x.at(value), bottom), (x.at(value), bottom + 4.0)], TEXT, 0.9, None)?;
        sheet.text(&words, (x.at(value), bottom + 13.0), tick.side(0))?;
    }
    sheet.line(&[(left, top), (left, bottom), (right, bottom)], TEXT, 0.9, None)?;
    sheet.text("hours of running", (0.5 * (left + right), bottom + 31.0), title.side(0))?;
    sheet.text("worn out, % of clutches", (frame.left + 18.0, 0.5 * (top + bottom)), title.upright())?;
    let path = |places: Vec<Place>| places.into_iter().map(|p| (x.within(p.0), y.within(p.1))).collect::<Vec<_>>();
    let line = |fleet: &Fleet, times: Vec<f64>| {
        let n = fleet.outcomes.len() as f64;
        path(stairs(&times, |i| i as f64 / n, 0.0, followed(fleet) / HOUR))
    };
    for (_, other) in fleets.iter().filter(|(i, _)| *i != k) {
        sheet.line(&line(other, ends(other)), QUIET.tint(0.4), 0.9, None)?;
    }
    let bound = |of: fn(slipsoak_engine::statistics::Share) -> f64| {
        path(stairs(&all, |i| of(share_of(i as u64, n, CONFIDENCE)), 0.0, horizon))
    };
    let ink = colour(k);
    let mut band = bound(|share| share.low);
    band.extend(bound(|share| share.high).into_iter().rev());
    sheet.shape(&band, ink, 0.15)?;
    sheet.line(&line(fleet, hours(fleet, |o| o.service_running)), ink, 1.1, LIMIT_DASH)?;
    sheet.line(&line(fleet, all.clone()), ink, 2.0, None)?;
    for (name, share) in [("B10", 0.1), ("B50", 0.5)] {
        let bounds = milestone(&fleet.end_running, name);
        let height = y.at(share);
        let place = |time: f64| x.within(time / HOUR);
        let middle = bounds.estimate.or(bounds.low).or(bounds.high).map(place);
        // An unknown bound leaves the whisker open towards the end of the axis.
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
            let wide = width_of(name, tick)?;
            sheet.on_paper(name, ((place(time) - 8.0).max(left + wide + 4.0), height - 10.0), tick.side(1))?;
        }
    }
    if cut > 0 {
        let (end, height) = (x.within(horizon), y.at(all.len() as f64 / n as f64));
        sheet.line(&[(end - 4.0, height - 5.0), (end + 4.0, height), (end - 4.0, height + 5.0)], ink, 1.6, None)?;
    }
    Ok(())
}
