//! Findings of the shop questions as values; sentences are made by the presentation.

use super::record::{Run, Warned};
use crate::laws::margin::SEASON;
use crate::names::Part;
use crate::parts::{Machine, Parameter, settings};
use serde::{Deserialize, Serialize};

/// A part that is no thicker than one to replace before anything has worn it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Spent {
    /// the part
    pub part: Part,
    /// its thickness, m
    pub thickness: f64,
    /// thickness at which it is replaced, m
    pub limit: f64,
}

impl Spent {
    /// Such parts of a machine with these settings, SI.
    pub fn all(setting: impl Fn(&Parameter) -> Option<f64>) -> Vec<Self> {
        let parts = [
            (Part::Washer, &settings::washer::thickness, &settings::limits::washer),
            (Part::Lining, &settings::lining::thickness, &settings::limits::lining),
        ];
        let spent = |(part, thickness, limit)| {
            let (thickness, limit) = setting(thickness).zip(setting(limit))?;
            (thickness <= limit).then_some(Self { part, thickness, limit })
        };
        parts.into_iter().filter_map(spent).collect()
    }
}

/// Springs that engage below the highest idle, relaxed by a use or new: the clutch then drags at stops, and runs hotter than
/// with sound springs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Sag {
    /// engagement speed, hot and relaxed, rad/s
    pub settled: f64,
    /// speed at which the first shoe touches with the springs as given, cold, rad/s; 0 if its spring is broken
    pub new: f64,
    /// idle speed, rad/s
    pub idle: f64,
    /// highest idle speed, with its variation, rad/s
    pub highest: f64,
    /// relaxation time, s
    pub within: f64,
}

impl Sag {
    /// Whether springs with this settled engagement speed, rad/s, sag below the machine's highest idle within a season: where a
    /// choice of springs says that they drag; `wander`: variation of the idle to either side, rad/s.
    pub fn of(machine: &Machine, settled: Option<f64>, wander: f64) -> Option<Self> {
        let idle = machine.motor.idle;
        let highest = idle + wander;
        settled.filter(|settled| *settled < highest).map(|settled| Self {
            settled,
            new: machine.first_touch(),
            idle,
            highest,
            within: SEASON,
        })
    }
}

/// Springs that are weaker than a whole new set of their rating: one of them weak or broken, or all.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Weak {
    /// force of the weakest spring over that of the others; 0 if it is broken
    pub weakest: f64,
    /// force of the others over that of a new set
    pub others: f64,
}

impl Weak {
    /// That of a machine, if its first shoe touches at a lower speed than with a whole new set.
    pub fn of(machine: &Machine) -> Option<Self> {
        let mut renewed = machine.clone();
        renewed.fit_set();
        let middle = |machine: &Machine| machine.weakest_of_middle().1;
        let (weakest, others) = machine.weakest_of_middle();
        (renewed.first_touch() > machine.first_touch()).then(|| Self { weakest, others: others / middle(&renewed) })
    }
}

/// A part hotter in a use than the model is valid: no hours can be given.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Beyond {
    /// its temperature, K
    pub peak: f64,
    /// highest temperature at which the model is valid, K
    pub limit: f64,
}

impl Beyond {
    /// That of a run, if there is one.
    pub fn of(run: &Run) -> Option<Self> {
        run.warned(Warned::Beyond).map(|warning| Self { peak: warning.value, limit: warning.limit })
    }
}

/// A speed held by a use below the lock-up speed, so that the clutch slips permanently.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Slipping {
    /// held speed, m/s
    pub held: f64,
    /// lowest steady speed without slip, m/s
    pub lock: f64,
}

/// An assumption of an answer, with its values. SI units.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Assumed {
    /// wear constant of the fibre washer on steel; no value has been published
    WasherWear {
        /// factor of uncertainty either way
        factor: f64,
    },
    /// wear constant of the washer, of which a calibration learned one or both
    LearnedWasher {
        /// factor of uncertainty either way where it is oiled
        oiled: f64,
        /// factor of uncertainty either way where it is dry
        dry: f64,
    },
    /// chain misalignment
    Misalignment {
        /// angle, rad
        angle: f64,
    },
    /// sizes uniformly distributed within their tolerances
    EvenSizes,
    /// wear of bronze on steel
    BronzeOnSteel {
        /// factor of its uncertainty
        factor: f64,
    },
    /// end leakage of the bushing at 80 °C and 2500 rpm, which nobody has measured
    EndLeakage {
        /// value used, 1/s
        leak: f64,
        /// smallest possible value, 1/s
        least: f64,
        /// largest possible value, 1/s
        most: f64,
        /// a hundredth of a full bushing's oil, a loss that can be weighed, kg
        hundredth: f64,
    },
    /// time in which the pores soak up oil at 80 °C
    Soaking {
        /// value used, s
        time: f64,
        /// smallest possible value, s
        least: f64,
        /// largest possible value, s
        most: f64,
    },
    /// life of the oil in heat, at 100 °C
    OilLife {
        /// value used, s
        life: f64,
        /// smallest possible value, s
        least: f64,
        /// largest possible value, s
        most: f64,
    },
    /// share of thrown oil that lands on the lining, and the rate at which slip wipes it off
    OilOnLining {
        /// share
        share: f64,
    },
    /// wear constants of lining, washer and bushing; lives are those of the first worn part, oil excluded
    WearConstants,
    /// those of them that a calibration did not learn
    OtherWearConstants,
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
    /// scatter of the springs' forces within a clutch and between lots, and of tachometers, as standard deviations
    SpringScatter {
        /// of forces, as a share
        springs: f64,
        /// of a tachometer, as a share
        tachometer: f64,
    },
    /// what holds the idle, if the machine does not state it: drag is that of the worse kind, life that on a throttle stop
    KindOfIdle,
    /// the machine has springs of a force of their own, a weak or broken one or another lot, and each spring is judged as a new set
    NewSet,
    /// a torque curve sketched from a rated power, with the shape of another motor's
    SketchedTorque {
        /// rated power, W
        power: f64,
        /// rated speed, rad/s
        speed: f64,
    },
}
