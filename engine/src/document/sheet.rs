//! The sheet of one machine: properties derived from its settings, and one launch.

use super::Is;
use super::finding::{Spent, Weak};
use super::head::Head;
use super::hill_start::HillStart;
use super::record::Setting;
use super::sound::sound;
use crate::names::LiningKind;
use serde::{Deserialize, Serialize};

/// The sheet, SI.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// kind of document
    pub kind: Is<Sheet>,
    /// program that wrote it, inputs, and the command that gives it again
    pub head: Head,
    /// machine
    pub name: String,
    /// speed at which the shoes leave their seats, rad/s
    pub lift_off: f64,
    /// speed at which the first of them touches the drum, rad/s; 0 if its spring is broken
    pub engagement: f64,
    /// idle speed, rad/s
    pub idle: f64,
    /// how far above the idle it has to engage for the idle's variation and the tolerances of springs and tachometer, rad/s
    pub needed: f64,
    /// springs weaker than a whole new set; none if they are not
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weak: Option<Weak>,
    /// speed at which the first shoe touches with a whole new set, and how far above the idle that has to be, rad/s
    pub renewed: (f64, f64),
    /// parts to replace before it is ridden
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub spent: Vec<Spent>,
    /// whether the oil is one of which some stays on a lining
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub wrong_oil: bool,
    /// temperature of a cold bushing whose friction moves the machine off at the highest idle with the brake off, K; none if it stands
    pub driven_at: Option<f64>,
    /// (motor speed rad/s, torque capacity of the clutch N·m)
    pub capacity: Vec<(f64, f64)>,
    /// full-throttle slip speed of the motor, rad/s; none if the clutch never transmits the full-throttle torque
    pub balance: Option<f64>,
    /// lock-up speed: at a lower held speed the clutch slips permanently, m/s
    pub lock_speed: f64,
    /// vehicle speed at which the clutch locks up at full throttle, m/s
    pub lock: Option<f64>,
    /// gap between drum and cover: nominal, worst case, RSS, m
    pub cover_gap: Stack,
    /// oil capacity of the bushing's pores, m³
    pub oil: f64,
    /// the same in drops
    pub oil_drops: f64,
    /// one launch from standstill at full throttle
    pub launch: Launch,
    /// a start on that slope when the machine is warm from stop-and-go on level ground; none on level ground or downhill, or if it
    /// does not start there
    pub warm: Option<HillStart>,
    /// material of the lining
    #[serde(default, skip_serializing_if = "LiningKind::is_woven")]
    pub lining_kind: LiningKind,
    /// speed at which the shoes touch the drum with springs chosen for a woven lining, rad/s; none if the lining is woven
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub woven_springs: Option<f64>,
    /// settings set by hand that could follow from geometry and masses
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub by_hand: Vec<Setting>,
}

/// A gap with its tolerances.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Stack {
    /// nominal, m
    pub nominal: f64,
    /// worst case, m
    pub worst: f64,
    /// RSS, m
    pub likely: f64,
}

/// One launch.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Launch {
    /// target speed, m/s
    pub speed: f64,
    /// highest speed reached, m/s
    pub reached: f64,
    /// slope, rise over run
    pub grade: f64,
    /// time, s
    pub time: f64,
    /// slip energy, J
    pub heat: f64,
    /// highest lining temperature, K
    pub lining: f64,
    /// temperature over which it must not be, K
    pub limit: Option<f64>,
    /// mean slip power, W, of a clutch that burns: above its limit for longer than a rider bears it
    pub burns: Option<f64>,
}

/// Speed above which a machine counts as moving, m/s.
const MOVES: f64 = 0.05;

impl Launch {
    /// Whether it got to its speed.
    pub fn succeeds(&self) -> bool {
        self.reached >= self.speed * (1.0 - 1e-6)
    }

    /// Whether it moved off at all, and not only by what the steps of a computation allow.
    pub fn moves_off(&self) -> bool {
        self.reached > MOVES
    }
}

impl Sheet {
    /// Checks every index and length on which drawing depends; the error says what is damaged.
    pub(super) fn consistent(&self) -> Result<(), String> {
        sound(self.capacity.iter().flat_map(|c| [c.0, c.1]), "capacity")?;
        sound(
            [
                self.launch.speed,
                self.launch.reached,
                self.launch.grade,
                self.launch.time,
                self.launch.heat,
                self.launch.lining,
            ],
            "launch",
        )?;
        let others = [self.lift_off, self.engagement, self.idle, self.lock_speed, self.oil, self.oil_drops];
        sound([self.needed, self.renewed.0, self.renewed.1], "needed")?;
        sound(others, "engagement")
    }
}
