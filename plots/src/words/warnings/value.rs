//! Values of warnings as text, alone and over several runs.

use crate::words::number::figures;
use crate::words::say;
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::record::Warned;

/// Whether a value of this kind is a temperature.
pub const fn is_temperature(kind: Warned) -> bool {
    use Warned::{
        Beyond, Bond, Bushing, BushingDrives, Chars, DryWasher, Fire, Lining, Smokes, Springs, TooHot, Vapour, Washer,
    };
    matches!(
        kind,
        BushingDrives
            | Lining
            | Bond
            | Beyond
            | TooHot
            | Smokes
            | Vapour
            | Fire
            | Bushing
            | Washer
            | DryWasher
            | Chars
            | Springs
    )
}

/// Whether a value of this kind is a running time.
const fn is_time(kind: Warned) -> bool {
    use Warned::{BushingThrough, Dry, Grabs, Seizes, Squeals, WasherThrough, WornThrough};
    matches!(kind, Dry | WornThrough | BushingThrough | WasherThrough | Squeals | Grabs | Seizes)
}

/// Text of one value of a kind.
pub(super) fn one(kind: Warned, value: f64) -> String {
    match kind {
        Warned::Drag | Warned::WeakShoe | Warned::LetGo => format!("{}\u{a0}W", figures(value, 2)),
        kind if is_time(kind) => format!("after {} of running", say::time(value)),
        Warned::BushingLoad => format!("{}\u{a0}MPa·m/s", figures(1e-6 * value, 2)),
        Warned::Stall => format!("after {}", say::time(value)),
        Warned::HeldOnSlope => say::time(value),
        Warned::Glaze | Warned::Additive => say::some(value),
        Warned::Overspeed => say::turns(value),
        Warned::HeldSpeed
        | Warned::RollsFree
        | Warned::RunsAway
        | Warned::OutOfReach
        | Warned::Overrun
        | Warned::RolledBack
        | Warned::NoBraking => say::road_speed(value),
        kind if is_temperature(kind) => say::temperature(value),
        _ => figures(value, 3),
    }
}

/// Whether a value exceeds its limit by less than the text of either shows.
pub(super) fn barely(kind: Warned, value: f64, limit: f64) -> bool {
    (is_temperature(kind) || kind == Warned::BushingLoad) && one(kind, value) == one(kind, limit)
}

/// The worn-through part of a kind.
pub(super) const fn gone(kind: Warned) -> &'static str {
    match kind {
        Warned::BushingThrough => "bushing wall",
        Warned::WasherThrough => "washer",
        _ => "lining",
    }
}

/// Text of the range of a kind's values over their limit.
pub(super) fn values(kind: Warned, (low, high): (f64, f64), limit: f64) -> String {
    let (least, most) = (one(kind, low), one(kind, high));
    match kind {
        Warned::NoBraking => format!("below {most}"),
        Warned::Overspeed | Warned::RollsFree | Warned::RunsAway => format!("up to {most}"),
        _ if barely(kind, high, limit) => "by a little".to_owned(),
        _ if least == most => most,
        kind if is_temperature(kind) => say::temperatures(low, high),
        Warned::Drag | Warned::WeakShoe | Warned::LetGo => format!("{} to {most}", figures(low, 2)),
        Warned::BushingLoad if least == one(kind, limit) => format!("up to {most}"),
        Warned::BushingLoad => format!("{} to {most}", figures(1e-6 * low, 2)),
        Warned::Stall => format!("after {}", say::times(low, high)),
        kind if is_time(kind) => format!("after {} of running", say::times(low, high)),
        _ => format!("{least} to {most}"),
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_of_loads_has_its_unit_once_and_does_not_begin_at_its_limit() {
        let load = |low: f64, high: f64| values(Warned::BushingLoad, (low, high), 1.8e6);
        assert_eq!(load(1.9e6, 2.2e6), "1.9 to 2.2\u{a0}MPa·m/s");
        assert_eq!(load(1.81e6, 2.2e6), "up to 2.2\u{a0}MPa·m/s");
    }
}
