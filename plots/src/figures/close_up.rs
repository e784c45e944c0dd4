//! One launch: temperatures of the rubbing faces, speeds of motor and drum, and slip power.

use crate::sheet::prelude::*;
use crate::words::reading::celsius;
use slipsoak_engine::names::{Channel, Happening};
use slipsoak_engine::record::{CloseUp, Record, Run};
use slipsoak_engine::units::in_rpm;

/// Height of one launch, px.
const HEIGHT: f64 = 290.0;
/// Heights of its three charts if stacked, px.
const STACKED: [f64; 3] = [290.0, 216.0, 200.0];
/// Time shown before setting off, after locking, and after setting off if the clutch does not lock, s.
pub(super) const BEFORE: f64 = 2.0;
pub(super) const AFTER: f64 = 4.0;
pub(super) const LONGEST: f64 = 20.0;

/// Height of one launch, px.
pub fn height(narrow: bool) -> f64 {
    if narrow { STACKED.iter().sum() } else { HEIGHT }
}

/// The run with the highest lining temperature in its launch.
pub fn hottest(record: &Record) -> Option<(usize, &Run)> {
    let peak = |run: &Run| {
        let rows = run.close_up.iter().flat_map(|close_up| &close_up.rows);
        rows.map(|row| Channel::LiningSurface.of(row)).fold(f64::NEG_INFINITY, f64::max)
    };
    let launches = record.runs.iter().enumerate().filter(|(_, run)| usable(record, run));
    launches.max_by(|a, b| peak(a.1).total_cmp(&peak(b.1)))
}

/// Whether a run has a launch that can be drawn.
pub(super) fn usable(record: &Record, run: &Run) -> bool {
    run.close_up.as_ref().is_some_and(|c| {
        c.time.len() > 1 && c.rows.len() == c.time.len() && c.rows.iter().all(|r| r.len() >= record.channels.len())
    })
}

/// Draws a run's launch into a frame.
pub fn launch(sheet: &Sheet<'_>, record: &Record, (run, called): (&Run, &str), frame: Frame) -> Result<(), DrawError> {
    let Some(close_up) = run.close_up.as_ref().filter(|_| usable(record, run)) else {
        let words = format!("{called}: the vehicle never set off, or the record does not hold the launch.");
        let set = Type::LABEL.ink(QUIET);
        return sheet.fitted(&words, (frame.left + SIDE, frame.middle().1), set, frame.wide() - 2.0 * SIDE);
    };
    if sheet.narrow() {
        let mut top = frame.top;
        for (panel, high) in
            [temperatures(called, run, close_up), speeds(run, close_up), power(run, close_up)].into_iter().zip(STACKED)
        {
            Panel { stacked: true, ..panel }.draw(sheet, Frame { top, bottom: top + high, ..frame })?;
            top += high;
        }
        return Ok(());
    }
    let middle = frame.left + 0.54 * (frame.right - frame.left);
    let temperatures = temperatures(called, run, close_up);
    temperatures.draw(sheet, Frame { right: middle, ..frame })?;
    let halves = Frame { left: middle, ..frame }.split(2, 1);
    let at = 0.5 * (frame.top + frame.bottom) + 8.0;
    speeds(run, close_up).draw(sheet, Frame { bottom: at, ..halves[0] })?;
    power(run, close_up).draw(sheet, Frame { top: at - 14.0, ..halves[1] })
}

/// A channel over seconds after setting off.
pub(super) fn points(close_up: &CloseUp, channel: Channel, unit: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
    close_up.time.iter().zip(&close_up.rows).map(|(t, row)| (t - close_up.sets_off, unit(channel.of(row)))).collect()
}

/// Time shown, s after setting off: from just before it to just after the clutch locks.
fn span(run: &Run, close_up: &CloseUp) -> (f64, f64) {
    let first = close_up.time.first().map_or(0.0, |t| t - close_up.sets_off);
    let last = close_up.time.last().map_or(1.0, |t| t - close_up.sets_off);
    let end = locks(run, close_up).map_or(LONGEST, |at| at + AFTER);
    (first.max(-BEFORE), last.min(end))
}

/// Time at which the clutch locks, s after setting off.
pub(super) fn locks(run: &Run, close_up: &CloseUp) -> Option<f64> {
    let after = run.events.iter().map(|e| (e.what, e.time - close_up.sets_off));
    after.filter(|(what, at)| *what == Happening::Locks && (0.0..LONGEST).contains(at)).map(|(_, at)| at).next()
}

/// A range with round limits that contains every point shown.
fn range(curves: &[Curve], from: f64, (start, end): (f64, f64)) -> (f64, f64) {
    let shown = curves.iter().flat_map(|c| &c.points).filter(|p| p.0 >= start && p.0 <= end && p.1.is_finite());
    let (low, high) = extent(shown.map(|p| p.1).chain([from, from + 1e-6]));
    rounded_at_zero((low, high + 0.03 * (high - low)), 5.0)
}

fn panel(run: &Run, close_up: &CloseUp, curves: Vec<Curve>, from: f64) -> Panel {
    Panel {
        across: "seconds after setting off".to_owned(),
        x: span(run, close_up).into(),
        y: range(&curves, from, span(run, close_up)),
        curves,
        room: 118.0,
        at: Some(Box::new(|seconds| format!("{seconds:.1} s"))),
        ..Panel::default()
    }
}

fn temperatures(called: &str, run: &Run, close_up: &CloseUp) -> Panel {
    let all = [
        (Channel::LiningSurface, "lining surface", hues::LINING, 0),
        (Channel::DrumFace, "drum face", hues::DRUM, 1),
        (Channel::Band, "drum rim", hues::DRUM, 2),
        (Channel::Shoes, "shoes", hues::SHOES, 5),
    ];
    let one = |(channel, words, order, dashes): (Channel, &str, usize, usize)| Curve {
        dash: dash(dashes),
        ..Curve::of(words, order, points(close_up, channel, celsius))
    };
    let curves: Vec<Curve> = all.into_iter().map(one).collect();
    let coolest = curves.iter().flat_map(|c| &c.points).map(|p| p.1).filter(|t| t.is_finite()).fold(1e4, f64::min);
    Panel {
        heading: format!("The hottest launch: {called}"),
        up: scales::titled("temperature"),
        upward: Upward::Celsius,
        ..panel(run, close_up, curves, coolest)
    }
}

fn speeds(run: &Run, close_up: &CloseUp) -> Panel {
    let curves = vec![
        Curve::of("motor", hues::MOTOR, points(close_up, Channel::MotorSpeed, in_rpm)),
        Curve::of("drum", hues::DRUM, points(close_up, Channel::DrumSpeed, in_rpm)),
    ];
    let marks = locks(run, close_up).map(|at| (at, "locks")).into_iter().collect();
    Panel { across: String::new(), up: "speed, rpm".to_owned(), marks, ..panel(run, close_up, curves, 0.0) }
}

fn power(run: &Run, close_up: &CloseUp) -> Panel {
    let curves = vec![Curve::of("slip power", hues::LINING, points(close_up, Channel::SlipPower, |w| w / 1e3))];
    Panel { up: "heat, kW".to_owned(), ..panel(run, close_up, curves, 0.0) }
}
