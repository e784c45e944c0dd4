//! The machine as a whole.

use super::*;
use crate::laws::shoe::Form;
use crate::names::{IdleKind, LiningKind};
use crate::units::rpm;

/// The machine: every part and its surroundings.
#[derive(Clone, Debug, PartialEq)]
#[allow(missing_docs)]
pub struct Machine {
    /// its name
    pub name: String,
    pub motor: Motor,
    /// what holds the idle speed
    pub idle_kind: IdleKind,
    /// full-throttle torque, (rad/s, N·m), speeds rising
    pub torque_curve: Vec<(f64, f64)>,
    pub vehicle: Vehicle,
    pub clutch: Clutch,
    pub springs: Springs,
    pub form: Form,
    /// material of the lining
    pub lining_kind: LiningKind,
    pub lining: Lining,
    pub drum: Drum,
    pub heat: Heat,
    pub bushing: Bushing,
    pub washer: Washer,
    pub cover: Cover,
    pub oiling: Oiling,
    pub oil: Oil,
    pub limits: Limits,
    pub surroundings: Surroundings,
}

impl Default for Machine {
    fn default() -> Self {
        let curve = [
            (1000.0, 5.9),
            (1400.0, 9.3),
            (1800.0, 10.75),
            (2400.0, 11.3),
            (2800.0, 11.2),
            (3200.0, 10.8),
            (3600.0, 10.3),
            (4000.0, 9.6),
        ];
        Self {
            name: "example".to_owned(),
            motor: Motor::default(),
            idle_kind: IdleKind::default(),
            torque_curve: curve.map(|(n, t)| (rpm(n), t)).to_vec(),
            vehicle: Vehicle::default(),
            clutch: Clutch::default(),
            springs: Springs::default(),
            form: Form::default(),
            lining_kind: LiningKind::default(),
            lining: Lining::default(),
            drum: Drum::default(),
            heat: Heat::default(),
            bushing: Bushing::default(),
            washer: Washer::default(),
            cover: Cover::default(),
            oiling: Oiling::default(),
            oil: Oil::default(),
            limits: Limits::default(),
            surroundings: Surroundings::default(),
        }
        .follow()
    }
}
