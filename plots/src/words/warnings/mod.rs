//! Warnings of runs as text: a sign, a line for each kind over all runs, and a sentence for each.

mod sentence;
mod value;

pub(crate) use self::sentence::{WEAK, remedy, stopped, weak_spring};
pub use self::sentence::{said, sentence};
pub use self::value::is_temperature;
use self::value::{gone, held_by, one, values};
use crate::sheet::axis::extent;
use crate::words::compared::under_duties;
use crate::words::number::figures;
use crate::words::reading::name;
use crate::words::say;
use crate::words::text::{Words, together};
use slipsoak_engine::names::{IdleKind, distinct};
use slipsoak_engine::record::{Record, Run, Warned, Warning};

/// The sign of each kind in tables, in the order of the text.
pub const SIGNS: [(Warned, char); 40] = [
    (Warned::Seizes, 'I'),
    (Warned::Grabs, 'Z'),
    (Warned::Drag, 'D'),
    (Warned::WeakShoe, 'E'),
    (Warned::Creep, 'C'),
    (Warned::BushingDrives, '@'),
    (Warned::Stall, 'T'),
    (Warned::RunsAway, '/'),
    (Warned::Overspeed, '$'),
    (Warned::TooHot, '#'),
    (Warned::Beyond, 'X'),
    (Warned::Bond, 'R'),
    (Warned::Lining, 'L'),
    (Warned::Fire, '^'),
    (Warned::Vapour, '~'),
    (Warned::Smokes, 'Y'),
    (Warned::Additive, '+'),
    (Warned::LetGo, '!'),
    (Warned::Glaze, '*'),
    (Warned::Bushing, 'B'),
    (Warned::Washer, 'W'),
    (Warned::DryWasher, 'F'),
    (Warned::Chars, 'J'),
    (Warned::BushingLoad, 'P'),
    (Warned::Springs, 'S'),
    (Warned::Squeals, 'Q'),
    (Warned::Dry, 'O'),
    (Warned::WornThrough, 'G'),
    (Warned::BushingThrough, 'U'),
    (Warned::WasherThrough, 'H'),
    (Warned::RolledBack, 'A'),
    (Warned::NoBraking, '%'),
    (Warned::HeldOnSlope, '='),
    (Warned::HeldSpeed, 'V'),
    (Warned::OutOfReach, 'M'),
    (Warned::Overrun, '>'),
    (Warned::RollsFree, '&'),
    (Warned::TooSlow, '<'),
    (Warned::Launch, 'N'),
    (Warned::Brake, 'K'),
];

/// Largest number of names in one line; further ones are only counted.
const NAMED: usize = 5;

/// A run's warning of a kind for tables and lines. Of a lining over its limit glaze is left to the sentences: the same heat.
fn listed(run: &Run, kind: Warned) -> Option<&Warning> {
    run.warned(kind).filter(|_| kind != Warned::Glaze || run.warned(Warned::Lining).is_none())
}

/// The signs of a run's warnings.
pub fn signs(run: &Run) -> String {
    SIGNS.iter().filter(|(kind, _)| listed(run, *kind).is_some()).map(|(_, sign)| *sign).collect()
}

/// Beginning of the line of a kind of warning, before the runs' names; limits may differ between runs.
fn head(kind: Warned, (value, most): (f64, f64), (limit, highest): (f64, f64), idle: IdleKind) -> String {
    let over = |what: &str| match (say::temperature(limit), say::temperature(highest)) {
        (low, high) if low == high => format!("{what} over {low}"),
        _ => format!("{what} over a limit of {}", say::temperatures(limit, highest)),
    };
    match kind {
        Warned::Drag => format!("drags at idle ({})", held_by(idle)),
        Warned::WeakShoe => "one shoe drags at idle, its spring is weak or broken".to_owned(),
        Warned::Creep => "sets off by itself at idle, brake off".to_owned(),
        Warned::BushingDrives => "bushing's friction moves it off at idle, brake off".to_owned(),
        Warned::Lining => over("lining"),
        Warned::Bond => over("resin bond of the lining"),
        Warned::TooHot => format!("run stopped, a part at {}", say::temperature(limit)),
        Warned::Beyond => over("beyond the model, no life given:"),
        Warned::Smokes => "oil on the hot drum smokes".to_owned(),
        Warned::Vapour => "hot enough to light oil vapour".to_owned(),
        Warned::Additive => "oil with PTFE, silicone or a friction modifier, which stays on the lining".to_owned(),
        Warned::Fire => "oil may catch fire without a spark".to_owned(),
        Warned::LetGo => "let go of the throttle, the clutch is burning".to_owned(),
        Warned::Glaze => "lining overheated, its grip may stay low".to_owned(),
        Warned::Bushing => over("bushing"),
        Warned::Washer => over("washer"),
        Warned::DryWasher => over("dry washer"),
        Warned::Chars => over("washer"),
        Warned::Springs => over("springs"),
        Warned::BushingLoad => format!("load times speed of the bushing over {}", one(kind, limit)),
        Warned::Squeals => "bushing scored, it squeals".to_owned(),
        Warned::Grabs => "bushing grabs: the machine may drive itself at idle".to_owned(),
        Warned::Seizes => "bushing seized".to_owned(),
        Warned::Dry => "oil spent, bushing dry".to_owned(),
        Warned::WornThrough | Warned::BushingThrough | Warned::WasherThrough => {
            format!("{} of {}\u{a0}mm worn through", gone(kind), figures(1e3 * limit, 2))
        }
        Warned::RolledBack => "rolls backward".to_owned(),
        Warned::NoBraking => "no motor braking on a descent, the clutch lets go".to_owned(),
        Warned::HeldOnSlope => "held on a slope by the slipping clutch alone".to_owned(),
        Warned::HeldSpeed => {
            let [held, lock] = say::road_speeds(value, limit);
            format!("held at {held}, slips below lock-up at {}", up_to(lock, limit, highest))
        }
        Warned::OutOfReach => {
            let [reached, asked] = say::road_speeds(value, limit);
            format!("motor and gearing reach {}, the ride asks for {asked}", up_to(reached, value, most))
        }
        Warned::Launch | Warned::TooSlow => "starts that fail".to_owned(),
        Warned::Overspeed => "motor driven beyond its governed speed".to_owned(),
        Warned::RunsAway => "runs away on a slope, brake off".to_owned(),
        Warned::RollsFree => "rolls downhill without the clutch, only its brake holds it".to_owned(),
        Warned::Overrun => {
            let [reached, asked] = say::road_speeds(value, limit);
            format!(
                "runs downhill to {} where {asked} is to be held: the motor does not hold it",
                up_to(reached, value, most)
            )
        }
        Warned::Brake => "brakings too weak".to_owned(),
        Warned::Stall => "motor stalls".to_owned(),
    }
}

/// A range of road speeds, the lower of which is said already, m/s.
fn up_to(low_said: String, low: f64, high: f64) -> String {
    let high = say::road_speed(high);
    if say::road_speed(low) == high { low_said } else { format!("{low_said} to {high}") }
}

/// The speed that a ride asks for, of warnings that it is not held as asked, m/s: runs that ask for different ones have a line each.
const fn asked(warning: &Warning) -> Option<f64> {
    match warning.kind {
        Warned::HeldSpeed => Some(warning.value),
        Warned::OutOfReach | Warned::Overrun => Some(warning.limit),
        _ => None,
    }
}

/// Text of the runs concerned: all, all but one, or each by name.
pub fn who(record: &Record, runs: &[&Run]) -> String {
    let names = |wanted: &dyn Fn(&&Run) -> bool| -> Vec<String> {
        record.runs.iter().filter(wanted).map(|run| name(record, run)).collect()
    };
    let among = |run: &&Run| runs.iter().any(|r| std::ptr::eq(*r, *run));
    let out = names(&|run| !among(run));
    let given = names(&among);
    if let Some(said) = under_duties(record, runs, "all").filter(|_| !out.is_empty()) {
        return said;
    }
    if let Some(names) = together(&given).filter(|_| out.len() > 1) {
        return names;
    }
    match (given.len(), out.as_slice()) {
        (_, []) if record.runs.len() > 1 => "all".to_owned(),
        (n, [but]) if n > 2 => format!("all but {but}"),
        (n, _) if n > NAMED => format!("{} and {} more", given[..NAMED - 1].join(", "), n + 1 - NAMED),
        _ => given.join(", "),
    }
}

/// One line for each kind of warning, with its sign: the runs concerned, and the range of values. Drag at idle has a line
/// for each kind of idle, a speed that is not held as asked one for each such speed.
pub fn lines(record: &Record) -> Vec<(char, Words)> {
    let line = |(kind, sign): &(Warned, char), idle: Option<IdleKind>, speed: Option<&String>| {
        let given: Vec<(&Run, &Warning)> = record
            .runs
            .iter()
            .filter(|run| idle.is_none_or(|idle| run.idle_kind == idle))
            .filter_map(|run| Some((run, listed(run, *kind)?)))
            .filter(|(_, warning)| {
                speed.is_none_or(|speed| asked(warning).map(say::road_speed).as_ref() == Some(speed))
            })
            .collect();
        if given.is_empty() {
            return None;
        }
        let (low, high) = extent(given.iter().map(|(_, w)| w.value));
        let (limit, highest) = extent(given.iter().map(|(_, w)| w.limit));
        let runs: Vec<&Run> = given.iter().map(|(run, _)| *run).collect();
        let words = head(*kind, (low, high), (limit, highest), idle.unwrap_or_default());
        let said = if record.runs.len() > 1 { format!("{words}: {}", who(record, &runs)) } else { words };
        let some = given.len() > 1 && given.len() + 1 < record.runs.len();
        let said = match kind {
            Warned::Creep | Warned::TooHot | Warned::HeldSpeed | Warned::OutOfReach | Warned::Overrun => said,
            // The limit already gives the lower end.
            kind if some && is_temperature(*kind) => format!("{said}, up to {}", say::temperature(high)),
            Warned::Additive => format!("{said}, {} of the bushing's oil", values(*kind, (low, high), limit)),
            kind => format!("{said}, {}", values(*kind, (low, high), limit)),
        };
        Some((*sign, said.into()))
    };
    let of_kind = |sign: &(Warned, char)| -> Vec<(char, Words)> {
        match sign.0 {
            Warned::Drag => IdleKind::ALL.into_iter().filter_map(|idle| line(sign, Some(idle), None)).collect(),
            Warned::HeldSpeed | Warned::OutOfReach | Warned::Overrun => {
                let mut speeds: Vec<f64> = record.runs.iter().filter_map(|run| asked(listed(run, sign.0)?)).collect();
                speeds.sort_by(f64::total_cmp);
                let speeds = distinct(speeds.into_iter().map(say::road_speed));
                speeds.iter().filter_map(|speed| line(sign, None, Some(speed))).collect()
            }
            _ => line(sign, None, None).into_iter().collect(),
        }
    };
    SIGNS.iter().flat_map(of_kind).collect()
}

/// Doubts about temperatures that the reader must know, the gravest first.
pub const DOUBTS: [(Warned, &str); 3] = [
    (Warned::Beyond, "Beyond the model: no life is given from such temperatures."),
    (Warned::Bond, "The lining would char or come off its shoes; real torque may collapse."),
    (Warned::Lining, "Beyond what this lining stands; grip and wear are guesses from here."),
];

/// Doubt about a run's temperatures; none if they are within the model.
pub fn doubt(run: &Run) -> Option<&'static str> {
    DOUBTS.iter().find(|(kind, _)| run.warned(*kind).is_some()).map(|(_, words)| *words)
}
