//! Temperatures of a ride over time with numbered dots at its moments.

use crate::figures::film_strip::Shot;
use crate::figures::moment;
use crate::figures::reading::{clock, curve};
use crate::sheet::prelude::*;
use crate::words::reading::celsius;
use crate::words::say;
use slipsoak_engine::names::{Channel, Happening};
use slipsoak_engine::record::Run;

/// Time shown before the ride and after its last moment, s.
const BEFORE: f64 = 60.0;
const AFTER: f64 = 300.0;
/// Least number of windows of a curve.
const LEAST: usize = 12;
/// Length of a window that is worth mention, s.
const LONG: f64 = 60.0;
/// Radius of a numbered dot, and least distance of two, px.
const RADIUS: f64 = 8.0;
const APART: f64 = 20.0;

/// The curve with the time that its axis counts from, s, and seconds per unit.
pub struct RideCurve {
    panel: Panel,
    zero: f64,
    per: f64,
}

/// Start of the ride to which the moments belong: the last start of the motor before them, or the start of the run.
fn begins(run: &Run, first: f64) -> f64 {
    let starts = run.events.iter().filter(|e| e.what == Happening::MotorStarts && e.time <= first);
    starts.map(|event| event.time).fold(0.0, f64::max)
}

/// A span, widened by whole windows at both ends until it has enough of them or is the whole run.
fn around(run: &Run, (from, to): (f64, f64)) -> (f64, f64) {
    let spans: Vec<(f64, f64)> = run.windows.spans().collect();
    let first = spans.iter().position(|span| span.1 > from).unwrap_or(0);
    let end = spans.iter().rposition(|span| span.0 < to).map_or(spans.len(), |last| last + 1);
    let lacking = LEAST.saturating_sub(end.saturating_sub(first));
    if lacking == 0 {
        return (from, to);
    }
    let first = first.saturating_sub(lacking.div_ceil(2));
    let end = (first + LEAST).max(end).min(spans.len());
    let first = first.min(end.saturating_sub(LEAST));
    spans.get(first).zip(spans.get(end.wrapping_sub(1))).map_or((from, to), |(start, end)| (start.0, end.1))
}

/// The curve of a ride; none if the record's windows are too long to show it.
pub fn panel(run: &Run, look: &Look, shots: &[Shot<'_>]) -> Option<RideCurve> {
    let times = || shots.iter().filter(|shot| !shot.apart).map(|shot| shot.painted.moment.time);
    let (first, last) = extent(times());
    let ride = (begins(run, first) - BEFORE, last + AFTER);
    let ride = (ride.0.max(0.0), ride.1.min(run.duration));
    let (from, to) = moment::span(run, look).unwrap_or_else(|| around(run, ride));
    let shown = || run.windows.spans().filter(|(start, end)| *start < to && *end > from);
    if shown().count() < LEAST {
        return None;
    }
    let longest = shown().map(|(start, end)| end - start).fold(0.0, f64::max);
    if longest > ride.1 - ride.0 {
        return None;
    }
    let zero = if look.from.is_some() || look.to.is_some() { from } else { begins(run, first).max(from) };
    let (per, unit) = clock(to - from);
    let one = |words: &str, hue: usize, channel: Channel| {
        let points = curve(run, &run.windows.mean, channel as usize, 1.0, celsius);
        Curve::of(words, hue, points.into_iter().map(|(t, v)| ((t - zero) / per, v)).collect())
    };
    let rows = |rows: &[Vec<f64>]| curve(run, rows, Channel::LiningSurface as usize, 1.0, celsius);
    let band = rows(&run.windows.least).into_iter().zip(rows(&run.windows.most));
    let band =
        band.filter(|((t, _), _)| *t >= from && *t <= to).map(|((t, a), (_, b))| ((t - zero) / per, a, b)).collect();
    let curves = vec![
        Curve { band, ..one("lining", hues::LINING, Channel::LiningSurface) },
        one("bushing", hues::BUSHING, Channel::Bushing),
    ];
    let seen = curves.iter().flat_map(|curve| &curve.points);
    let seen = seen.filter(|p| p.0 * per + zero >= from && p.0 * per + zero <= to).map(|p| p.1);
    let dots = shots.iter().map(|shot| celsius(shot.painted.value(Channel::LiningSurface)));
    let (low, high) = extent(seen.chain(dots));
    // Room for the numbers above the curves.
    let y = rounded((low, high + 0.12 * (high - low)), 6.0);
    let since = if zero > 0.0 { format!("{unit} of the ride") } else { format!("time, {unit}") };
    let panel = Panel {
        heading: format!(
            "Temperatures of the ride: means over the record's windows{}; shade: from least to greatest of the lining",
            if longest >= LONG { format!(" of up to {}", say::time(longest)) } else { String::new() }
        ),
        across: since,
        up: scales::titled("temperature"),
        x: ((from - zero) / per, (to - zero) / per).into(),
        y,
        curves,
        stacked: look.narrow(),
        room: 110.0,
        upward: Upward::Celsius,
        at: Some(Box::new(move |time| moment::clock(per * time + zero))),
        ..Panel::default()
    };
    Some(RideCurve { panel, zero, per })
}

/// Draws the curve with a numbered dot for each moment.
pub fn draw(sheet: &Sheet<'_>, curve: &RideCurve, shots: &[Shot<'_>], frame: Frame) -> Result<(), DrawError> {
    curve.panel.draw(sheet, frame)?;
    let (x, y) = curve.panel.axes(frame);
    let at = |shot: &Shot<'_>| {
        let time = (shot.painted.moment.time - curve.zero) / curve.per;
        x.holds(time).then(|| (x.at(time), y.within(celsius(shot.painted.value(Channel::LiningSurface)))))
    };
    let places: Vec<(usize, Place)> = shots.iter().enumerate().filter_map(|(k, shot)| Some((k, at(shot)?))).collect();
    let (left, right) = x.ends();
    let mut across: Vec<f64> = places.iter().map(|(_, p)| p.0).collect();
    for k in 1..across.len() {
        across[k] = across[k].max(across[k - 1] + APART);
    }
    let mut most = right;
    for at in across.iter_mut().rev() {
        *at = at.min(most).max(left);
        most = *at - APART;
    }
    for ((k, place), x) in places.into_iter().zip(across) {
        let over = (x, y.ends().1 + RADIUS);
        sheet.line(&[place, over], TEXT, 0.7, None)?;
        sheet.dot(place, 3.0, TEXT)?;
        number(sheet, k, over)?;
    }
    Ok(())
}

/// A numbered dot.
pub fn number(sheet: &Sheet<'_>, k: usize, at: Place) -> Result<(), DrawError> {
    sheet.dot(at, RADIUS, TEXT)?;
    sheet.text(&(k + 1).to_string(), at, Type::TICK.ink(PAPER).bold(true).side(0))
}
