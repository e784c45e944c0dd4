//! Sweeps: one case for all combinations of settings.

use super::Case;
use crate::document::sweep::Summary;
use crate::parallel::each;
use crate::parts::{Machine, Parameter};
use crate::simulate::Failure;

/// Number of windows recorded in each run, as in any run.
const WINDOWS: usize = 600;

/// One combination of a sweep.
#[derive(Clone, Debug, PartialEq)]
pub struct Combination {
    /// index of its value on each axis
    pub place: Vec<usize>,
    /// summary of its run, or the reason why it could not be computed
    pub summary: Result<Summary, Failure>,
}

/// Machines of all combinations of values, SI, each with its indices on the axes; the last axis varies fastest.
///
/// ```
/// use slipsoak_engine::parts::{Machine, parameter};
/// use slipsoak_engine::studies::crossed;
/// let axes = [(parameter("motor.idle").unwrap(), vec![150.0, 160.0]), (parameter("clutch.shoes").unwrap(), vec![2.0, 3.0])];
/// let all = crossed(&Machine::default(), &axes);
/// assert_eq!(all.len(), 4);
/// assert_eq!((all[1].0.as_slice(), all[1].1.motor.idle), ([0, 1].as_slice(), 150.0));
/// ```
pub fn crossed(machine: &Machine, axes: &[(&'static Parameter, Vec<f64>)]) -> Vec<(Vec<usize>, Machine)> {
    let mut all = vec![(vec![], machine.clone())];
    for (setting, values) in axes {
        let step = |(place, machine): &(Vec<usize>, Machine)| {
            let (place, machine) = (place.clone(), machine.clone());
            values.iter().enumerate().map(move |(k, value)| {
                let mut own = (place.clone(), machine.clone());
                own.0.push(k);
                own.1.change(|m| (setting.put)(m, *value));
                own
            })
        };
        all = all.iter().flat_map(step).collect();
    }
    all
}

/// Runs all combinations of values, SI, for a case's machine.
pub fn sweep(case: &Case, axes: &[(&'static Parameter, Vec<f64>)]) -> Vec<Combination> {
    let all = crossed(&case.machine, axes);
    each(all.len(), |k| {
        let (place, machine) = all[k].clone();
        Combination { place, summary: case.life(machine, WINDOWS).map(|run| Summary::of(&run)) }
    })
}
