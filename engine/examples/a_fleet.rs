//! Twelve clutches sampled over the uncertain settings, under stop-and-go for up to 600 hours.
#![allow(clippy::print_stdout)]

use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::studies::{Case, fleet};
use slipsoak_engine::units::{HOUR, KM_H};

fn main() {
    let block = vec![
        Segment::Ride(Task::Idle, End::After(20.0)),
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 60.0 }),
        Segment::Ride(Task::Hold(25.0 * KM_H), End::After(30.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 60.0 }),
    ];
    let (fleet, _) = fleet(&Case::new(Machine::default(), "stop and go", block, 600.0 * HOUR), 12, 1);
    for milestone in &fleet.end_running {
        println!(
            "{}: {}",
            milestone.name,
            milestone.time.estimate.map_or("later".to_owned(), |t| format!("{:.0} h", t / HOUR))
        );
    }
}
