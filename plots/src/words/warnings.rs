//! Warnings of runs as text: a sign, a line for each kind over all runs, and a sentence for each.

use crate::sheet::axis::extent;
use crate::words::cautions;
use crate::words::compared::under_duties;
use crate::words::number::figures;
use crate::words::reading::name;
use crate::words::say;
use crate::words::text::{Words, together};
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Halt, Record, Run, Warned, Warning};

/// The sign of each kind in tables, in the order of the text.
pub const SIGNS: [(Warned, char); 35] = [
    (Warned::Seizes, 'I'),
    (Warned::Grabs, 'Z'),
    (Warned::Drag, 'D'),
    (Warned::WeakShoe, 'E'),
    (Warned::Creep, 'C'),
    (Warned::Stall, 'T'),
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

/// Whether a value of this kind is a temperature.
pub const fn is_temperature(kind: Warned) -> bool {
    use Warned::{Beyond, Bond, Bushing, Chars, DryWasher, Fire, Lining, Smokes, Springs, TooHot, Vapour, Washer};
    matches!(
        kind,
        Lining | Bond | Beyond | TooHot | Smokes | Vapour | Fire | Bushing | Washer | DryWasher | Chars | Springs
    )
}

/// Whether a value of this kind is a running time.
const fn is_time(kind: Warned) -> bool {
    use Warned::{BushingThrough, Dry, Grabs, Seizes, Squeals, WasherThrough, WornThrough};
    matches!(kind, Dry | WornThrough | BushingThrough | WasherThrough | Squeals | Grabs | Seizes)
}

/// Text of one value of a kind.
fn one(kind: Warned, value: f64) -> String {
    match kind {
        Warned::Drag | Warned::WeakShoe | Warned::LetGo => format!("{}\u{a0}W", figures(value, 2)),
        kind if is_time(kind) => format!("after {} of running", say::time(value)),
        Warned::BushingLoad => format!("{}\u{a0}MPa·m/s", figures(1e-6 * value, 2)),
        Warned::Stall => format!("after {}", say::time(value)),
        Warned::HeldOnSlope => say::time(value),
        Warned::Glaze | Warned::Additive => say::some(value),
        Warned::HeldSpeed | Warned::OutOfReach | Warned::Overrun | Warned::RolledBack | Warned::NoBraking => {
            say::road_speed(value)
        }
        kind if is_temperature(kind) => say::temperature(value),
        _ => figures(value, 3),
    }
}

/// Whether a value exceeds its limit by less than the text of either shows.
fn barely(kind: Warned, value: f64, limit: f64) -> bool {
    (is_temperature(kind) || kind == Warned::BushingLoad) && one(kind, value) == one(kind, limit)
}

/// The worn-through part of a kind.
const fn gone(kind: Warned) -> &'static str {
    match kind {
        Warned::BushingThrough => "bushing wall",
        Warned::WasherThrough => "washer",
        _ => "lining",
    }
}

/// Text of the range of a kind's values over their limit.
fn values(kind: Warned, (low, high): (f64, f64), limit: f64) -> String {
    let (least, most) = (one(kind, low), one(kind, high));
    match kind {
        Warned::NoBraking => format!("below {most}"),
        _ if barely(kind, high, limit) => "by a little".to_owned(),
        _ if least == most => most,
        kind if is_temperature(kind) => say::temperatures(low, high),
        Warned::Drag | Warned::WeakShoe | Warned::LetGo => format!("{} to {most}", figures(low, 2)),
        Warned::Stall => format!("after {}", say::times(low, high)),
        kind if is_time(kind) => format!("after {} of running", say::times(low, high)),
        _ => format!("{least} to {most}"),
    }
}

/// Beginning of the line of a kind of warning, before the runs' names.
fn head(kind: Warned, value: f64, limit: f64, idle: IdleKind) -> String {
    let over = |what: &str| format!("{what} over {}", say::temperature(limit));
    match kind {
        Warned::Drag => format!("drags at idle ({})", held_by(idle)),
        Warned::WeakShoe => "one shoe drags at idle, its spring is weak or broken".to_owned(),
        Warned::Creep => "sets off by itself at idle, brake off".to_owned(),
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
            format!("held at {held}, slips below lock-up at {lock}")
        }
        Warned::OutOfReach => {
            let [reached, asked] = say::road_speeds(value, limit);
            format!("motor and gearing reach {reached}, the ride asks for {asked}")
        }
        Warned::Launch => "launches too slow".to_owned(),
        Warned::Overrun => {
            let [reached, asked] = say::road_speeds(value, limit);
            format!("runs downhill to {reached} where {asked} is to be held: no motor braking")
        }
        Warned::Brake => "brakings too weak".to_owned(),
        Warned::Stall => "motor stalls".to_owned(),
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

/// What holds the idle in a run, in brackets after "drags at idle".
pub const fn held_by(idle: IdleKind) -> &'static str {
    match idle {
        IdleKind::Unstated => "throttle stop assumed",
        IdleKind::ThrottleStop => "throttle stop",
        IdleKind::Governed => "governed",
    }
}

/// One line for each kind of warning, with its sign: the runs concerned, and the range of values. Drag at idle has a line
/// for each kind of idle.
pub fn lines(record: &Record) -> Vec<(char, Words)> {
    let line = |(kind, sign): &(Warned, char), idle: Option<IdleKind>| {
        let given: Vec<(&Run, &Warning)> = record
            .runs
            .iter()
            .filter(|run| idle.is_none_or(|idle| run.idle_kind == idle))
            .filter_map(|run| Some((run, listed(run, *kind)?)))
            .collect();
        let (low, high) = extent(given.iter().map(|(_, w)| w.value));
        let limit = given.iter().map(|(_, w)| w.limit).reduce(f64::min)?;
        let runs: Vec<&Run> = given.iter().map(|(run, _)| *run).collect();
        let words = head(*kind, low, limit, idle.unwrap_or_default());
        let said = if record.runs.len() > 1 { format!("{words}: {}", who(record, &runs)) } else { words };
        let some = given.len() > 1 && given.len() + 1 < record.runs.len();
        let said = match kind {
            Warned::Creep | Warned::TooHot | Warned::HeldSpeed | Warned::OutOfReach | Warned::Overrun => said,
            // The limit already gives the lower end.
            kind if some && is_temperature(*kind) => format!("{said}, up to {}", say::temperature(high)),
            kind => format!("{said}, {}", values(*kind, (low, high), limit)),
        };
        Some((*sign, said.into()))
    };
    let of_kind = |sign: &(Warned, char)| -> Vec<(char, Words)> {
        match sign.0 {
            Warned::Drag => IdleKind::ALL.into_iter().filter_map(|idle| line(sign, Some(idle))).collect(),
            _ => line(sign, None).into_iter().collect(),
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

/// Where and why a run was stopped, as a clause.
pub(crate) fn stopped(halt: &Halt) -> Words {
    Words::from(format!(
        "the run stops after {}, in segment {} of its duty ({}), where the {} reached ",
        say::time(halt.time),
        halt.segment,
        halt.task,
        halt.part
    ))
    .temperature(halt.temperature)
    .plain(": what follows was not run")
}

/// Sentence of a warning of a run.
pub fn sentence(run: &Run, warning: &Warning) -> Words {
    if let Some(halt) = run.halt.as_ref().filter(|_| warning.kind == Warned::TooHot) {
        return stopped(halt);
    }
    let [engages, idle] = [run.engages(), run.setting(&settings::motor::idle)].map(|speed| speed.unwrap_or(f64::NAN));
    said(warning, (engages, idle, run.idle_kind)).into()
}

/// Force over that of the other springs below which a spring is weak, not merely the weakest of a usual set: three times the
/// assumed scatter of 3 %.
pub(super) const WEAK: f64 = 0.91;

/// What is wrong with a spring with this share of the others' force.
pub(crate) fn weak_spring(share: f64) -> String {
    match share {
        ..=0.0 => "its spring is broken".to_owned(),
        ..WEAK => format!("its spring is weak, with {} of the others' force", say::percent(share)),
        _ => format!(
            "its spring is the weakest of a set that scatters, with {} of the others' force",
            say::percent(share)
        ),
    }
}

/// What to do about a spring with this share of the others' force.
pub(crate) fn remedy(share: f64) -> &'static str {
    if share < WEAK {
        "stop riding and replace all springs as a set"
    } else {
        "fit a set that engages higher, or one whose springs are matched"
    }
}

/// Sentence of a warning of a run whose springs engage at a speed, rad/s, over an idle speed, rad/s.
pub fn said(warning: &Warning, (engages, idle, kind): (f64, f64, IdleKind)) -> String {
    let Warning { kind: warned, value, limit } = *warning;
    let most = one(warned, limit);
    let (little, shown) = (barely(warned, value, limit), one(warned, value));
    let peaked = |what: &str, above: &str| {
        let by = if little { "peaked just over".to_owned() } else { format!("peaked at {shown}, above") };
        format!("the {what} {by} {above}")
    };
    match warned {
        Warned::Drag => {
            let place = match engages / idle {
                ratio if ratio < 0.999 => "below",
                ratio if ratio <= 1.001 => "at",
                _ => "close to",
            };
            let engages = if engages > 0.0 {
                format!("it engages at {}, {place} the idle of {}", say::turns(engages), say::turns(idle))
            } else {
                format!("a shoe has no spring and touches as soon as the motor turns; it idles at {}", say::turns(idle))
            };
            let slowed = if kind.is_governed() { "" } else { "; the drag slows the motor" };
            format!("the clutch drags at idle, {shown} on average: {engages} ({}){slowed}", held_by(kind))
        }
        Warned::WeakShoe => format!(
            "one shoe drags: {}; it makes {shown} of heat at idle where equal springs would make none: {}",
            weak_spring(limit),
            remedy(limit)
        ),
        Warned::Creep => "with the brake off the machine sets off by itself at idle".to_owned(),
        Warned::Lining => peaked("lining's surface", &format!("its limit of {most}")),
        Warned::Bond => peaked("lining's surface", &format!("the {most} at which a resin bond goes")),
        Warned::Beyond => peaked("hottest part", &format!("the {most} at which the model ends")),
        Warned::Smokes | Warned::Vapour | Warned::Fire => {
            format!("{}: {}", peaked("hottest face with oil on it", &most), cautions::hot_oil(warned))
        }
        Warned::Additive => format!(
            "{shown} of the oil in the bushing had PTFE, silicone or a friction modifier in it: never use such an oil, not a drop; what reaches the lining stays on it, and the grip that it takes does not come back; use straight petroleum oil alone"
        ),
        Warned::LetGo => format!(
            "let go of the throttle: the clutch is burning, with {shown} of slip, above {most} for 10 s or longer"
        ),
        Warned::Glaze => format!(
            "the lining has been overheated; its grip may stay low until it is worn in again: {shown} of its face glazed"
        ),
        Warned::TooHot => format!("a part reached {shown}: the run stops there, what follows was not run"),
        Warned::Bushing => peaked("bushing", &format!("the {most} at which its oil starts to degrade")),
        Warned::Washer => peaked("washer", &format!("its limit of {most}")),
        Warned::DryWasher => {
            peaked("washer", &format!("the {most} limit of a dry one: half or more of its oil was gone"))
        }
        Warned::Chars => peaked("washer", &format!("the {most} at which it chars within a day")),
        Warned::BushingLoad => {
            let by = if little { "just over".to_owned() } else { format!("{shown}, above") };
            format!("load times speed of the bushing reached {by} {most}, the limit of porous bronze")
        }
        Warned::Squeals => {
            format!("the bushing is scored and squeals {shown}: stop, oil it, and replace it soon")
        }
        Warned::Grabs => format!(
            "the bushing grabs its shaft {shown}: the machine may drive itself at idle; stop riding and replace the bushing"
        ),
        Warned::Seizes => format!("the bushing has seized {shown}: from there on the machine stands still"),
        Warned::Springs => peaked("springs", &format!("the {most} limit of their wire")),
        Warned::Dry => format!("the oil was spent {shown}: from there on the bushing runs dry"),
        Warned::WornThrough | Warned::BushingThrough | Warned::WasherThrough => format!(
            "the {} of {}\u{a0}mm was worn through {shown}: what follows is not real, read the lives alone",
            gone(warned),
            figures(1e3 * limit, 2)
        ),
        Warned::RolledBack => format!(
            "on a slope the machine rolls back by up to {}, at up to {shown}, until clutch or brake holds it",
            say::distance(limit)
        ),
        Warned::NoBraking => format!(
            "below {shown}, {} of the motor, the clutch lets go: no motor braking, the brakes alone hold the machine",
            say::turns(limit)
        ),
        Warned::HeldOnSlope => format!(
            "the slipping clutch alone holds the machine on a slope for {shown}, with {}\u{a0}W of heat: hold it with the brake",
            figures(limit, 2)
        ),
        Warned::HeldSpeed => {
            let [held, lock] = say::road_speeds(value, limit);
            format!(
                "{held} is below the lock-up speed of {lock}: while this speed is held the clutch slips all the time"
            )
        }
        Warned::OutOfReach => {
            let [reached, asked] = say::road_speeds(value, limit);
            format!(
                "the ride asks for {asked}, but motor and gearing reached {reached}: what is shown is the ride at the lower speed"
            )
        }
        Warned::Overrun => {
            let [reached, asked] = say::road_speeds(value, limit);
            format!(
                "downhill the machine runs to {reached} where {asked} is to be held: nothing but the brakes holds it there, and a hold does not brake; what is shown is the ride at the higher speed"
            )
        }
        Warned::Launch => format!("launches that did not reach their speed in time: {value:.0}"),
        Warned::Brake => format!("brakings that did not come down to their speed in time: {value:.0}"),
        Warned::Stall => format!("the motor stalls {shown}"),
    }
}
