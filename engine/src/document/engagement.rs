//! Torques over the motor's speed, and the speeds at which a clutch touches and locks.

use super::columns::round;
use super::sound::require;
use serde::{Deserialize, Serialize};

/// Torques of motor, clutch and vehicle over the motor's speed, for a new clutch at 20 °C.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Engagement {
    /// speeds of the motor, rising, rad/s
    pub speed: Vec<f64>,
    /// torque of the motor at full throttle under its top governor, N·m
    pub motor: Vec<f64>,
    /// torque capacity of the clutch, N·m
    pub capacity: Vec<f64>,
    /// torque at the drum to hold the vehicle at the speed of the locked clutch, N·m
    pub load: Vec<f64>,
    /// full-throttle slip speed, the lowest speed of lock-up at full throttle, rad/s; none if the clutch never
    /// transmits the motor's torque
    pub balance: Option<f64>,
    /// least and greatest idle of nine motors in ten, rad/s, by the assumed variation or that of the script; none
    /// without either
    #[serde(default)]
    pub idle: Option<(f64, f64)>,
    /// engagement speed with a new lining when the springs have their highest temperature of the run and have relaxed
    /// for 300 h at that temperature, rad/s; none if the run was not recorded
    #[serde(default)]
    pub settled: Option<f64>,
    /// the same with a whole new set of springs, rad/s; none where they are no weaker than that
    #[serde(default)]
    pub renewed: Option<f64>,
    /// engagement speed, rad/s: the shoe with the weakest spring touches, 0 if that spring is broken; none in results of
    /// earlier versions
    #[serde(default)]
    pub first: Option<f64>,
    /// lowest speed of the drum at which the clutch stays locked, rad/s; none in results of earlier versions
    #[serde(default)]
    pub lock: Option<f64>,
}

impl Engagement {
    /// Rounds the curves as they are saved.
    pub(super) fn round(&mut self) {
        for column in [&mut self.speed, &mut self.motor, &mut self.capacity, &mut self.load] {
            round(column);
        }
    }

    /// Checks that the curves are of one length; `of` names a part of the run.
    pub(super) fn consistent(&self, of: &impl Fn(&str) -> String) -> Result<(), String> {
        let alike = [&self.motor, &self.capacity, &self.load].iter().all(|column| column.len() == self.speed.len());
        require(alike && self.speed.len() > 1, &of("engagement"), "its columns are not of one length")
    }
}
