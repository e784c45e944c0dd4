//! Readings at an age that the machine does not reach under its duty.

use super::Read;
use super::problem::Problem;
use crate::parts::Machine;
use crate::simulate::Failure;

/// Share of an age up to which it counts as reached.
const REACHED: f64 = 1.0 - 1e-6;

/// A reading at an age that the machine does not reach.
#[derive(Clone, Debug, PartialEq)]
pub struct Unreached {
    /// number of its duty among the inspected ones
    pub duty: usize,
    /// the reading
    pub read: Read,
    /// the age at which the machine no longer runs, by the count of the reading: s, or launches
    pub reached: f64,
}

impl Problem {
    /// The first reading at an age that none of these machines reaches.
    pub(super) fn unreached(&self, machines: &[Machine]) -> Result<Option<Unreached>, Failure> {
        let mut reached = vec![];
        for machine in machines {
            let shown = self.shown_once(machine)?;
            reached.resize(shown.reads.len(), 0.0);
            reached.iter_mut().zip(&shown.reads).for_each(|(age, read)| *age = f64::max(*age, read.2));
        }
        let reads = self.inspected.iter().enumerate().flat_map(|(duty, g)| g.reads.iter().map(move |r| (duty, r)));
        let first = reads.zip(reached).find(|((_, read), age)| *age < REACHED * read.when.wanted());
        Ok(first.map(|((duty, read), reached)| Unreached { duty, read: read.clone(), reached }))
    }
}
