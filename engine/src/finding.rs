//! What the answers to the shop's questions find, as values; sentences are made where they are read.

use crate::laws::margin::SEASON;
use crate::parts::Machine;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Springs that relax in a use until they engage below the idle: the clutch then drags at every stop, and runs hotter than
/// with springs that are new.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Sag {
    /// engagement speed, hot and relaxed, rad/s
    pub settled: f64,
    /// idle speed, rad/s
    pub idle: f64,
    /// time of relaxing, s
    pub within: f64,
}

impl Sag {
    /// Whether springs whose engagement speed settles so, rad/s, sag below the machine's idle within a season.
    pub fn of(machine: &Machine, settled: Option<f64>) -> Option<Self> {
        let idle = machine.motor.idle;
        settled.filter(|settled| *settled < idle).map(|settled| Self { settled, idle, within: SEASON })
    }
}

/// A speed that a use holds below that from which the clutch stays locked up, so that it slips all the time.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Slipping {
    /// speed that is held, m/s
    pub held: f64,
    /// lowest steady speed without slip, m/s
    pub lock: f64,
}

/// Something that an answer takes for granted, with the values that it takes. SI units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Assumed {
    /// wear constant of the fibre washer on steel, for which no value has been published
    WasherWear {
        /// factor by which it may be off either way
        factor: f64,
    },
    /// chain misalignment
    Misalignment {
        /// angle, rad
        angle: f64,
    },
    /// sizes evenly spread over their tolerances
    EvenSizes,
    /// bronze that wears on steel at the dry bushing's constant
    BronzeOnSteel {
        /// how much faster galling wears it, from and to
        galling: (f64, f64),
    },
    /// end leakage of the bushing at 80 °C and 2500 rpm, which nobody has measured
    EndLeakage {
        /// as set, 1/s
        leak: f64,
        /// least that is possible, 1/s
        least: f64,
        /// greatest that is possible, 1/s
        most: f64,
        /// a hundredth of a full bushing's oil, by whose loss it could be weighed, kg
        hundredth: f64,
    },
    /// time in which the pores soak up oil at 80 °C
    Soaking {
        /// as set, s
        time: f64,
        /// least that is possible, s
        least: f64,
        /// greatest that is possible, s
        most: f64,
    },
    /// share of thrown oil that lands on the lining, and the rate at which slip wipes it off
    OilOnLining {
        /// share
        share: f64,
    },
    /// wear constants of lining, washer and bushing; lives are those of the first worn part, oil apart
    WearConstants,
    /// relaxation of the springs at 120 °C
    Relaxation {
        /// share of the force per decade of time
        per_decade: f64,
    },
    /// variation of the idle
    IdleVariation {
        /// to either side, rad/s
        half: f64,
    },
    /// scatter of the springs' forces within a clutch and from lot to lot, and of tachometers, as standard deviations
    SpringScatter {
        /// of forces, as a share
        springs: f64,
        /// of a tachometer, as a share
        tachometer: f64,
    },
    /// an idle that is governed, so that a dragging clutch does not slow the motor
    GovernedIdle,
    /// a torque curve sketched from a rated power, in the shape of another motor's
    SketchedTorque {
        /// rated power, W
        power: f64,
        /// rated speed, rad/s
        speed: f64,
    },
}
