//! Reasons why a spring fits or does not fit, as values.

use super::hill_start::HillStart;
use super::warning::Warning;
use crate::names::{IdleKind, Part};
use serde::{Deserialize, Serialize};

/// A part whose temperature has a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum Heated {
    /// rubbed face of the lining
    Lining,
    /// bushing, because of its oil
    Bushing,
    /// fibre washer
    Washer,
    /// fibre washer without its oil
    #[serde(rename = "dry washer")]
    DryWasher,
    /// springs at the shoes
    Springs,
}

/// A reason for or against a spring, or a fact about it. SI units.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Reason {
    /// it engages at or above the motor's governed top speed
    NeverEngages {
        /// engagement, rad/s
        engagement: f64,
        /// governed top speed without load, rad/s
        top: f64,
    },
    /// across the shoes' gap the spring's rate alone exceeds the shoes' force at its engagement speed
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
        /// slip power while standing, W
        power: f64,
        /// speed reached within 20 s off the brake, m/s
        creep: f64,
        /// whether the motor stalls on the brake
        stalls: bool,
        /// what holds the idle; if it is not stated, the other numbers are those of the worse kind
        idle_kind: IdleKind,
    },
    /// within the tolerances of springs and tachometer it could touch at the highest idle
    TooNear {
        /// computed margin over the highest idle, rad/s
        margin: f64,
        /// least margin, rad/s
        floor: f64,
        /// share of such clutches that would touch at the highest idle
        share: f64,
    },
    /// the springs grow hotter than their relaxation is known to, so that how near to the idle they come is unknown
    SpringsUnknown {
        /// peak, K
        peak: f64,
        /// temperature up to which their relaxation is known, K
        limit: f64,
    },
    /// at no speed does it transmit the motor's full torque
    NeverLocks,
    /// it does not lock up on the slope
    TooSteep {
        /// requested slope, rise over run
        grade: f64,
        /// steepest on which it locks up within half a minute, rise over run
        steepest: f64,
    },
    /// it does not lock up within a minute of full throttle
    LocksLate {
        /// slope, rise over run
        grade: f64,
        /// whether it starts from the hottest stop of the use, and not from cold
        warm: bool,
    },
    /// a start on the slope, from the hottest stop of the use, burns the clutch
    StartBurns {
        /// the start
        start: HillStart,
        /// steepest slope that it bears, rise over run
        bears: Option<f64>,
    },
    /// such a start brings the lining over its temperature limit
    StartTooHot {
        /// the start
        start: HillStart,
        /// limit, K
        limit: f64,
        /// steepest slope that it bears, rise over run
        bears: Option<f64>,
    },
    /// a part exceeds its temperature limit
    TooHot {
        /// the part
        part: Heated,
        /// peak, K
        peak: f64,
        /// limit, K
        limit: f64,
    },
    /// at the held slow speed a part exceeds its temperature limit
    CrawlTooHot {
        /// speed, m/s
        speed: f64,
        /// the part
        part: Heated,
        /// its temperature after ten minutes, K
        peak: f64,
        /// limit, K
        limit: f64,
    },
    /// a part is hotter than the model reaches, so that no life is given
    NoLife {
        /// its temperature, K
        peak: f64,
        /// limit, K
        limit: f64,
    },
    /// the lining is hotter than a resin bond withstands, so the numbers are guesses
    Beyond {
        /// peak, K
        peak: f64,
    },
    /// the bushing runs dry
    OilGone {
        /// fill at the end of the stop-and-go
        fill: f64,
        /// length of the stop-and-go, s
        after: f64,
    },
    /// what else the stop-and-go warns of
    InUse(Warning),
    /// a part wears out within an hour of running
    WearsOut {
        /// the part
        part: Part,
        /// time of running, s
        after: f64,
    },
    /// a part exceeds its temperature limit for long use
    Hot {
        /// the part
        part: Heated,
        /// peak, K
        peak: f64,
        /// limit for long use, K
        limit: f64,
    },
    /// at the held slow speed a part exceeds its temperature limit for long use, which it does not in the use
    CrawlHot {
        /// speed, m/s
        speed: f64,
        /// the part
        part: Heated,
        /// its temperature after ten minutes, K
        peak: f64,
        /// limit for long use, K
        limit: f64,
    },
    /// a start on the slope, from the hottest stop of the use, brings the lining over its temperature limit for long use
    StartHot {
        /// the start
        start: HillStart,
        /// limit for long use, K
        limit: f64,
    },
    /// with every start of the use on the slope
    EachStart {
        /// slope, rise over run
        grade: f64,
        /// peak of the lining, K
        lining: f64,
        /// its limit, K
        limit: f64,
        /// the part that wears out first, and the running time until then, s; none if none does, or a part is beyond the model
        lasts: Option<(Part, f64)>,
    },
    /// the use holds a speed at which the clutch slips permanently
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
        /// its limit for long use, K
        limit: f64,
        /// lowest steady speed without slip, m/s
        lock: f64,
    },
    /// on the slope the machine rolls back before the clutch grips
    RollsBack {
        /// slope, rise over run
        grade: f64,
        /// distance, m
        distance: f64,
        /// speed, m/s
        speed: f64,
    },
    /// by computation it does not drag
    Clear {
        /// engagement, hot and relaxed, rad/s
        settled: f64,
        /// margin over the highest idle, rad/s
        margin: f64,
        /// highest idle, rad/s
        highest: f64,
    },
    /// point of lock-up at full throttle
    Locks {
        /// motor speed, rad/s
        motor: f64,
        /// torque, N·m
        torque: f64,
        /// road speed, m/s
        speed: f64,
        /// steepest slope on which it locks up within half a minute from cold, rise over run
        steepest: Option<f64>,
        /// steepest slope on which it does so from the hottest stop of the use, and stays within its limits, rise over run
        bears: Option<f64>,
    },
    /// one launch at full throttle, from cold
    Launch {
        /// slope, rise over run
        grade: f64,
        /// target speed, m/s
        speed: f64,
        /// time to it, s
        time: f64,
        /// time to lock-up, s
        locks: f64,
        /// slip energy, J
        heat: f64,
    },
    /// a start on the slope, from the hottest stop of the use, that the lining bears for long
    Starts(HillStart),
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
    /// life
    Lasts {
        /// the part that wears out first
        part: Part,
        /// running time until then, s
        after: f64,
    },
}
