//! The verdict on a spring, and the weight of each reason, from which it follows.

use super::reason::Reason;
use super::warning::{Warned, Warning};
use serde::{Deserialize, Serialize};

/// Verdict on a spring.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// no reason against it and no warning
    Fits,
    /// it can be ridden, but a limit for long use is exceeded
    Warned,
    /// it must not be fitted
    Unfit,
}

impl Verdict {
    /// The verdict for these reasons.
    pub fn of(reasons: &[Reason]) -> Self {
        match reasons.iter().map(Reason::weight).min() {
            Some(Weight::Against) => Self::Unfit,
            Some(Weight::Warning) => Self::Warned,
            Some(Weight::Fact) | None => Self::Fits,
        }
    }
}

/// Weight of a reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// the spring does not fit
    Against,
    /// a warning
    Warning,
    /// a fact
    Fact,
}

impl Reason {
    /// Whether it says that the spring drags at the highest idle, or may within its tolerances.
    pub const fn is_near(&self) -> bool {
        matches!(self, Self::Drags { .. } | Self::TooNear { .. })
    }

    /// Whether the machine must not be ridden so: it is against the use, and no margin that is only short of its tolerances, which
    /// can be looked at on the machine.
    pub fn forbids(&self) -> bool {
        self.weight() == Weight::Against && !matches!(self, Self::TooNear { .. })
    }

    /// Whether a machine with such a spring is unsafe or soon broken: more than too near to the idle or too weak to lock up.
    pub fn endangers(&self) -> bool {
        let weak = matches!(self, Self::NeverLocks | Self::TooSteep { .. } | Self::LocksLate { .. });
        let unbuilt = matches!(self, Self::NeverEngages { .. } | Self::NoPreload { .. });
        self.forbids() && !weak && !unbuilt
    }

    /// Whether it is the oil's or the bushing's, whatever the spring.
    pub const fn of_any_spring(&self) -> bool {
        matches!(self, Self::InUse(Warning { kind: Warned::Additive | Warned::BushingDrives, .. }))
    }

    /// Its weight; what is the oil's fault or the bushing's is none of the spring's.
    pub const fn weight(&self) -> Weight {
        match self {
            Self::InUse(Warning {
                kind:
                    Warned::Grabs | Warned::Seizes | Warned::Stall | Warned::RunsAway | Warned::Overspeed | Warned::TooSlow,
                ..
            }) => Weight::Against,
            Self::InUse(Warning { kind: Warned::Additive | Warned::BushingDrives, .. }) => Weight::Fact,
            Self::EachStart { lining, limit, .. } if *lining <= *limit => Weight::Fact,
            Self::InUse(_)
            | Self::EachStart { .. }
            | Self::StartHot { .. }
            | Self::Hot { .. }
            | Self::CrawlHot { .. }
            | Self::HeldSlipping { .. }
            | Self::CrawlSlips { .. }
            | Self::RollsBack { .. } => Weight::Warning,
            Self::Clear { .. }
            | Self::Locks { .. }
            | Self::Launch { .. }
            | Self::Starts(_)
            | Self::Peaks { .. }
            | Self::Steady { .. }
            | Self::CrawlLocked { .. }
            | Self::Lasts { .. } => Weight::Fact,
            Self::NeverEngages { .. }
            | Self::NoPreload { .. }
            | Self::Drags { .. }
            | Self::TooNear { .. }
            | Self::SpringsUnknown { .. }
            | Self::NeverLocks
            | Self::TooSteep { .. }
            | Self::LocksLate { .. }
            | Self::StartBurns { .. }
            | Self::StartTooHot { .. }
            | Self::TooHot { .. }
            | Self::CrawlTooHot { .. }
            | Self::NoLife { .. }
            | Self::Beyond { .. }
            | Self::OilGone { .. }
            | Self::WearsOut { .. } => Weight::Against,
        }
    }
}
