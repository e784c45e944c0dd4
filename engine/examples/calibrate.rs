//! A washer's wear constant learned from three readings of its thickness.
#![allow(clippy::print_stdout)]

use slipsoak_engine::calibrate::{Inspected, Problem, Quantity, Read, Under, Unsolved, When};
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::parts::{Machine, settings};
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::units::{HOUR, KM_H};

fn main() -> Result<(), Unsolved> {
    let block = vec![
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 25.0 * KM_H, within: 30.0 }),
        Segment::Ride(Task::Hold(16.0 * KM_H), End::After(240.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 30.0 }),
    ];
    let (under, quantity, gauge, line) = (Under::default(), Quantity::Washer, 0.01e-3, 0);
    let read = |(at, value)| Read { clutch: "A".into(), when: When::Running(at), quantity, under, value, gauge, line };
    let reads = [(0.0, 0.76e-3), (60.0 * HOUR, 0.74e-3), (200.0 * HOUR, 0.69e-3)].map(read).to_vec();
    let sought = vec![&settings::washer::wear_oiled];
    let mut problem = Problem::new(Machine::default(), sought, (5.0 * HOUR, Skipping::default()));
    problem.inspected.push(Inspected { duty: "stop and go".into(), block, reads });
    let learned = &problem.solve(1, 1)?.constants[0];
    println!("{}: {:.3e} {}, within a factor of {:.2}", learned.path, learned.value, learned.unit, learned.factor);
    Ok(())
}
