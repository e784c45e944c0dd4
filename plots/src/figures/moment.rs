//! Times of a run that a figure is asked for, and what was recorded at them.

use crate::sheet::draw_error::DrawError;
use crate::sheet::look::Look;
use crate::sheet::when::{Anchor, When};
use crate::words::number::number;
use crate::words::reading::longest;
use crate::words::text::listed;
use slipsoak_engine::names::{Happening, MomentOf};
use slipsoak_engine::record::{Moment, Record, Run};

/// The time of an event in a run, s; none if the run has none. The stop is that of the ride whose moments were recorded.
fn event(run: &Run, anchor: Anchor) -> Option<f64> {
    let moment = |all: &[MomentOf]| run.moments.iter().find(|m| all.contains(&m.what)).map(|m| m.time);
    let last = |all: &[Happening]| run.events.iter().rev().find(|e| all.contains(&e.what)).map(|e| e.time);
    match anchor {
        Anchor::Start => Some(0.0),
        Anchor::End => Some(run.duration),
        Anchor::Launch => run.close_up.as_ref().map(|close_up| close_up.sets_off),
        Anchor::Hottest => moment(&[MomentOf::HottestLining]),
        Anchor::Stop => moment(&[MomentOf::MotorOff, MomentOf::Standstill]),
        Anchor::LastStop => last(&[Happening::SwitchedOff, Happening::Stalls]).or_else(|| last(&[Happening::Stops])),
    }
}

/// A time of a run, s since its start; none if the run lacks the event from which it counts.
pub fn time_of(run: &Run, when: When) -> Option<f64> {
    Some(event(run, when.anchor)? + when.after)
}

/// The mean over the record's window at a time of the run; none if the run has no such time.
pub fn at(run: &Run, when: When) -> Option<Moment> {
    let time = time_of(run, when)?;
    let k = run.windows.spans().position(|(start, end)| time >= start && time <= end)?;
    Some(Moment { what: MomentOf::Asked, time, values: run.windows.mean[k].clone() })
}

/// Refuses a time that no run has.
pub fn check(record: &Record, when: When) -> Result<(), DrawError> {
    let times: Vec<f64> = record.runs.iter().filter_map(|run| time_of(run, when)).collect();
    if times.is_empty() {
        return Err(DrawError::NoEvent(when.anchor.name()));
    }
    let lasts = longest(&record.runs);
    if let Some(time) = times.iter().find(|time| (0.0..=lasts).contains(*time)).or(times.first()) {
        if *time < 0.0 {
            return Err(DrawError::Before(said(when)));
        }
        if *time > lasts || !time.is_finite() {
            return Err(DrawError::Beyond { asked: clock(*time), longest: clock(lasts) });
        }
    }
    Ok(())
}

/// The times asked for, in words.
pub fn all_said(look: &Look) -> String {
    listed(&look.at.iter().map(|when| said(*when)).collect::<Vec<_>>())
}

/// The moments that a run has, each with its time, and its end.
pub fn known(run: &Run) -> String {
    let anchors = Anchor::ALL.into_iter().filter_map(|anchor| {
        let time = event(run, anchor)?;
        (time <= run.duration).then(|| format!("{} ({})", anchor.name(), clock(time)))
    });
    anchors.collect::<Vec<_>>().join(", ")
}

/// The span of time asked for in a run, s: none if none is asked for, or if the run lacks it.
pub fn span(run: &Run, look: &Look) -> Option<(f64, f64)> {
    if look.from.is_none() && look.to.is_none() {
        return None;
    }
    let from = look.from.map_or(Some(0.0), |when| time_of(run, when))?.max(0.0);
    let to = look.to.map_or(Some(run.duration), |when| time_of(run, when))?.min(run.duration);
    (to > from).then_some((from, to))
}

/// The start of the span asked for, as it was asked for; empty for the start of the run.
pub fn since(look: &Look) -> String {
    look.from.map_or_else(String::new, said)
}

/// Refuses a span of time that no run has.
pub fn check_span(record: &Record, look: &Look) -> Result<(), DrawError> {
    for when in look.from.into_iter().chain(look.to) {
        if !record.runs.iter().any(|run| time_of(run, when).is_some()) {
            return Err(DrawError::NoEvent(when.anchor.name()));
        }
    }
    if (look.from.is_some() || look.to.is_some()) && record.runs.iter().all(|run| span(run, look).is_none()) {
        let words = |when: Option<When>, else_: &str| when.map_or_else(|| else_.to_owned(), said);
        return Err(DrawError::NoSpan { from: words(look.from, "start"), to: words(look.to, "end") });
    }
    Ok(())
}

/// A time as it is asked for: `stop + 10 min`, or a time since the start in clock format.
pub fn said(when: When) -> String {
    let sign = if when.after < 0.0 { "−" } else { "+" };
    match when.anchor {
        Anchor::Start if when.after >= 0.0 => clock(when.after),
        anchor if when.after == 0.0 => anchor.name().to_owned(),
        anchor => format!("{} {sign} {}", anchor.name(), short(when.after.abs())),
    }
}

/// A duration without units that are zero: `10 min`, `1 min 30 s`, `2 h`.
fn short(seconds: f64) -> String {
    let whole = seconds.round();
    let parts = [(whole / 3600.0, "h"), (whole / 60.0 % 60.0, "min"), (whole % 60.0, "s")];
    let parts: Vec<String> = parts
        .into_iter()
        .map(|(value, unit)| (value.floor(), unit))
        .filter(|part| part.0 > 0.0)
        .map(|(value, unit)| format!("{} {unit}", number(value, 1.0)))
        .collect();
    if parts.is_empty() { format!("{} s", number(seconds, 0.1)) } else { parts.join(" ") }
}

/// A day, s, and the number of days from which a time is given in days.
const DAY: f64 = 86400.0;
const DAYS: f64 = 2.0;

/// A time since the start in clock format.
pub fn clock(seconds: f64) -> String {
    if !seconds.is_finite() {
        return String::new();
    }
    let minutes = (seconds / 60.0).floor();
    if seconds >= DAYS * DAY {
        let days = (seconds / DAY).floor();
        format!("{} d {:.0} h", number(days, 1.0), ((seconds - days * DAY) / 3600.0).floor())
    } else if seconds < 7200.0 {
        format!("{} min {:.0} s", number(minutes, 1.0), (seconds - 60.0 * minutes).floor())
    } else {
        format!("{} h {:.0} min", number((minutes / 60.0).floor(), 1.0), minutes % 60.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_is_said_as_it_is_asked_for() {
        let of = |anchor, after| said(When { anchor, after });
        assert_eq!(of(Anchor::Start, 90.0), "1 min 30 s");
        assert_eq!(of(Anchor::Stop, 0.0), "stop");
        assert_eq!(of(Anchor::Stop, 600.0), "stop + 10 min");
        assert_eq!(of(Anchor::LastStop, -90.0), "last stop − 1 min 30 s");
        assert_eq!(of(Anchor::End, -7200.0), "end − 2 h");
    }
}
