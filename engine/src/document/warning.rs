//! Warnings of a run: kind, value, and limit.

use serde::{Deserialize, Serialize};

/// A warning: a limit exceeded, or a departure from the duty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Warning {
    /// kind
    pub kind: Warned,
    /// value, SI
    pub value: f64,
    /// limit, SI; 0 without a limit
    pub limit: f64,
}

/// Kind of a warning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Warned {
    /// the clutch slips while the motor idles: mean slip power of the worst idling, W
    Drag,
    /// a shoe drags at idle by its weak or broken spring, where most of the shoes would not: mean slip power of the worst
    /// idling, W, and the force of that spring over that of the others
    WeakShoe,
    /// with the brake off the dragging clutch moves the machine off at idle: number of times
    Creep,
    /// with the brake off the bushing's friction alone moves the machine off at idle: the coldest bushing that did, K
    BushingDrives,
    /// peak of the lining's surface, K, and its limit
    Lining,
    /// peak of a resin-bonded lining, K, and the limit of its bond
    Bond,
    /// peak of the hottest part, K, and the limit up to which the laws are valid
    Beyond,
    /// hottest face with oil on it, or bushing with oil in it, K, and the temperature from which that oil smokes
    Smokes,
    /// the same, and the temperature from which its vapour can be lit
    Vapour,
    /// the same, and the temperature from which it may catch fire without a spark
    Fire,
    /// the bushing held oil of which some stays on a lining, as PTFE, silicone and friction modifiers do: its greatest share of the oil
    Additive,
    /// mean slip power while it was above its limit for more than some seconds, W, and that limit
    LetGo,
    /// glaze of the lining, 0 to 1, and the share from which it is noticed
    Glaze,
    /// temperature at which the run was stopped, K, and that limit
    TooHot,
    /// peak of the bushing, K, and the temperature above which its oil degrades
    Bushing,
    /// peak of the washer, K, and its limit
    Washer,
    /// peak of the washer while it was dry, K, and the limit of a dry one
    DryWasher,
    /// peak of the washer, K, and the temperature at which it chars within a day
    Chars,
    /// load of the bushing times its sliding speed, mean over a launch or while it was above half the limit for more
    /// than a minute, Pa·m/s, and the limit that this exceeds
    BushingLoad,
    /// the bushing scored and is heard: running time, s
    Squeals,
    /// the scored bushing grabbed its shaft and drove the drum: running time, s
    Grabs,
    /// the bushing seized, and the machine stood from there on: running time, s
    Seizes,
    /// peak of the shoes with their springs, K, and the limit of the springs' wire
    Springs,
    /// the bushing ran dry: running time, s
    Dry,
    /// the lining was worn through before the end: running time, s, and its thickness, m
    WornThrough,
    /// the bushing's wall was worn through before the end: running time, s, and its thickness, m
    BushingThrough,
    /// the washer was worn through before the end: running time, s, and its thickness, m
    WasherThrough,
    /// the machine rolled backward: greatest speed, m/s, and distance, m
    RolledBack,
    /// the clutch let go on a descent: the road speed, m/s, and the speed of the motor, rad/s, below which it did
    NoBraking,
    /// the slipping clutch alone held the machine on a slope: time, s, and mean slip power, W
    HeldOnSlope,
    /// the slowest speed held below lock-up, and the lock-up speed, m/s
    HeldSpeed,
    /// highest speed reached, and the target speed, m/s: motor and gearing cannot reach it
    OutOfReach,
    /// starts that failed, fewer than half of all: launches that did not reach their speed in time, and throttle that moved nothing; their
    /// number, and that of all starts
    Launch,
    /// the same of half of all or more: the machine does not do what is asked of it
    TooSlow,
    /// the motor was driven above its governed speed without load, downhill: greatest speed, and a tenth above that speed, rad/s
    Overspeed,
    /// with the brake off the machine rolled downhill without the clutch: greatest speed, m/s
    RollsFree,
    /// with the brake off a slope carried the machine off, faster than the motor drives it, or backward faster than a walk: greatest speed,
    /// and that limit, m/s
    RunsAway,
    /// on a descent a held speed was exceeded, since neither motor nor clutch brakes there: the speed reached, and the one held, m/s
    Overrun,
    /// number of brake tasks that did not reach their speed in time
    Brake,
    /// time at which the motor first stalled, s
    Stall,
}

impl Warned {
    /// Its name in one word, as in tables of sweeps.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Drag => "drag",
            Self::WeakShoe => "one shoe",
            Self::Creep => "creep",
            Self::BushingDrives => "bushing drives it",
            Self::Lining => "lining",
            Self::Bond => "lining bond",
            Self::Beyond => "beyond the model",
            Self::TooHot => "stopped by heat",
            Self::Smokes => "oil smoke",
            Self::Vapour => "oil vapour",
            Self::Fire => "oil fire",
            Self::Additive => "wrong oil",
            Self::LetGo => "burning clutch",
            Self::Glaze => "lining glaze",
            Self::Bushing => "bushing",
            Self::Washer => "washer",
            Self::DryWasher => "dry washer",
            Self::Chars => "washer chars",
            Self::BushingLoad => "bushing load",
            Self::Squeals => "bushing squeals",
            Self::Grabs => "bushing grabs",
            Self::Seizes => "bushing seized",
            Self::Springs => "springs",
            Self::Dry => "oil spent",
            Self::WornThrough => "worn through",
            Self::BushingThrough => "bushing worn through",
            Self::WasherThrough => "washer worn through",
            Self::RolledBack => "rolled back",
            Self::NoBraking => "no motor braking",
            Self::HeldOnSlope => "held on a slope",
            Self::HeldSpeed => "held speed",
            Self::OutOfReach => "speed out of reach",
            Self::Launch => "launch",
            Self::TooSlow => "too slow",
            Self::Overspeed => "overspeed",
            Self::RollsFree => "rolls free",
            Self::RunsAway => "runs away",
            Self::Overrun => "ran faster than held",
            Self::Brake => "brake",
            Self::Stall => "stall",
        }
    }
}
