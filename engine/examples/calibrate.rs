//! A washer's wear constant learned from three readings of its thickness.
#![allow(clippy::print_stdout)]

use slipsoak_engine::calibrate::{Inspected, Problem, Quantity, Read, Under, Unsolved, When, setting};
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::Skipping;
use slipsoak_engine::units::{hours, km_h, mm};

fn main() -> Result<(), Unsolved> {
    let block = vec![
        Segment::Ride(Task::Throttle(1.0), End::Reached { speed: km_h(25.0), within: 30.0 }),
        Segment::Ride(Task::Hold(km_h(16.0)), End::After(240.0)),
        Segment::Ride(Task::Brake(1.5), End::Still { within: 30.0 }),
    ];
    let (clutch, quantity, gauge) = ("A".to_owned(), Quantity::Washer, mm(0.01));
    let under = Under::default();
    let read =
        |(time, value)| Read { clutch: clutch.clone(), when: When::Running(time), quantity, under, value, gauge };
    let reads = [(hours(0.0), mm(0.76)), (hours(60.0), mm(0.74)), (hours(200.0), mm(0.69))].map(read).to_vec();
    let sought = setting("washer.wear_oiled").into_iter().collect();
    let mut problem = Problem::new(Machine::default(), sought, (hours(5.0), Skipping::default()));
    problem.inspected.push(Inspected { duty: "stop and go".into(), block, reads });
    let learned = &problem.solve(1, 1)?.constants[0];
    println!("{}: {:.3e} {}, within a factor of {:.2}", learned.path, learned.value, learned.unit, learned.factor);
    Ok(())
}
