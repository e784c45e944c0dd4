//! Findings of a recorded ride.

use crate::words::number::three;
use crate::words::say;
use crate::words::say::tenths_of_percent;
use crate::words::text::{Words, the};
use crate::words::warnings::said;
use slipsoak_engine::retraced::Retraced;

/// An energy in kJ.
pub(crate) fn kj(energy: f64) -> String {
    format!("{}\u{a0}kJ", three(energy / 1e3))
}

/// Sentences on the slip energy of a recorded ride, the lining temperature, and launches that did not lock up.
pub fn answer(r: &Retraced) -> Vec<Words> {
    let (all, whole) = r.heat;
    let energies = || r.launches.iter().map(|l| l.energy);
    let (least, most) = (energies().fold(f64::INFINITY, f64::min), energies().fold(0.0, f64::max));
    let distance = format!("{}\u{a0}km", three(r.distance / 1e3));
    let first = match r.launches.len() {
        0 => Words::from(format!("No launch from standstill in {distance}; the clutch slipped for "))
            .strong(kj(whole))
            .plain(" of heat."),
        1 => Words::from(format!("One launch from standstill in {distance} cost "))
            .strong(kj(all))
            .plain(share(all, whole)),
        n => Words::default()
            .strong(format!("{n} launches"))
            .plain(format!(" from standstill in {distance} cost "))
            .strong(format!("{} to {}", kj(least), kj(most)))
            .plain(format!(" of slip energy each, {} together", kj(all)))
            .plain(share(all, whole)),
    };
    let mut hot = Words::from("The hottest lining reaches ").temperature(r.lining);
    hot = if r.lining > r.lining_most { hot.strong(", above") } else { hot.plain(", below") };
    let mut said: Vec<Words> = bridged(r).into_iter().chain(stood(r)).chain(under_way(r)).collect();
    said.push(first);
    said.extend(rolled(r));
    said.extend([hot.plain(" its limit of ").temperature(r.lining_most).plain(".")]);
    said.extend(unlocked(r));
    said.extend(level(r));
    said
}

/// That it set off by rolling, which is no launch.
fn rolled(r: &Retraced) -> Option<Words> {
    let times = if r.rolled == 1 { "once".to_owned() } else { format!("{} times", r.rolled) };
    (r.rolled > 0).then(|| {
        format!("It set off {times} by rolling down the slope: the clutch did not touch, so that this is no launch.")
            .into()
    })
}

/// Range of altitudes from which a ride is no level one, m: more than a receiver wanders. Assumed.
const HILLY: f64 = 15.0;

/// That slopes are not in the ride, though its altitudes tell of them and none was asked for.
fn level(r: &Retraced) -> Option<Words> {
    let climbs = r.recording.climbs;
    (climbs > HILLY && r.grade == 0.0).then(|| {
        Words::from(format!(
            "This is the ride on level ground: the altitudes in {}, which range over {climbs:.0} m, are not used. ",
            r.file
        ))
        .strong("Launches uphill take much more heat")
        .plain(": ask again with `--set surroundings.grade=` and the steepest slope on which it sets off.")
    })
}

/// Share of a recording in gaps from which the answer begins with them. Assumed.
const MUCH: f64 = 0.05;

/// That much of the ride was not recorded, and what that does to the answer.
fn bridged(r: &Retraced) -> Option<Words> {
    let time = r.recording.gap_time - r.recording.stood_time;
    let share = time / r.recording.duration;
    (share > MUCH).then(|| {
        Words::default().strong(format!("{} of this ride was not recorded", say::percent(share))).plain(format!(
            ", {} in gaps longer than 10 s: launches in them are missing, and what is ridden there is a guess, heat included. Leave these stretches out, or record the ride again.",
            say::time(time)
        ))
    })
}

/// That it stood in much of the recording, as far as positions tell.
fn stood(r: &Retraced) -> Option<Words> {
    let time = r.recording.stood_time;
    (time > MUCH * r.recording.duration).then(|| {
        Words::from(format!(
            "In {} without a recorded position the machine stood, by the positions on both sides: its motor is taken to idle. If it was off, the clutch was cooler afterwards; a ride out and back would not be seen.",
            say::time(time)
        ))
    })
}

/// That it begins in motion, so that a launch is missing.
fn under_way(r: &Retraced) -> Option<Words> {
    let begins = r.recording.begins;
    (begins > 0.0).then(|| {
        Words::from(format!(
            "The recording begins at {}: the launch before it is not counted, and how hot the clutch was then is unknown. It is taken to be cold, so that temperatures of the first minutes are too low.",
            say::road_speed(begins)
        ))
    })
}

/// The finding of its figure: how many launches, and what each cost.
pub(crate) fn found(r: &Retraced) -> String {
    let energies = || r.launches.iter().map(|l| l.energy);
    let (least, most) = (energies().fold(f64::INFINITY, f64::min), energies().fold(0.0, f64::max));
    let launches = match r.launches.len() {
        0 => "no launch from standstill".to_owned(),
        1 => format!("one launch of {} of slip energy", kj(most)),
        n => format!("{n} launches of {} to {} of slip energy each", three(least / 1e3), kj(most)),
    };
    format!("{} on {}: {launches}", r.file, the(&r.machine))
}

/// How sure the answer is.
pub const SURE: &str = "Energies follow from masses, gearing and how the rider follows the recording; temperatures depend on contacts that are assumed within a factor of two.";

fn share(part: f64, whole: f64) -> String {
    if whole > 0.0 {
        format!(", {} of all slip energy of the ride.", tenths_of_percent(part / whole))
    } else {
        ".".to_owned()
    }
}

/// Sentences on the launches in which the clutch did not lock up: those ridden below the lock-up speed, and the others.
pub fn unlocked(r: &Retraced) -> Vec<Words> {
    let launches = |n: usize| if n == 1 { "1 launch".to_owned() } else { format!("{n} launches") };
    let (slow, other) = r.unlocked();
    let mut all = vec![];
    if slow > 0 {
        let (n, speed) = (launches(slow), say::road_speed(r.lock_speed));
        all.push(format!("{n} never locked: the speed stayed below the lock-up speed of {speed}, where the clutch slips all the time."));
    }
    if other > 0 {
        let n = launches(other);
        all.push(format!(
            "{n} did not lock: the throttle closed or the machine stopped before the clutch had caught up."
        ));
    }
    all.into_iter().map(Words::from).collect()
}

/// Warnings of the run.
pub fn warnings(r: &Retraced) -> Vec<Words> {
    r.warnings
        .iter()
        .map(|warning| Words::from(said(warning, (r.engagement, r.idle, r.idle_kind))).sentence())
        .collect()
}
