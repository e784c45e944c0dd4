//! The reference problem's day: cost of each contestant at the cheapest tolerance that keeps its allowed error.

use crate::contest::Contestant;
use crate::duty_cases::processor_time;
use crate::reference::{Day, Machine, Steps};
use slipsoak_engine::numerics::{Ended, Stepper, Stuck};
use slipsoak_engine::simulate::Integrator;
use std::fmt::Write;

/// Allowed errors of speeds, rad/s for each kelvin, and of all, K, that are tried.
const WEIGHTS: [f64; 5] = [0.5, 1.0, 3.0, 10.0, 30.0];
const TOLERANCES: (f64, u32) = (3.0, 20);
/// As in the bench of the stepper.
const SHIPPED: (f64, f64) = (10.0, 1.5);

struct Any(Box<dyn Integrator>);

impl Steps for Any {
    fn advance(
        &mut self,
        machine: &mut Machine,
        t: &mut f64,
        end: f64,
        y: &mut [f64],
        slow: &mut [f64],
    ) -> Result<Ended, Stuck> {
        self.0.advance(machine, t, end, y, slow)
    }
}

/// Error of a day, relative to the allowed one, infinite where it fails, and processor time, ms.
fn ride(contestant: &Contestant, (weight, tolerance): (f64, f64)) -> (f64, f64) {
    let machine = Machine::new(weight);
    let start = processor_time();
    let error = match contestant.make {
        Some(make) => Day::by(Any(make(tolerance)), machine).error(),
        None => Day::by(Stepper::new(&machine, tolerance), machine).error(),
    };
    (error.unwrap_or(f64::INFINITY), processor_time() - start)
}

/// The cheapest of the tolerances that keeps the allowed error.
fn cheapest(contestant: &Contestant) -> Option<(f64, f64)> {
    let mut best: Option<((f64, f64), f64)> = None;
    for weight in WEIGHTS {
        for k in 0..TOLERANCES.1 {
            let at = (weight, TOLERANCES.0 * 0.5_f64.powf(0.5 * f64::from(k)));
            let (error, time) = ride(contestant, at);
            eprintln!("{:<28} {weight:5.1} {:8.4}  error {error:8.3}  {time:8.1} ms", contestant.name, at.1);
            if error <= 1.0 && best.is_none_or(|(_, least)| time < least) {
                best = Some((at, time));
            }
            // Closer ones cost more.
            if error <= 0.2 || best.is_some_and(|(_, least)| time > 1.5 * least) {
                break;
            }
        }
    }
    best.map(|(at, _)| at)
}

/// Rows of all contestants, the stepper as shipped first: error, and median of the processor time in turn.
pub fn table(contestants: &[Contestant], runs: usize) -> String {
    let mut entries = vec![(&contestants[0], SHIPPED)];
    entries.extend(contestants.iter().filter_map(|one| cheapest(one).map(|at| (one, at))));
    let mut times = vec![vec![]; entries.len()];
    for _ in 0..runs {
        for ((contestant, at), times) in entries.iter().zip(&mut times) {
            times.push(ride(contestant, *at).1);
        }
    }
    let times: Vec<f64> = times.into_iter().map(crate::median).collect();
    let mut text = "The reference problem's day: error of at most what is allowed\n\n\
        | integrator | speeds, rad/s for each K | tolerance, K | share of the allowed error | ms | over the shipped stepper |\n\
        |---|---|---|---|---|---|\n"
        .to_owned();
    for (((contestant, at), time), k) in entries.iter().zip(&times).zip(0..) {
        let shipped = if k == 0 { ", as shipped" } else { "" };
        let (error, over) = (ride(contestant, *at).0, time / times[0]);
        let _ = writeln!(
            text,
            "| {}{shipped} | {} | {:.4} | {error:.2} | {time:.1} | {over:.2} |",
            contestant.name, at.0, at.1
        );
    }
    text.push('\n');
    text
}
