//! What the machine is put through: tasks of the rider, services, surroundings.

use crate::names::Part;
use std::sync::Arc;

/// A number of a duty, and the values of it that a run accepts. Scripts and runs are both held to these.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// what the number is
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

/// Time of one entry: a year at most.
pub const TIME: Bounds = Bounds::new("time", "s", 0.0, 366.0 * 86400.0);
/// Speed that is held, reached or slowed to.
pub const SPEED: Bounds = Bounds::new("speed", "m/s", 0.0, 60.0);
/// Slowing by the brake: less is no braking, more is no tyre's.
pub const DECELERATION: Bounds = Bounds::new("deceleration", "m/s²", 0.05, 15.0);
/// Share by which the throttle is open.
pub const OPENING: Bounds = Bounds::new("throttle opening", "", 0.0, 1.0);
/// Share of its oil with which a bushing is found.
pub const FILL: Bounds = Bounds::new("oil fill", "", 0.0, 1.0);
/// Oil of one service.
pub const DROPS: Bounds = Bounds::new("oil", "drops", 0.0, 500.0);
/// Oil that grease in the grooves holds.
pub const GREASE: Bounds = Bounds::new("grease", "m³", 0.0, 1e-5);

/// A speed trace: target speed over time, linear between points.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// (time s, speed m/s), times rising from 0
    pub points: Vec<(f64, f64)>,
}

/// What the rider does.
#[derive(Clone, Debug, PartialEq)]
pub enum Task {
    /// throttle closed, brake on until still and then held
    Idle,
    /// throttle held open by this share, 0..1
    Throttle(f64),
    /// throttle worked to hold a speed, m/s
    Hold(f64),
    /// throttle closed, brake off: the machine may creep or roll
    Coast,
    /// throttle closed, slowing by so many m/s² if it does not already slow more
    Brake(f64),
    /// throttle and brake worked to follow a recorded trace
    Follow(Arc<Trace>),
    /// motor switched off, brake on until still and then held
    Off,
}

/// When a task ends.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// after so many seconds
    After(f64),
    /// when the vehicle reaches a speed from below, m/s, or after so many seconds of trying
    Reached {
        /// speed, m/s
        speed: f64,
        /// patience, s
        within: f64,
    },
    /// when the vehicle has slowed to a speed, m/s, or after so many seconds of trying
    Slowed {
        /// speed, m/s; 0 is a stop
        speed: f64,
        /// patience, s
        within: f64,
    },
    /// when the vehicle stands still, or after so many seconds
    Still {
        /// patience, s
        within: f64,
    },
}

/// Care and repair; takes no time.
#[derive(Clone, Debug, PartialEq)]
pub enum Service {
    /// oil of that name onto the bushing's faces, kg is drops × drop volume × density
    Oil {
        /// number of drops
        drops: f64,
        /// the oil
        oil: crate::parts::Oil,
    },
    /// grease in the grooves, holding so much oil, m³
    Grease(f64),
    /// the bushing is found with this share of its oil, 0..1, and the film that goes with it
    Found(f64),
    /// a new part of this kind: a lining, a washer, soaked, or a bushing, full of oil, with a full film
    New(Part),
    /// a fresh spring of this engagement speed, rad/s
    Spring(f64),
    /// any setting of the machine: path and SI value
    Adjust(&'static str, f64),
}

impl Service {
    /// Whether the bushing has other oil after it than before.
    pub(crate) fn brings_oil(&self) -> bool {
        match self {
            Self::Oil { .. } | Self::Grease(_) | Self::Found(_) => true,
            Self::New(part) => part.row().renewal.as_ref().is_some_and(|new| new.brings_oil),
            Self::Spring(_) | Self::Adjust(..) => false,
        }
    }
}

/// One entry of a duty.
#[derive(Clone, Debug, PartialEq)]
pub enum Segment {
    /// the rider does something until it ends
    Ride(Task, End),
    /// care and repair
    Service(Service),
}
