//! A block that clutches under calibration are put through.

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::units::HOUR;

/// A start, a ride and a night: every block resembles the last, so almost all are skipped.
pub fn start_and_night() -> Vec<Segment> {
    vec![
        Segment::Ride(Task::Idle, End::After(20.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 8.0, within: 30.0 }),
        Segment::Ride(Task::Hold(4.5), End::After(240.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 30.0 }),
        Segment::Ride(Task::Off, End::After(14.0 * HOUR)),
    ]
}
