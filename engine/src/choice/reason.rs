//! Why a spring fits or does not, as values; the verdict follows from them.

use crate::names::Part;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Whether a spring fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// nothing speaks against it
    Fits,
    /// it can be ridden, but a limit for long use is exceeded
    Warned,
    /// it must not be fitted
    Unfit,
}

impl Verdict {
    /// The verdict on a spring of which these reasons are known.
    pub fn of(reasons: &[Reason]) -> Self {
        match reasons.iter().map(Reason::weight).min() {
            Some(Weight::Against) => Self::Unfit,
            Some(Weight::Warning) => Self::Warned,
            _ => Self::Fits,
        }
    }
}

/// How much a reason weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// the spring does not fit
    Against,
    /// a warning
    Warning,
    /// good to know
    Fact,
}

/// A part whose temperature has a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Heated {
    /// rubbed face of the lining
    Lining,
    /// bushing, for the sake of its oil
    Bushing,
    /// fibre washer
    Washer,
    /// fibre washer without its oil
    #[serde(rename = "dry washer")]
    DryWasher,
    /// springs at the shoes
    Springs,
}

/// Something that speaks for or against a spring, or that is good to know of it. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Reason {
    /// it engages at or above the motor's governed top speed
    NeverEngages {
        /// engagement, rad/s
        engagement: f64,
        /// governed top speed without load, rad/s
        top: f64,
    },
    /// across the shoes' gap its rate alone is stronger than the shoes are at its engagement
    NoPreload {
        /// engagement, rad/s
        engagement: f64,
        /// preload, N
        preload: f64,
    },
    /// it drags at the highest idle
    Drags {
        /// engagement, hot and relaxed, rad/s
        settled: f64,
        /// highest idle, rad/s
        highest: f64,
        /// share of the idle's variation over which it drags
        share: f64,
        /// slip heat while standing, W
        power: f64,
        /// speed reached within 20 s off the brake, m/s
        creep: f64,
    },
    /// the tolerances of springs and tachometer could make it touch at the highest idle
    TooNear {
        /// computed margin over the highest idle, rad/s
        margin: f64,
        /// least margin, rad/s
        floor: f64,
        /// share of such clutches that would touch at the highest idle
        share: f64,
    },
    /// at no speed does it take the motor's full torque
    NeverLocks,
    /// it does not lock up on the slope
    TooSteep {
        /// slope asked for, rise over run
        grade: f64,
        /// steepest on which it locks up within half a minute, rise over run
        steepest: f64,
    },
    /// it does not lock up within a minute of full throttle
    LocksLate {
        /// slope, rise over run
        grade: f64,
    },
    /// a part exceeds its greatest temperature
    TooHot {
        /// the part
        part: Heated,
        /// peak, K
        peak: f64,
        /// limit, K
        limit: f64,
    },
    /// held at the slow speed the lining exceeds its greatest temperature
    CrawlTooHot {
        /// speed, m/s
        speed: f64,
        /// lining after ten minutes, K
        peak: f64,
        /// limit, K
        limit: f64,
    },
    /// the lining is hotter than a resin bond stands, so that the figures are guesses
    Beyond {
        /// peak, K
        peak: f64,
    },
    /// the bushing has less oil left than at its end
    OilGone {
        /// fill at the end of the stop-and-go
        fill: f64,
        /// length of the stop-and-go, s
        after: f64,
    },
    /// a part wears out within an hour of running
    WearsOut {
        /// the part
        part: Part,
        /// time of running, s
        after: f64,
    },
    /// a part is hotter than it stands for long
    Hot {
        /// the part
        part: Heated,
        /// peak, K
        peak: f64,
        /// limit for long use, K
        limit: f64,
    },
    /// the use holds a speed at which the clutch slips all the time
    HeldSlipping {
        /// that speed, m/s
        speed: f64,
        /// lowest steady speed without slip, m/s
        lock: f64,
    },
    /// the slow speed is held slipping
    CrawlSlips {
        /// that speed, m/s
        speed: f64,
        /// slip power, W
        power: f64,
        /// lining after ten minutes, K
        lining: f64,
        /// lowest steady speed without slip, m/s
        lock: f64,
    },
    /// on the slope the machine rolls back before the clutch grips
    RollsBack {
        /// slope, rise over run
        grade: f64,
        /// how far, m
        distance: f64,
        /// how fast, m/s
        speed: f64,
    },
    /// it is computed not to drag
    Clear {
        /// engagement, hot and relaxed, rad/s
        settled: f64,
        /// margin over the highest idle, rad/s
        margin: f64,
        /// highest idle, rad/s
        highest: f64,
    },
    /// where it locks up at full throttle
    Locks {
        /// motor speed, rad/s
        motor: f64,
        /// torque, N·m
        torque: f64,
        /// road speed, m/s
        speed: f64,
        /// steepest slope on which it locks up within half a minute, rise over run
        steepest: Option<f64>,
    },
    /// one launch at full throttle
    Launch {
        /// slope, rise over run
        grade: f64,
        /// to this speed, m/s
        speed: f64,
        /// time to it, s
        time: f64,
        /// time to lock-up, s
        locks: f64,
        /// slip energy, J
        heat: f64,
    },
    /// temperatures of the stop-and-go
    Peaks {
        /// lining, K
        lining: f64,
        /// drum, K
        drum: f64,
        /// mean slip power, W
        power: f64,
    },
    /// lowest steady speed without slip
    Steady {
        /// m/s
        lock: f64,
    },
    /// the slow speed is held locked up
    CrawlLocked {
        /// that speed, m/s
        speed: f64,
    },
    /// how long it lasts
    Lasts {
        /// the part that wears out first
        part: Part,
        /// running time until then, s
        after: f64,
    },
}

impl Reason {
    /// How much it weighs.
    pub const fn weight(&self) -> Weight {
        match self {
            Self::NeverEngages { .. }
            | Self::NoPreload { .. }
            | Self::Drags { .. }
            | Self::TooNear { .. }
            | Self::NeverLocks
            | Self::TooSteep { .. }
            | Self::LocksLate { .. }
            | Self::TooHot { .. }
            | Self::CrawlTooHot { .. }
            | Self::Beyond { .. }
            | Self::OilGone { .. }
            | Self::WearsOut { .. } => Weight::Against,
            Self::Hot { .. } | Self::HeldSlipping { .. } | Self::CrawlSlips { .. } | Self::RollsBack { .. } => {
                Weight::Warning
            }
            Self::Clear { .. }
            | Self::Locks { .. }
            | Self::Launch { .. }
            | Self::Peaks { .. }
            | Self::Steady { .. }
            | Self::CrawlLocked { .. }
            | Self::Lasts { .. } => Weight::Fact,
        }
    }
}
