//! Temperatures over the duty, one panel a run.

use crate::figures::chosen::shown;
use crate::figures::reading::{curve, in_fahrenheit, rows_that_fit};
use crate::figures::rests::Times;
use crate::figures::{close_up, events, moment};
use crate::sheet::prelude::*;
use crate::words::part_findings;
use crate::words::reading::{celsius, longest, name};
use slipsoak_engine::names::{Channel, Happening};
use slipsoak_engine::parts::{Parameter, settings};
use slipsoak_engine::record::{Record, Run};

/// Channels shown and their names, hottest first.
const SHOWN: [(Channel, &str); 5] = [
    (Channel::LiningSurface, "lining"),
    (Channel::Band, "drum"),
    (Channel::Bushing, "bushing"),
    (Channel::Washer, "washer"),
    (Channel::Block, "motor block"),
];

/// Settings of temperature limits, and their names.
static LIMITS: [(&Parameter, &str); 3] = [
    (&settings::limits::lining_most, "lining limit"),
    (&settings::limits::lining_steady, "lining continuous limit"),
    (&settings::limits::bushing_warning, "bushing limit"),
];

/// Limits of a run, °C.
fn limits(run: &Run) -> Vec<Limit> {
    LIMITS.iter().filter_map(|(p, words)| limit(run, p, words)).collect()
}

/// A limit of a run by its setting, °C, with what it is called.
pub(super) fn limit(run: &Run, p: &Parameter, words: &str) -> Option<Limit> {
    let at = celsius(run.setting(p)?);
    Some(Limit { label: format!("{words} {}", scales::either(&format!("{at:.0}"), &in_fahrenheit(at))), at })
}

/// Height of a panel, px.
const PANEL: f64 = 262.0;
/// Room below a narrow panel for its labels, px.
const LABELS: f64 = 72.0;
/// Least room for labels, px.
const LIMIT_ROOM: f64 = 150.0;
/// Share of the longest run below which a run is short.
const SHORT: f64 = 0.1;
/// Number of launches in a panel above which their strokes merge.
const CROWD: u64 = 20;

/// Rows with the extremes of a run, or of its windows within the span asked for.
fn extremes<'a>(run: &'a Run, look: &Look) -> Vec<&'a Vec<f64>> {
    let Some((from, to)) = moment::span(run, look) else { return vec![&run.overall.least, &run.overall.most] };
    let within = run.windows.spans().map(|(start, end)| start < to && end > from);
    let rows = run.windows.least.iter().zip(&run.windows.most).zip(within);
    rows.filter(|(_, within)| *within).flat_map(|((least, most), _)| [least, most]).collect()
}

/// Range of an axis with round limits that contains every curve and limit.
fn range(runs: &[&Run], look: &Look) -> (f64, f64) {
    let rows = runs.iter().flat_map(|run| extremes(run, look));
    let (coolest, hottest) = extent(rows.flat_map(|row| SHOWN.map(|(channel, _)| celsius(channel.of(row)))));
    let (coolest, hottest) = (coolest.min(20.0), hottest.max(60.0));
    // A distant limit would flatten the curves.
    let spanned = look.from.is_some() || look.to.is_some();
    let most = if spanned { 1.2 * hottest } else { 2.0 * hottest + 60.0 };
    let near = runs.iter().flat_map(|run| limits(run)).map(|limit| limit.at).filter(|at| *at <= most);
    let top = near.fold(hottest, f64::max);
    rounded((coolest, top + 0.025 * (top - coolest)), 8.0)
}

/// Whether the windows are so long that their means average over whole launches; then the maxima are drawn.
pub(super) fn hides_rides(run: &Run) -> bool {
    run.windows.length > 60.0
}

/// Curves of a run over time.
fn curves(run: &Run, times: &Times) -> Vec<Curve> {
    let w = &run.windows;
    let one = |(order, (channel, label)): (usize, &(Channel, &str))| {
        let over = |rows: &[Vec<f64>]| {
            let seen = |(t, v): Place| (times.at(t), if times.folded(t) { f64::NAN } else { v });
            curve(run, rows, *channel as usize, 1.0, celsius).into_iter().map(seen).collect::<Vec<_>>()
        };
        let (least, most) = (over(&w.least), over(&w.most));
        let axis = times.range();
        let within = |p: &Place| p.0 >= axis.0 && p.0 <= axis.1;
        let band = least.iter().zip(most).filter(|(a, _)| within(a)).map(|(a, b)| (a.0, a.1, b.1));
        Curve {
            said: (*label).to_owned(),
            band: if order == 0 && !hides_rides(run) { band.collect() } else { vec![] },
            ..Curve::of(*label, order, over(if hides_rides(run) { &w.most } else { &w.mean }))
        }
    };
    SHOWN.iter().enumerate().map(one).collect()
}

/// Room for labels beside a panel of this width, px: for the widest of the curves and limits.
fn room(curves: &[Curve], limits: &[Limit], width: f64) -> f64 {
    let labels = curves.iter().map(|curve| &curve.label).chain(limits.iter().map(|limit| &limit.label));
    let widths = labels.filter_map(|label| width_of(label, Type::LABEL).ok());
    widths.fold(LIMIT_ROOM, |room, wide| room.max(wide + 18.0)).min(0.45 * width)
}

/// Temperatures of a run's windows, K, and its number of oilings, each counted as 10 K.
fn prints(run: &Run) -> Vec<f64> {
    let w = &run.windows;
    let of = |row: &Vec<f64>| SHOWN.map(|(channel, _)| channel.of(row));
    let oiled = run.events.iter().filter(|event| matches!(event.what, Happening::Oiled | Happening::Greased)).count();
    w.mean.iter().chain(&w.most).flat_map(of).chain([run.duration, 10.0 * oiled as f64]).collect()
}

pub fn draw(record: &Record, look: &Look) -> Result<Drawing, DrawError> {
    moment::check_span(record, look)?;
    let high = if look.narrow() { PANEL + LABELS } else { PANEL };
    let fit = rows_that_fit(HEAD + FOOT, high);
    let two = look.columns(record.runs.len() > 4);
    let chosen = shown(record, look, two * fit, prints, 1.0);
    // An odd number of panels would leave a hole in two columns.
    let across = if chosen.len() % 2 == 1 && chosen.len() <= fit { 1 } else { two };
    let runs: Vec<&Run> = chosen.runs().map(|(_, run)| run).collect();
    let rows = chosen.rows(across);
    let launch_high = close_up::height(look.narrow());
    // With many panels a launch would make the sheet too tall; it has a figure of its own.
    let launch = close_up::hottest(record).filter(|_| rows <= rows_that_fit(HEAD + FOOT + launch_high, high));
    let below = if launch.is_some() { launch_high } else { 0.0 };
    let height = look.height().max(rows as f64 * high + below + HEAD + FOOT);
    let y = range(&runs, look);
    let lines = if runs.iter().any(|run| hides_rides(run)) {
        "Lines: greatest of each window"
    } else {
        "Lines: means of each window; shade: least and greatest of the lining's surface"
    };
    let listed = if runs.iter().any(|run| run.horizon.is_none() && events::cut(run)) {
        " The launches are too many to be listed: no strip shows them, and others may end early."
    } else {
        ""
    };
    let note = format!("{lines}. Dotted lines: limits.{listed}");
    let describe = "A panel for each run that is shown; across: time, long rests folded where they take up most of it; upward: temperature of the lining's surface, drum, bushing, washer and motor block.";
    chosen.sheet(look, height, [&scales::marked(&part_findings::hottest(record)), &note, describe], |sheet| {
        let body = Frame { bottom: sheet.height - FOOT - below, ..sheet.body() };
        chosen.panels(sheet, body, across, |k, run, frame| {
            // A run far shorter than the longest has its own unit of time.
            let most = longest(runs.iter().copied());
            let times = match moment::span(run, look) {
                Some(span) => Times::span(span, moment::since(look)),
                None => Times::of(run, if run.duration < SHORT * most { run.duration } else { most }),
            };
            let curves = curves(run, &times);
            let panel = Panel {
                heading: chosen.name(k),
                across: times.title(),
                up: scales::titled("temperature"),
                x: times.range().into(),
                y,
                room: room(&curves, &limits(run), frame.wide()),
                curves,
                first_over: run.launches > CROWD,
                limits: limits(run),
                strips: events::strips(run, &times).into_iter().filter(|strip| strip.within(times.range())).collect(),
                folds: times.folds(),
                ticks: times.ticks(),
                stacked: look.narrow(),
                upward: Upward::Celsius,
                at: Some(Box::new(move |x| moment::clock(times.time(x)))),
                ..Panel::default()
            };
            panel.draw(sheet, frame)
        })?;
        let foot = Frame { top: body.bottom, bottom: body.bottom + below, ..body };
        launch.map_or(Ok(()), |(k, run)| {
            sheet.of(Some(k), || close_up::launch(sheet, record, (run, &name(record, run)), foot))
        })
    })
}
