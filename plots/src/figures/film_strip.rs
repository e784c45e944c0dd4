//! The moments of a ride that a film strip shows: idle, launch, locked, and the rest after the stop.

use crate::figures::cutaway;
use crate::figures::painted::Painted;
use crate::sheet::look::Look;
use slipsoak_engine::names::{Channel, Happening, MomentOf};
use slipsoak_engine::record::{CloseUp, Moment, Run};
use std::borrow::Cow;

/// Largest number of moments.
const MOST: usize = 5;

/// A moment of the strip.
pub struct Shot<'a> {
    pub painted: Painted<'a>,
    /// values at the stop before it, if it is after one
    pub stop: Option<Vec<f64>>,
}

/// The moments of a run in order of time, or those asked for.
pub fn shots<'a>(run: &'a Run, look: &Look) -> Vec<Shot<'a>> {
    let recorded = |what: &[MomentOf]| run.moments.iter().find(|moment| what.contains(&moment.what));
    let stop = recorded(&[MomentOf::MotorOff, MomentOf::Standstill]);
    let shot = |painted: Painted<'a>| {
        let after = stop.filter(|stop| painted.moment.time > stop.time);
        Shot { stop: after.map(|stop| stop.values.clone()), painted }
    };
    if !look.at.is_empty() {
        let mut asked: Vec<Shot<'_>> = Painted::asked(run, look).into_iter().take(MOST).map(shot).collect();
        asked.sort_by(|a, b| a.painted.moment.time.total_cmp(&b.painted.moment.time));
        return asked;
    }
    let launch: Vec<(Cow<'a, Moment>, &str)> = match run.close_up.as_ref().filter(|c| of_the_ride(run, c, stop)) {
        Some(close_up) => of_launch(run, close_up),
        None => recorded(&[MomentOf::HottestLining])
            .map(|m| (Cow::Borrowed(m), cutaway::words(m.what)))
            .into_iter()
            .collect(),
    };
    let standing = recorded(&[MomentOf::MotorOff]).is_none();
    let rest = run.moments.iter().filter(|m| match m.what {
        MomentOf::Standstill => true,
        MomentOf::MotorOff => recorded(&[MomentOf::After30Min]).is_none(),
        MomentOf::After2Min | MomentOf::After30Min => !standing,
        _ => false,
    });
    let all = launch.into_iter().chain(rest.map(|m| (Cow::Borrowed(m), cutaway::words(m.what))));
    all.filter_map(|(moment, words)| Painted::of(run, moment, words.to_owned())).take(MOST).map(shot).collect()
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
    let all = [(idle, "idle"), (hottest, "launch"), (locked, "locked")];
    all.into_iter().filter_map(|(row, words)| Some((moment(row?), words))).collect()
}
