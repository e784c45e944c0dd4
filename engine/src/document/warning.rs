//! Warnings of a run: what each is about, what was found, and the limit.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something the reader should know: a limit exceeded, or what went otherwise than asked.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Warning {
    /// what it is about
    pub kind: Warned,
    /// what was found, SI
    pub value: f64,
    /// what it is held against, SI; 0 where there is no limit
    pub limit: f64,
}

/// What a warning is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Warned {
    /// the clutch slips while the motor idles: mean power of the worst idling, W
    Drag,
    /// with the brake off the machine sets off by itself at idle: how often
    Creep,
    /// peak of the lining's surface, K, over its limit
    Lining,
    /// peak of a resin-bonded lining, K, over what its bond stands
    Bond,
    /// peak of the hottest part, K, beyond what the laws are made for
    Beyond,
    /// peak of the bushing, K, over that above which its oil degrades
    Bushing,
    /// peak of the washer, K, over its limit
    Washer,
    /// peak of the washer while it was dry, K, over the limit of a dry one
    DryWasher,
    /// peak of the shoes with their springs, K, over the limit of the springs' wire
    Springs,
    /// the oil was spent: after how much running, s
    Dry,
    /// the lining was worn through before the end: after how much running, s, and its thickness, m
    WornThrough,
    /// the bushing's wall was worn through before the end: after how much running, s, and its thickness, m
    BushingThrough,
    /// the washer was worn through before the end: after how much running, s, and its thickness, m
    WasherThrough,
    /// the machine rolled backward: how fast, m/s
    RolledBack,
    /// the slowest speed held below that of locking up, and that speed, m/s
    HeldSpeed,
    /// greatest speed reached, and the one asked for, m/s: motor and gearing cannot follow
    OutOfReach,
    /// launches that did not reach their speed in time
    Launch,
    /// brakings that did not come down to their speed in time
    Brake,
    /// when the motor stalled first, s
    Stall,
}

impl Warned {
    /// One word for it, as in tables of sweeps.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Drag => "drag",
            Self::Creep => "creep",
            Self::Lining => "lining",
            Self::Bond => "lining bond",
            Self::Beyond => "beyond the model",
            Self::Bushing => "bushing",
            Self::Washer => "washer",
            Self::DryWasher => "dry washer",
            Self::Springs => "springs",
            Self::Dry => "oil spent",
            Self::WornThrough => "worn through",
            Self::BushingThrough => "bushing worn through",
            Self::WasherThrough => "washer worn through",
            Self::RolledBack => "rolled back",
            Self::HeldSpeed => "held speed",
            Self::OutOfReach => "speed out of reach",
            Self::Launch => "launch",
            Self::Brake => "brake",
            Self::Stall => "stall",
        }
    }
}
