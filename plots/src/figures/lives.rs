//! Share of a fleet's clutches with a worn-out part over running hours: steps with bounds, one panel per fleet, the
//! other fleets faint behind it; dashed the share with oil due.

use crate::figures::fleet::panels;
use crate::sheet::prelude::*;
use crate::words::clutches::{followed, lived, milestone, name, oil_due};
use crate::words::say::time;
use slipsoak_engine::fleet::{Fleet, Outcome, Report};
use slipsoak_engine::names::Quantile;
use slipsoak_engine::statistics::share_of;
use slipsoak_engine::units::HOUR;

/// Confidence of the bounds of each share.
const CONFIDENCE: f64 = 0.9;
/// Height of a panel with two lines of text above its chart, px.
const HIGH: f64 = 268.0;

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
fn scale(fleets: &[(usize, &Fleet)]) -> Axis {
    let all = fleets.iter().flat_map(|(_, f)| [ends(f), hours(f, |o| o.service_running)]).flatten();
    let lasting = fleets.iter().filter(|(_, f)| f.outcomes.iter().any(|o| o.running.is_none()));
    Axis::fitting(all.chain(lasting.map(|(_, f)| followed(f) / HOUR)), 0.0, 8.0, (0.0, 1.0))
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
        HIGH,
        ["When a part is worn out", &note, describe],
        |fleets, shown| chart(report, fleets, shown),
        panel,
    )
}

/// The chart of a fleet: its steps with bounds, and dashed those of its oil.
fn chart(report: &Report, fleets: &[(usize, &Fleet)], (k, fleet): (usize, &Fleet)) -> Panel {
    let hue = hues::of_fleets(report)[k];
    let (all, n, horizon) = (ends(fleet), fleet.outcomes.len(), followed(fleet) / HOUR);
    let lasting = n - all.len();
    let outlast =
        if lasting > 0 { format!("{lasting} of {n} outlast {}", time(followed(fleet))) } else { String::new() };
    let bound = |of: fn(slipsoak_engine::statistics::Share) -> f64| {
        stairs(&all, |i| of(share_of(i as u64, n as u64, CONFIDENCE)), 0.0, horizon)
    };
    let band = bound(|share| share.low).into_iter().zip(bound(|share| share.high));
    let due = hours(fleet, |o| o.service_running);
    let share = |i: usize| i as f64 / n as f64;
    Panel {
        heading: name(report, fleet),
        verdict: lived(fleet),
        remarks: vec![oil_due(fleet), outlast],
        stacked: true,
        across: "hours of running".to_owned(),
        up: "worn out, % of clutches".to_owned(),
        x: scale(fleets),
        y: (0.0, 1.0),
        ticks_up: Some([0.0, 0.1, 0.25, 0.5, 0.75, 1.0].map(|share| (share, String::new())).to_vec()),
        share: true,
        curves: vec![
            Curve { dash: LIMIT_DASH, ..Curve::in_hue("", hue, stairs(&due, share, 0.0, horizon)) },
            Curve {
                band: band.map(|(low, high)| (low.0, low.1, high.1)).collect(),
                dash: None,
                bold: true,
                ..Curve::in_hue("", hue, stairs(&all, share, 0.0, horizon))
            },
        ],
        ..Panel::default()
    }
}

/// Draws a chart, with the other fleets faint behind it and whiskers of its milestones over it.
fn panel(
    sheet: &Sheet<'_>,
    fleets: &[(usize, &Fleet)],
    (k, fleet): (usize, &Fleet),
    chart: &Panel,
    frame: Frame,
) -> Result<(), DrawError> {
    let (x, y) = chart.axes(frame);
    let ink = chart.curves[0].ink;
    for (_, other) in fleets.iter().filter(|(i, _)| *i != k) {
        let n = other.outcomes.len() as f64;
        let steps = stairs(&ends(other), |i| i as f64 / n, 0.0, followed(other) / HOUR);
        let path: Vec<Place> = steps.into_iter().map(|p| (x.within(p.0), y.within(p.1))).collect();
        sheet.line(&path, QUIET.tint(0.4), 0.9, None)?;
    }
    chart.draw(sheet, frame)?;
    for quantile in [Quantile::B10, Quantile::B50] {
        let name = quantile.name();
        let bounds = milestone(&fleet.end_running, quantile);
        let height = y.at(quantile.share());
        let known = [bounds.low, bounds.estimate, bounds.high].map(|time| Some(time? / HOUR));
        whisker::draw(sheet, &x, height, known, (TEXT, ink), None)?;
        if let Some(time) = bounds.estimate {
            let least = x.ends().0 + width_of(name, Type::TICK)? + 4.0;
            let at = (x.within(time / HOUR) - 8.0).max(least);
            sheet.on_paper(name, (at, height - 10.0), Type::TICK.side(1))?;
        }
    }
    let (ended, n) = (ends(fleet).len(), fleet.outcomes.len());
    if ended < n {
        let (end, height) = (x.within(followed(fleet) / HOUR), y.at(ended as f64 / n as f64));
        sheet.line(&[(end - 4.0, height - 5.0), (end + 4.0, height), (end - 4.0, height + 5.0)], ink, 1.6, None)?;
    }
    Ok(())
}
