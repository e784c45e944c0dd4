//! The moments of a ride that a film strip shows: idle, launch, locked, and the rest after the stop.

use crate::figures::cutaway;
use crate::figures::painted::Painted;
use crate::figures::reading::booked;
use crate::sheet::look::Look;
use crate::words::ride::{self, SLIPS};
use slipsoak_engine::names::{Channel, Entry, Happening, MomentOf};
use slipsoak_engine::record::{CloseUp, Moment, Run, Warned};
use std::borrow::Cow;

/// Largest number of moments.
const MOST: usize = 5;
/// The moment of a launch with the greatest heat of slip.
const LAUNCH: &str = "launch";
const APART: &str = "launch, another ride";

/// A moment of the strip.
pub struct Shot<'a> {
    pub painted: Painted<'a>,
    /// values at the stop before it, if it is after one
    pub stop: Option<Vec<f64>>,
    /// whether it is a launch of another ride than the others
    pub apart: bool,
}

/// The moments of a run in order of time, or those asked for.
pub fn shots<'a>(run: &'a Run, look: &Look) -> Vec<Shot<'a>> {
    let recorded = |what: &[MomentOf]| run.moments.iter().find(|moment| what.contains(&moment.what));
    let stop = recorded(&[MomentOf::MotorOff, MomentOf::Standstill]);
    let shot = |painted: Painted<'a>| {
        let after = stop.filter(|stop| painted.moment.time > stop.time);
        Shot { stop: after.map(|stop| stop.values.clone()), apart: painted.words == APART, painted }
    };
    if !look.at.is_empty() {
        let mut asked: Vec<Shot<'_>> = Painted::asked(run, look).into_iter().take(MOST).map(shot).collect();
        asked.sort_by(|a, b| a.painted.moment.time.total_cmp(&b.painted.moment.time));
        return asked;
    }
    let hottest = || recorded(&[MomentOf::HottestLining]).map(|m| (Cow::Borrowed(m), cutaway::words(m.what)));
    // A launch of another ride is one picture, and says so; the ride itself then begins where its lining is hottest.
    let launch: Vec<(Cow<'a, Moment>, &str)> = match &run.close_up {
        Some(close_up) if of_the_ride(run, close_up, stop) => of_launch(run, close_up),
        Some(close_up) => {
            let launch = of_launch(run, close_up).into_iter().find(|(_, words)| *words == LAUNCH);
            launch.map(|(moment, _)| (moment, APART)).into_iter().chain(hottest()).collect()
        }
        None => hottest().into_iter().collect(),
    };
    let standing = recorded(&[MomentOf::MotorOff]).is_none();
    let room = MOST.saturating_sub(launch.len());
    let rested = [MomentOf::After2Min, MomentOf::After30Min].iter().filter(|m| recorded(&[**m]).is_some()).count();
    let rest = run.moments.iter().filter(|m| match m.what {
        MomentOf::Standstill => true,
        // The stop itself is left out first.
        MomentOf::MotorOff => rested < room,
        MomentOf::After2Min | MomentOf::After30Min => !standing,
        _ => false,
    });
    let all = launch.into_iter().chain(rest.map(|m| (Cow::Borrowed(m), cutaway::words(m.what))));
    let painted = all.filter_map(|(moment, words)| Painted::of(run, moment, words.to_owned()));
    let mut shots: Vec<Shot<'_>> = painted.take(MOST).map(shot).collect();
    shots.sort_by(|a, b| a.painted.moment.time.total_cmp(&b.painted.moment.time));
    shots
}

/// What a moment of a ride shows, in words.
pub fn happens(run: &Run, shots: &[Shot<'_>], k: usize) -> String {
    let fill = run.windows.mean.last().map_or(f64::NAN, |row| Channel::OilFill.of(row));
    let full = booked(&run.ledgers.oil, Entry::InPores) / fill;
    let stop = shots.iter().find_map(|shot| shot.stop.as_deref());
    let drags = run.warned(Warned::Drag).is_some();
    ride::moment(&shots[k].painted.moment.values, drags, stop, later(run, shots, k), full)
}

/// Mean heat of slip from a moment to the next of its ride, or to a stop before that, W, where it slips for half of that time or more;
/// none if it does not, or if the record's windows are too long to tell.
fn later(run: &Run, shots: &[Shot<'_>], k: usize) -> Option<f64> {
    let (from, to) = (shots[k].painted.moment.time, shots.get(k + 1).filter(|_| !shots[k].apart)?.painted.moment.time);
    let stops = run.events.iter().find(|event| event.what == Happening::Stops && event.time > from);
    let to = stops.map_or(to, |event| event.time.min(to));
    let within = run.windows.spans().zip(&run.windows.mean).filter(|((start, end), _)| *start >= from && *end <= to);
    let within: Vec<(f64, f64)> = within.map(|((start, end), row)| (end - start, Channel::SlipPower.of(row))).collect();
    let time = |slips: f64| within.iter().filter(|(_, heat)| *heat > slips).map(|(time, _)| time).sum::<f64>();
    let all = time(f64::NEG_INFINITY);
    (all > 0.0 && time(SLIPS) >= 0.5 * all).then(|| within.iter().map(|(time, heat)| time * heat).sum::<f64>() / all)
}

/// Whether the recorded launch belongs to the ride that ends with the recorded stop.
fn of_the_ride(run: &Run, close_up: &CloseUp, stop: Option<&Moment>) -> bool {
    let off = [Happening::SwitchedOff, Happening::Stalls];
    let between = |time: f64, stop: f64| {
        run.events.iter().any(|event| off.contains(&event.what) && event.time > time && event.time < stop - 1e-6)
    };
    stop.is_none_or(|stop| close_up.sets_off < stop.time && !between(close_up.sets_off, stop.time))
}

/// Idle, greatest heat, and lock of a launch.
fn of_launch<'a>(run: &Run, close_up: &CloseUp) -> Vec<(Cow<'a, Moment>, &'static str)> {
    let rows = || close_up.time.iter().copied().zip(&close_up.rows);
    let moment =
        |(time, row): (f64, &Vec<f64>)| Cow::Owned(Moment { what: MomentOf::Asked, time, values: row.clone() });
    let slip = |row: &Vec<f64>| Channel::SlipPower.of(row);
    let idle = rows().next().filter(|(time, _)| *time < close_up.sets_off);
    let hottest = rows().max_by(|a, b| slip(a.1).total_cmp(&slip(b.1)));
    let locks = run.events.iter().find(|e| e.what == Happening::Locks && e.time >= close_up.sets_off);
    let locked = locks.and_then(|event| rows().find(|(time, _)| *time > event.time));
    // What a slope sets off is no launch.
    let slips = hottest.is_some_and(|(_, row)| slip(row) > SLIPS);
    let all = [(idle, "idle"), (hottest, if slips { LAUNCH } else { "sets off" }), (locked, "locked")];
    all.into_iter().filter_map(|(row, words)| Some((moment(row?), words))).collect()
}
