//! Reasons in sentences with their numbers.

use super::reason::{Heated, Reason};
use crate::names::Part;
use crate::say::{figures, life, percent, road_speed, temperature, time, turns};

/// A slope, to a tenth of a per cent.
fn steep(grade: f64) -> String {
    format!("{} %", figures((1000.0 * grade).round() / 10.0, 3))
}

/// Where a launch begins.
pub(super) fn slope(grade: f64) -> String {
    if grade == 0.0 { "on level ground".to_owned() } else { format!("on a slope of {}", steep(grade)) }
}

impl Heated {
    /// The part, and what its limit for long use is.
    const fn names(self) -> (&'static str, &'static str) {
        match self {
            Self::Lining => ("its lining", "its continuous limit of"),
            Self::Bushing => ("the bushing", "the temperature at which its oil degrades,"),
            Self::Washer => ("the washer", "its limit of"),
            Self::DryWasher => ("the dry washer", "the limit of one without oil,"),
            Self::Springs => ("its springs", "the limit of their wire,"),
        }
    }
}

impl Reason {
    /// The part of a warning in a word or two.
    pub const fn part(&self) -> &'static str {
        match self {
            Self::Hot { part, .. } | Self::TooHot { part, .. } => match part {
                Heated::Lining => "lining",
                Heated::Bushing => "bushing",
                Heated::Washer => "washer",
                Heated::DryWasher => "dry washer",
                Heated::Springs => "springs",
            },
            Self::HeldSlipping { .. } | Self::CrawlSlips { .. } => "slips at a held speed",
            Self::RollsBack { .. } => "rolls back",
            _ => "",
        }
    }

    /// One sentence, without capital and full stop.
    pub fn said(&self) -> String {
        match self {
            Self::Unbuildable { why } => format!("it cannot be fitted: {why}"),
            Self::Drags { settled, highest, share, power, creep } => {
                let range = if *share < 0.995 {
                    format!("it drags in {} of the idle's range", percent(*share))
                } else {
                    "it drags over the whole range of the idle".to_owned()
                };
                let heat = if *power >= 1.0 { format!(", {power:.0} W while standing") } else { String::new() };
                let creep = if *creep > 0.05 {
                    format!(
                        "; off the brake the machine creeps to {} in 20 s: idle creep can hurt someone",
                        road_speed(*creep)
                    )
                } else {
                    String::new()
                };
                format!(
                    "it drags at idle: hot and relaxed it engages at {}, and the idle reaches {} ({range}{heat}, with a governed idle, assumed){creep}",
                    turns(*settled),
                    turns(*highest)
                )
            }
            Self::TooNear { margin, floor, share } => format!(
                "it engages too near to the idle: its margin over the highest idle is {}, tolerances of springs and tachometer take {}; about {} of such clutches would touch at the highest idle",
                turns(*margin),
                turns(*floor),
                percent(*share)
            ),
            Self::NeverLocks => "it never locks up: at no speed does it take the motor's full torque".to_owned(),
            Self::TooSteep { grade, steepest } => format!(
                "it does not lock up on the slope of {}: the steepest on which it locks up within half a minute is {}",
                steep(*grade),
                steep(*steepest)
            ),
            Self::LocksLate { grade } => {
                format!("it does not lock up within a minute of full throttle {}", slope(*grade))
            }
            Self::TooHot { part, peak, limit } => format!(
                "{} reaches {} in stop-and-go; its limit is {}",
                part.names().0,
                temperature(*peak),
                temperature(*limit)
            ),
            Self::CrawlTooHot { speed, peak, limit } => format!(
                "held at {} its lining reaches {} within ten minutes; its limit is {}",
                road_speed(*speed),
                temperature(*peak),
                temperature(*limit)
            ),
            Self::Beyond { peak } => format!(
                "at {} the lining would char or come off its shoes and real torque may collapse: figures from there on are guesses",
                temperature(*peak)
            ),
            Self::OilGone { fill, after } => format!(
                "the bushing's oil is nearly gone after {} of stop-and-go (fill {}): a dry bushing may seize and drive the machine at idle",
                time(*after),
                percent(*fill)
            ),
            Self::WearsOut { part, after } if *part == Part::Charring => {
                format!("the washer chars after {} of running", time(*after))
            }
            Self::WearsOut { part, after } => format!("the {part} wears out after {} of running", time(*after)),
            Self::Hot { part, peak, limit } => format!(
                "{} {} {}, above {} {}",
                part.names().0,
                if *part == Heated::Springs { "reach" } else { "reaches" },
                temperature(*peak),
                part.names().1,
                temperature(*limit)
            ),
            Self::HeldSlipping { speed, lock } => format!(
                "the use holds {}, below the {} from which it stays locked up: it slips all the time there",
                road_speed(*speed),
                road_speed(*lock)
            ),
            Self::CrawlSlips { speed, power, lining, lock } => format!(
                "held at {} it slips all the time, {power:.0} W, and the lining reaches {} within ten minutes: it stays locked up from {} on",
                road_speed(*speed),
                temperature(*lining),
                road_speed(*lock)
            ),
            Self::RollsBack { grade, distance, speed } => format!(
                "{} the machine rolls back {} cm, at up to {}, before the clutch grips",
                slope(*grade),
                figures(100.0 * distance, 2),
                road_speed(*speed)
            ),
            Self::Clear { settled, margin, highest } => format!(
                "computed not to drag by {}: hot and relaxed it engages at {}, the idle reaches {}",
                turns(*margin),
                turns(*settled),
                turns(*highest)
            ),
            Self::Locks { motor, torque, speed, steepest } => format!(
                "at full throttle it locks up at {} with {torque:.1} N·m, {}; within half a minute it locks up on {}",
                turns(*motor),
                road_speed(*speed),
                steepest.map_or_else(|| "no slope".to_owned(), |s| format!("slopes of up to {}", steep(s)))
            ),
            Self::Launch { grade, speed, time, locks, heat } => format!(
                "a launch {} reaches {} in {time:.1} s, locks up after {locks:.1} s and takes {:.1} kJ of slip energy",
                slope(*grade),
                road_speed(*speed),
                heat / 1e3
            ),
            Self::Peaks { lining, drum, power } => format!(
                "in stop-and-go the lining reaches {}, the drum {}, with {power:.0} W of slip power on average",
                temperature(*lining),
                temperature(*drum)
            ),
            Self::Steady { lock } => format!("held at any speed below {} it slips all the time", road_speed(*lock)),
            Self::CrawlLocked { speed } => format!("held at {} it stays locked up", road_speed(*speed)),
            Self::Lasts { part, after } => {
                let first = if *part == Part::Charring {
                    "the washer chars first".to_owned()
                } else {
                    format!("the {part} wears out first")
                };
                format!("in this use {first}, after about {}", life(*after, *after))
            }
        }
    }
}
