//! Tasks of the rider.

use super::names;

names! {
    /// Task of the rider in a segment.
    TaskName {
        Idle = "idle",
        FastIdle = "fast idle",
        Throttle = "throttle",
        Hold = "hold",
        Coast = "coast",
        Brake = "brake",
        Follow = "follow",
        Off = "off",
    }
}
