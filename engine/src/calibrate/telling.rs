//! Readings that tell of the sought constants, and those that do not.

use super::problem::Problem;
use super::{Measured, Quantity};
use crate::parts::Parameter;
use crate::simulate::Failure;
use std::collections::BTreeSet;

/// A quantity that changes by no more than this share of its deviation per factor of e of a constant carries no
/// information on the constant.
const UNMOVED: f64 = 0.05;

impl Problem {
    /// Sets aside the readings that no fitted constant affects. They carry no information, and an error in a constant of
    /// their own would widen errors of the fitted ones. Returns the number of readings set aside for each duty.
    pub fn set_aside_unmoved(&mut self) -> Result<Vec<u64>, Failure> {
        let starts: Vec<f64> = self.constants().iter().map(|c| c.start).collect();
        let columns = self.slopes(&starts)?;
        let sought = || columns.iter().zip(&starts).take(self.sought.len());
        let reads = self.inspected.iter().flat_map(|g| &g.reads).map(|r| r.quantity);
        let moves = |i: usize| sought().any(|(column, start)| (column[i] * start).abs() > UNMOVED);
        let moved: BTreeSet<Quantity> = reads.enumerate().filter(|(i, _)| moves(*i)).map(|(_, q)| q).collect();
        if moved.is_empty() {
            return Ok(vec![0; self.inspected.len()]);
        }
        self.running_in.retain(|q| moved.contains(q));
        let reads = self.inspected.iter().flat_map(|g| &g.reads).map(|r| moved.contains(&r.quantity));
        let kept: Vec<bool> = reads.collect();
        // The other readings of a clutch are the same without those set aside.
        for shown in self.seen.get_mut().into_iter().flat_map(|seen| seen.values_mut()) {
            let mut kept = kept.iter().copied();
            shown.reads.retain(|_| kept.next().unwrap_or(true));
        }
        let taken = self.inspected.iter_mut().map(|group| {
            let whole = group.reads.len();
            group.reads.retain(|r| moved.contains(&r.quantity));
            (whole - group.reads.len()) as u64
        });
        Ok(taken.collect())
    }

    /// The constant, of those that a quantity teaches, which its readings determine best compared with what was known of it.
    pub fn taught_best(&mut self, quantity: Quantity) -> Result<Option<&'static Parameter>, Failure> {
        let possible = quantity.row().teaches.iter().copied();
        let possible: Vec<&'static Parameter> = possible.filter(|p| (p.of)(&self.machine) > 0.0).collect();
        let [_, _, ..] = possible[..] else { return Ok(possible.first().copied()) };
        let sought = std::mem::replace(&mut self.sought, possible.clone());
        let constants = self.constants();
        let starts: Vec<f64> = constants.iter().map(|c| c.start).collect();
        let columns = self.slopes(&starts);
        self.sought = sought;
        let columns = columns?;
        let own = self.inspected.iter().flat_map(|g| &g.reads).map(|r| r.quantity == quantity);
        let own: Vec<bool> = own.collect();
        let tells = |k: usize| {
            let moved =
                columns[k].iter().zip(&own).filter(|(_, own)| **own).map(|(slope, _)| slope * slope).sum::<f64>();
            moved.sqrt() * starts[k] * constants[k].known.unwrap_or(0.0)
        };
        // The first of equal ones: an unmoved constant does not displace it.
        Ok((0..possible.len()).reduce(|best, k| if tells(k) > tells(best) { k } else { best }).map(|k| possible[k]))
    }
}
