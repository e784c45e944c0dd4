//! What the rider does in a segment.

use super::names;
use crate::duty::Task;

names! {
    /// What the rider does in a segment.
    TaskName {
        Idle = "idle",
        Throttle = "throttle",
        Hold = "hold",
        Coast = "coast",
        Brake = "brake",
        Follow = "follow",
        Off = "off",
    }
}

impl From<&Task> for TaskName {
    fn from(task: &Task) -> Self {
        match task {
            Task::Idle => Self::Idle,
            Task::Throttle(_) => Self::Throttle,
            Task::Hold(_) => Self::Hold,
            Task::Coast => Self::Coast,
            Task::Brake(_) => Self::Brake,
            Task::Follow(_) => Self::Follow,
            Task::Off => Self::Off,
        }
    }
}
