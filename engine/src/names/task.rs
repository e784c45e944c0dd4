//! What the rider does in a segment.

use super::names;

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
