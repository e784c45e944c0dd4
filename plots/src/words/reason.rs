//! A reason for or against a spring, as a clause.

use crate::words::number::figures;
use crate::words::reading::ends;
use crate::words::say::{percent, road_speed, road_speeds, temperature, time, turns};
use crate::words::slope::{slope, steep};
use crate::words::text::Words;
use crate::words::warnings::said;
use slipsoak_engine::hill_start::HillStart;
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::spring_choice::{Heated, Reason};

/// The part with its article, its verb, and the name of its limit.
pub(super) const fn heated(part: Heated) -> (&'static str, &'static str, &'static str) {
    match part {
        Heated::Lining => ("its lining", "reaches", "its continuous limit of"),
        Heated::Bushing => ("the bushing", "reaches", "the temperature at which its oil degrades,"),
        Heated::Washer => ("the washer", "reaches", "its limit of"),
        Heated::DryWasher => ("the dry washer", "reaches", "the limit of one without oil,"),
        Heated::Springs => ("its springs", "reach", "the limit of their wire,"),
    }
}

/// A temperature above a limit that is said next.
fn over(peak: f64, limit: f64) -> String {
    let (peak, limit) = (temperature(peak), temperature(limit));
    if peak == limit { "just over".to_owned() } else { format!("{peak}, above") }
}

/// A reason as a clause, without capital and full stop.
pub fn reason(reason: &Reason) -> Words {
    clause(reason).into()
}

pub(super) fn clause(reason: &Reason) -> String {
    match *reason {
        Reason::NeverEngages { engagement, top } => format!(
            "it never engages: its {} are at or above the motor's governed top speed of {}",
            turns(engagement),
            turns(top)
        ),
        Reason::NoPreload { engagement, preload } => format!(
            "it cannot be fitted: across the shoes' gap its rate alone is stronger than the shoes are at {} (preload {} N)",
            turns(engagement),
            figures(preload, 2)
        ),
        Reason::Drags { settled, highest, share, power, creep, stalls, idle_kind } => {
            drags((settled, highest, share), (power, creep, stalls), idle_kind)
        }
        Reason::TooNear { margin, floor, share } => format!(
            "it engages too near to the idle: its margin over the highest idle is {}, tolerances of springs and tachometer take {}; about {} of such clutches would touch at the highest idle",
            turns(margin),
            turns(floor),
            percent(share)
        ),
        Reason::SpringsUnknown { peak, limit } => format!(
            "its springs reach {}, beyond {}, to which their relaxation is known: how near to the idle they come is unknown",
            temperature(peak),
            temperature(limit)
        ),
        Reason::NeverLocks => "it never locks up: at no speed does it take the motor's full torque".to_owned(),
        Reason::TooSteep { grade, steepest } => format!(
            "it does not lock up on the slope of {}: the steepest on which it locks up within half a minute is {}",
            steep(grade),
            steep(steepest)
        ),
        Reason::LocksLate { grade, warm } => {
            let from = if warm { ", warm from the use" } else { "" };
            format!("it does not lock up within a minute of full throttle on {}{from}", slope(grade))
        }
        Reason::StartBurns { start, bears } => format!(
            "in a start on {}, warm from the use, the clutch burns: it slips with {} kW for 10 s or longer; {}",
            slope(start.grade),
            figures(1e-3 * start.burns.unwrap_or(0.0), 2),
            borne(bears)
        ),
        Reason::StartTooHot { start, limit, bears } => {
            format!("{}; its limit is {}; {}", started(&start), temperature(limit), borne(bears))
        }
        Reason::StartHot { start, limit } => {
            format!("{}, above its continuous limit of {}", started(&start), temperature(limit))
        }
        Reason::Starts(start) => started(&start),
        Reason::EachStart { grade, lining, limit, lasts } => {
            let over = if lining > limit {
                format!("; its limit is {}: let it cool down between such starts", temperature(limit))
            } else {
                String::new()
            };
            let lasts = lasts.map_or_else(
                || "and no life can be given".to_owned(),
                |(part, after)| format!("and {} first, after about {} of running", ends(part), time(after)),
            );
            format!(
                "with every start of the use on {} the lining reaches {}, {lasts}{over}",
                slope(grade),
                temperature(lining)
            )
        }
        Reason::TooHot { part, peak, limit } => {
            let (part, reaches, _) = heated(part);
            format!("{part} {reaches} {} in stop-and-go; its limit is {}", temperature(peak), temperature(limit))
        }
        Reason::CrawlTooHot { speed, part, peak, limit } => {
            let (part, reaches, _) = heated(part);
            let (peak, limit) = (temperature(peak), temperature(limit));
            format!("held at {} {part} {reaches} {peak} within ten minutes; its limit is {limit}", road_speed(speed))
        }
        Reason::NoLife { peak, limit } => format!(
            "a part reaches {}, beyond the model, which ends at {}: no life is given",
            temperature(peak),
            temperature(limit)
        ),
        Reason::Beyond { peak } => format!(
            "at {} the lining would char or come off its shoes and real torque may collapse: figures from there on are guesses",
            temperature(peak)
        ),
        Reason::OilGone { fill, after } => format!(
            "the bushing's oil is nearly gone after {} of stop-and-go (fill {}): a dry bushing may seize and drive the machine at idle",
            time(after),
            percent(fill)
        ),
        Reason::InUse(ref warning) => in_use(warning),
        Reason::WearsOut { part, after } => format!("{} after {} of running", ends(part), time(after)),
        Reason::Hot { part, peak, limit } => {
            let (part, reaches, above) = heated(part);
            format!("{part} {reaches} {} {above} {}", over(peak, limit), temperature(limit))
        }
        Reason::CrawlHot { speed, part, peak, limit } => {
            let (part, reaches, above) = heated(part);
            let (held, peak, limit) = (road_speed(speed), over(peak, limit), temperature(limit));
            format!("held at {held} for ten minutes {part} {reaches} {peak} {above} {limit}")
        }
        Reason::HeldSlipping { speed, lock } => {
            let [held, lock] = road_speeds(speed, lock);
            format!("the use holds {held}, below the {lock} from which it stays locked up: it slips all the time there")
        }
        Reason::CrawlSlips { speed, power, lining, limit, lock: locks } => {
            let [held, lock] = road_speeds(speed, locks);
            // A clutch that is hot or oiled may slip where it would stay locked up cold and dry.
            let from = if locks > speed { format!(": it stays locked up from {lock} on") } else { String::new() };
            let limit = if lining > limit {
                format!("{} its continuous limit of {}", over(lining, limit), temperature(limit))
            } else {
                temperature(lining)
            };
            format!(
                "held at {held} it slips all the time, {power:.0} W (lives do not count this), and within ten minutes the lining reaches {limit}{from}"
            )
        }
        Reason::RollsBack { grade, distance, speed } => format!(
            "on {} the machine rolls back {} cm, at up to {}, before the clutch grips",
            slope(grade),
            figures(100.0 * distance, 2),
            road_speed(speed)
        ),
        Reason::Clear { settled, margin, highest } => format!(
            "computed not to drag, with a margin of {}: hot and relaxed it engages at {}, the idle reaches {}",
            turns(margin),
            turns(settled),
            turns(highest)
        ),
        Reason::Locks { motor, torque, speed, steepest, bears } => {
            let on = |grade: Option<f64>| {
                grade.map_or_else(|| "on no slope".to_owned(), |s| format!("on slopes of up to {}", steep(s)))
            };
            format!(
                "at full throttle it locks up at {} with {torque:.1} N·m, {}; warm from the use it bears starts {}; from cold it locks up within half a minute {}",
                turns(motor),
                road_speed(speed),
                on(bears),
                on(steepest)
            )
        }
        Reason::Launch { grade, speed, time, locks, heat } => format!(
            "a launch from cold on {} reaches {} in {time:.1} s, locks up after {locks:.1} s and takes {:.1} kJ of slip energy",
            slope(grade),
            road_speed(speed),
            heat / 1e3
        ),
        Reason::Peaks { lining, drum, power } => format!(
            "in stop-and-go the lining reaches {}, the drum {}, with {power:.0} W of slip power on average",
            temperature(lining),
            temperature(drum)
        ),
        Reason::Steady { lock } => format!("held at any speed below {} it slips all the time", road_speed(lock)),
        Reason::CrawlLocked { speed } => format!("held at {} it stays locked up", road_speed(speed)),
        Reason::Lasts { part, after } => {
            format!("in this use {} first, after about {} of running", ends(part), time(after))
        }
    }
}

/// A start on a slope, from the hottest stop of the use.
fn started(start: &HillStart) -> String {
    let locks = start.locks.map_or_else(|| "does not lock up".to_owned(), |time| format!("locks up after {time:.1} s"));
    format!(
        "a start on {}, warm from the use, {locks}, takes {:.1} kJ of slip energy and heats the lining to {}",
        slope(start.grade),
        start.heat / 1e3,
        temperature(start.lining)
    )
}

/// The steepest slope on which a start from the hottest stop of the use is borne.
fn borne(bears: Option<f64>) -> String {
    bears.filter(|grade| *grade > 0.0).map_or_else(
        || "it bears no start on a slope".to_owned(),
        |grade| format!("the steepest on which it bears a start is {}", steep(grade)),
    )
}

/// What the stop-and-go warns of.
fn in_use(warning: &Warning) -> String {
    let power = |watts: f64| figures(1e-3 * watts, 2);
    match warning.kind {
        Warned::LetGo => format!(
            "in this use the clutch burns: it slips with {} kW for 10 s or longer, where {} kW is the limit",
            power(warning.value),
            power(warning.limit)
        ),
        Warned::Squeals => {
            format!("in this use the bushing is scored and squeals after {} of running", time(warning.value))
        }
        Warned::Grabs => format!(
            "the bushing grabs its shaft after {} of running: the machine may drive itself at idle",
            time(warning.value)
        ),
        Warned::Launch | Warned::TooSlow => format!(
            "starts of this use that do not reach their speed in time: {:.0} of {:.0}",
            warning.value, warning.limit
        ),
        Warned::Brake => format!("brakings of this use that do not stop the machine in time: {:.0}", warning.value),
        // None of the others depends on what holds the idle.
        _ => format!("in this use {}", said(warning, (f64::NAN, f64::NAN, IdleKind::Unstated))),
    }
}

/// What holds the idle, as a clause after "drags at idle".
const fn held_by(kind: IdleKind) -> &'static str {
    match kind {
        IdleKind::Unstated => "on a governor or a throttle stop, whichever is worse",
        IdleKind::ThrottleStop => "on a throttle stop",
        IdleKind::Governed => "on a governor",
    }
}

fn drags(
    (settled, highest, share): (f64, f64, f64),
    (power, creep, stalls): (f64, f64, bool),
    kind: IdleKind,
) -> String {
    let range = if share < 0.005 {
        "at the highest idle alone".to_owned()
    } else if share < 0.995 {
        format!("in {} of the idle's range", percent(share))
    } else {
        "over the whole range of the idle".to_owned()
    };
    let heat = if power >= 1.0 { format!(", with {power:.0} W of slip while standing") } else { String::new() };
    let creep = if creep > 0.05 {
        format!("; off the brake the machine creeps to {} in 20 s: idle creep can hurt someone", road_speed(creep))
    } else {
        String::new()
    };
    let stalls = if stalls { " and can stall the motor" } else { "" };
    format!(
        "it drags at idle {range}{heat} ({}){stalls}: hot and relaxed it engages at {}, and the idle reaches {}{creep}",
        held_by(kind),
        turns(settled),
        turns(highest)
    )
}
