//! The sentence of a warning of one run.

use super::value::{barely, gone, held_by, one};
use crate::words::cautions;
use crate::words::number::figures;
use crate::words::say;
use crate::words::text::Words;
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Halt, Run, Warned, Warning};

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
pub(crate) const WEAK: f64 = 0.91;

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
        Warned::BushingDrives => format!(
            "with the brake off the friction of the bushing, at {shown}, moves the machine off at idle, though the shoes do not touch: {}",
            cautions::DRIVES
        ),
        Warned::Lining => peaked("lining's surface", &format!("its limit of {most}")),
        Warned::Bond => peaked("lining's surface", &format!("the {most} at which a resin bond goes")),
        Warned::Beyond => peaked("hottest part", &format!("the {most} at which the model ends")),
        Warned::Smokes | Warned::Vapour | Warned::Fire => {
            format!("{}: {}", peaked("hottest face with oil on it", &most), cautions::hot_oil(warned))
        }
        Warned::Additive => format!(
            "{shown} of the oil in the bushing had PTFE, silicone or a friction modifier in it: never use such an oil, not a drop; what reaches the lining is assumed to be the dose, not diluted by the oil of the pores, and to stay on it: the grip that it takes does not come back; use straight petroleum oil alone"
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
                "downhill the machine runs to {reached} where {asked} is to be held: the motor does not hold it there, only the brakes would, and a hold does not brake; what is shown is the ride at the higher speed"
            )
        }
        Warned::Launch | Warned::TooSlow => format!(
            "{value:.0} of {limit:.0} starts fail: the required speed is not reached in time, or the throttle does not move the machine"
        ),
        Warned::Overspeed => format!(
            "the descent drives the motor to {}, above its governed speed: brake on descents, {}",
            say::turns(value),
            cautions::OVERDRIVEN
        ),
        Warned::RunsAway => format!(
            "with the brake off a slope carries the machine off, at up to {shown}: only its brakes hold it there"
        ),
        Warned::RollsFree => format!(
            "with the brake off the machine rolls downhill to {shown}; the shoes do not touch, and only its brake holds it"
        ),
        Warned::Brake => format!("brakings that did not come down to their speed in time: {value:.0}"),
        Warned::Stall => format!("the motor stalls {shown}"),
    }
}
