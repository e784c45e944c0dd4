//! The verdict on a spring and its reasons.

use crate::words::reason::{clause, heated};
use crate::words::remedies::LESS_SLIP;
use crate::words::say::turns;
use crate::words::text::Words;
use slipsoak_engine::names::{Part, distinct};
use slipsoak_engine::record::{Warned, Warning};
use slipsoak_engine::spring_choice::{Judged, Reason, Verdict, Weight};

/// A verdict.
pub const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fits => "fits",
        Verdict::Warned => "fits, with warnings",
        Verdict::Unfit => "does not fit",
    }
}

/// A reason in a word or two; empty for facts.
pub fn brief(reason: &Reason) -> &'static str {
    match reason {
        Reason::NeverEngages { .. } => "never engages",
        Reason::NoPreload { .. } => "no preload",
        Reason::Drags { .. } => "drags",
        Reason::TooNear { .. } => "too near",
        Reason::SpringsUnknown { .. } => "springs too hot",
        Reason::NeverLocks | Reason::TooSteep { .. } | Reason::LocksLate { .. } => "does not lock up",
        Reason::TooHot { .. } | Reason::CrawlTooHot { .. } | Reason::NoLife { .. } | Reason::Beyond { .. } => "too hot",
        Reason::StartTooHot { .. } => "start too hot",
        Reason::StartBurns { .. } => "burns in a start",
        Reason::StartHot { .. } | Reason::EachStart { .. } => "hot in starts on the slope",
        Reason::OilGone { .. } => "runs dry",
        Reason::InUse(warning) => match warning.kind {
            Warned::Grabs => "bushing grabs",
            Warned::Seizes => "bushing seizes",
            Warned::Stall => "motor stalls",
            Warned::RunsAway => "runs away on a slope",
            Warned::Overspeed => "motor overdriven downhill",
            Warned::TooSlow => "too slow for this use",
            Warned::LetGo => "clutch burns",
            kind => kind.name(),
        },
        Reason::WearsOut { part: Part::Seized, .. } => "bushing grabs",
        Reason::WearsOut { .. } => "wears out",
        Reason::Hot { part, .. } | Reason::CrawlHot { part, .. } => {
            heated(*part).0.split_once(' ').map_or("", |(_, part)| part)
        }
        Reason::HeldSlipping { .. } | Reason::CrawlSlips { .. } => "slips at a held speed",
        Reason::RollsBack { .. } => "rolls back",
        _ => "",
    }
}

/// The softest spring that stays clear of the idle, where it does not fit either.
pub(super) fn softest_clear(sought: &Judged) -> String {
    format!(
        "the softest that stays clear of the idle engages at {} and does not fit either ({})",
        turns(sought.engagement),
        briefly(sought.reasons.iter())
    )
}

/// What would help where the motor does not pull the clutch to lock-up, or only with too much heat.
pub(super) const STRONGER: &str =
    "What would help: shorter gearing, less load, a start on a gentler slope, a stronger motor, or a larger clutch.";

/// What would help where a spring is none: more pull where all that is against it is that it does not start on the slope, else less
/// slip.
pub(super) fn what_helps(spring: &Judged) -> &'static str {
    let starts = |r: &Reason| {
        let weak = matches!(r, Reason::NeverLocks | Reason::TooSteep { .. } | Reason::LocksLate { .. });
        let slow = matches!(r, Reason::InUse(Warning { kind: Warned::TooSlow, .. }));
        weak || slow || matches!(r, Reason::StartBurns { .. } | Reason::StartTooHot { .. })
    };
    let unbraked = |r: &Reason| matches!(r, Reason::InUse(Warning { kind: Warned::RunsAway | Warned::Overspeed, .. }));
    if spring.of_weight(Weight::Against).all(unbraked) {
        return "What would help: the brakes, used on every slope; no spring changes it.";
    }
    if spring.of_weight(Weight::Against).all(starts) { STRONGER } else { LESS_SLIP }
}

/// The most important reasons of a spring: those against it, or else its warnings, or else that it does not drag.
pub fn why(spring: &Judged) -> Words {
    let all = [Weight::Against, Weight::Warning, Weight::Fact].map(|weight| {
        let own = spring.of_weight(weight).filter(|reason| !reason.of_any_spring());
        own.map(clause).collect::<Vec<_>>()
    });
    let mut said = all.into_iter().find(|said| !said.is_empty()).unwrap_or_default();
    if spring.verdict == Verdict::Fits {
        said.truncate(1);
    }
    said.join("; ").into()
}

/// Reasons against a spring, a word or two each, without repetition.
pub fn briefly<'a>(reasons: impl Iterator<Item = &'a Reason>) -> String {
    let word = |against: &Reason| match against {
        Reason::Drags { .. } => "drags at idle",
        Reason::TooNear { .. } => "too near to the idle",
        Reason::TooSteep { .. } => "does not lock up on the slope of a start",
        other => brief(other),
    };
    distinct(reasons.filter(|reason| reason.weight() == Weight::Against).map(word)).join(", ")
}
