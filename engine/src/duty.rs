//! Duties: tasks of the rider, services, surroundings.

use crate::names::{Part, TaskName};
use crate::parts::{Oil, Parameter};
use crate::units::RPM;
use std::sync::Arc;

/// A number in a duty, and its accepted range. Scripts and runs use the same ranges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// name of the number
    pub what: &'static str,
    /// its SI unit
    pub unit: &'static str,
    /// least, SI
    pub least: f64,
    /// most, SI
    pub most: f64,
}

impl Bounds {
    const fn new(what: &'static str, unit: &'static str, least: f64, most: f64) -> Self {
        Self { what, unit, least, most }
    }
}

/// Duration of one step of a duty, s: a year at most.
pub const TIME: Bounds = Bounds::new("time", "s", 0.0, 366.0 * 86400.0);
/// Target speed of a task, m/s.
pub const SPEED: Bounds = Bounds::new("speed", "m/s", 0.0, 60.0);
/// Deceleration by the brake, m/s²: below the range there is no braking, above it no tyre grips.
pub const DECELERATION: Bounds = Bounds::new("deceleration", "m/s²", 0.05, 15.0);
/// Deceleration of a rider who stops without a demand for one, m/s².
pub const EASY_BRAKE: f64 = 1.5;
/// Idle speed of a cold start, rad/s.
pub const FAST_IDLE: Bounds = Bounds::new("fast idle", "rad/s", 800.0 * RPM, 4000.0 * RPM);
/// Throttle opening, 0 to 1.
pub const OPENING: Bounds = Bounds::new("throttle opening", "", 0.0, 1.0);
/// Oil fill of the bushing, 0 to 1.
pub const FILL: Bounds = Bounds::new("oil fill", "", 0.0, 1.0);
/// Oil of one service, drops.
pub const DROPS: Bounds = Bounds::new("oil", "drops", 0.0, 500.0);
/// Oil held by grease in the grooves, m³.
pub const GREASE: Bounds = Bounds::new("grease", "m³", 0.0, 1e-5);

/// A speed trace: target speed over time, linear between points.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// (time s, speed m/s), times rising from 0
    pub points: Vec<(f64, f64)>,
}

/// A task of the rider.
#[derive(Clone, Debug, PartialEq)]
pub enum Task {
    /// throttle closed, brake on until still and then held
    Idle,
    /// the same with the motor idling faster, rad/s, as after a cold start
    FastIdle(f64),
    /// throttle held at this opening, 0 to 1
    Throttle(f64),
    /// throttle controlled to hold a speed, m/s
    Hold(f64),
    /// throttle closed, brake off: the machine may creep or roll
    Coast,
    /// throttle closed, brake applied to decelerate by this much, m/s², unless the machine already slows more
    Brake(f64),
    /// throttle and brake controlled to follow a recorded trace
    Follow(Arc<Trace>),
    /// motor switched off, brake on until still and then held
    Off,
}

/// End condition of a task.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// after this time, s
    After(f64),
    /// when the vehicle reaches a speed from below, m/s, or after a time limit
    Reached {
        /// speed, m/s
        speed: f64,
        /// time limit, s
        within: f64,
    },
    /// when the vehicle has slowed to a speed, m/s, or after a time limit
    Slowed {
        /// speed, m/s; 0 is a stop
        speed: f64,
        /// time limit, s
        within: f64,
    },
    /// when the vehicle stands still, or after a time limit
    Still {
        /// time limit, s
        within: f64,
    },
}

/// Care and repair; takes no time.
#[derive(Clone, Debug, PartialEq)]
pub enum Service {
    /// oil onto the bushing's faces; its mass, kg, is drops × drop volume × density
    Oil {
        /// number of drops
        drops: f64,
        /// the oil
        oil: Oil,
    },
    /// grease in the grooves, holding this volume of oil, m³
    Grease(f64),
    /// the bushing's oil set to this fill, 0 to 1, with the oil film that belongs to it
    Found(f64),
    /// a new part of this kind: a lining, a washer, soaked, or a bushing, full of oil, with a full film
    New(Part),
    /// a fresh spring of this engagement speed, rad/s
    Spring(f64),
    /// any setting of the machine, SI
    Adjust(&'static Parameter, f64),
}

impl Service {
    /// Whether the service changes the oil in the bushing.
    pub(crate) fn brings_oil(&self) -> bool {
        match self {
            Self::Oil { .. } | Self::Grease(_) | Self::Found(_) => true,
            Self::New(part) => part.row().renewal.as_ref().is_some_and(|new| new.brings_oil),
            Self::Spring(_) | Self::Adjust(..) => false,
        }
    }
}

/// One step of a duty.
#[derive(Clone, Debug, PartialEq)]
pub enum Segment {
    /// the rider does a task until it ends
    Ride(Task, End),
    /// care and repair
    Service(Service),
}

impl From<&Task> for TaskName {
    fn from(task: &Task) -> Self {
        match task {
            Task::Idle => Self::Idle,
            Task::FastIdle(_) => Self::FastIdle,
            Task::Throttle(_) => Self::Throttle,
            Task::Hold(_) => Self::Hold,
            Task::Coast => Self::Coast,
            Task::Brake(_) => Self::Brake,
            Task::Follow(_) => Self::Follow,
            Task::Off => Self::Off,
        }
    }
}
