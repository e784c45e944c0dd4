//! Readings that no value of a constant explains.

use super::problem::Problem;
use super::{Fitted, Measured, Read, When};
use crate::simulate::Failure;
use std::f64::consts::SQRT_2;

/// Deviations by which a reading has to lie beyond all that a constant explains: by chance once in 44 readings.
const BEYOND: f64 = 2.0;
/// The same, where a search that the readings pull in several directions has ended between them.
const FAR_BEYOND: f64 = 5.0;
/// Scatter of the residuals over that stated from which that is looked for.
const SCATTERED: f64 = 3.0;

/// A reading that no value of a constant explains.
#[derive(Clone, Debug, PartialEq)]
pub struct Unexplained {
    /// dotted path of the constant
    pub path: &'static str,
    /// number of its duty among the inspected ones
    pub duty: usize,
    /// the reading
    pub read: Read,
    /// the earlier reading of the same clutch that it contradicts; none if it is the only one
    pub earlier: Option<Read>,
    /// the nearest that the machine can come to, from the earlier reading on, SI
    pub nearest: f64,
}

impl Problem {
    /// The reading that lies farthest beyond what a constant explains, where the fit has pushed it as far from its start as it has an
    /// effect.
    pub(super) fn unexplained(&self, k: usize, starts: &[f64], fitted: &[f64]) -> Result<Option<Unexplained>, Failure> {
        let (values, up) = self.pushed(k, starts, fitted);
        self.farthest((k, &self.slopes(starts)?[k]), &values, up, BEYOND)
    }

    /// The same where the search ended within the range, and the readings scatter far more than stated.
    pub(super) fn scattered(&self, starts: &[f64], fitted: &Fitted) -> Result<Option<Unexplained>, Failure> {
        if fitted.widened < SCATTERED {
            return Ok(None);
        }
        for k in 0..self.sought.len() {
            let (values, up) = self.pushed(k, starts, &fitted.values);
            let found = self.farthest((k, &self.slopes(starts)?[k]), &values, up, FAR_BEYOND)?;
            if found.is_some() {
                return Ok(found);
            }
        }
        Ok(None)
    }

    /// The values with a constant at the end of its range to which the search moved it, and whether that lies up or down. Running-in
    /// takes from a part and adds nothing.
    fn pushed(&self, k: usize, starts: &[f64], fitted: &[f64]) -> (Vec<f64>, f64) {
        let mut values = fitted.to_vec();
        values[self.sought.len()..self.first_delay()].iter_mut().for_each(|depth| *depth = depth.max(0.0));
        let up = (values[k] - starts[k]).signum();
        values[k] = if up < 0.0 { self.sought[k].least } else { self.sought[k].most };
        (values, up)
    }

    /// Whether readings lie so far from what the machine shows that a constant is determined which hardly moves them at its start.
    pub(super) fn far_off(&self, k: usize, starts: &[f64]) -> Result<bool, Failure> {
        let slopes = &self.slopes(starts)?[k];
        let on = |up: f64| self.farthest((k, slopes), starts, up, BEYOND);
        Ok(on(1.0)?.or(on(-1.0)?).is_some())
    }

    /// The reading that, with these values, lies farthest on the side to which a constant that goes up or down has not brought it.
    fn farthest(
        &self,
        (k, slopes): (usize, &[f64]),
        values: &[f64],
        up: f64,
        mut most: f64,
    ) -> Result<Option<Unexplained>, Failure> {
        let residuals = self.residuals(values)?;
        let predicted = self.predicted(&self.shown_once(&self.machine_with(values))?, values);
        let groups = self.inspected.iter().enumerate();
        let reads: Vec<(usize, &Read)> = groups.flat_map(|(duty, g)| g.reads.iter().map(move |r| (duty, r))).collect();
        let beyond = |slope: f64, residual: f64| if slope == 0.0 { 0.0 } else { -up * slope.signum() * residual };
        let (path, mut farthest) = (self.sought[k].path, None);
        for (members, _) in self.levels() {
            let members: Vec<usize> = members.into_iter().filter(|i| *i < reads.len()).collect();
            let alone = members.len() == 1;
            let pairs = members.iter().flat_map(|j| members.iter().map(move |i| (*i, *j)));
            for (i, j) in pairs.filter(|(i, j)| alone || before(reads[*i].1, reads[*j].1)) {
                let ((duty, read), earlier) = (reads[j], (!alone).then(|| reads[i].1));
                let (off, nearest) = match earlier {
                    None => (beyond(slopes[j], residuals[j]), predicted[j]),
                    Some(earlier) => (
                        beyond(slopes[j] - slopes[i], (residuals[j] - residuals[i]) / SQRT_2),
                        earlier.value + predicted[j] - predicted[i],
                    ),
                };
                if off > most {
                    most = off;
                    farthest = Some(Unexplained { path, duty, read: read.clone(), earlier: earlier.cloned(), nearest });
                }
            }
        }
        Ok(farthest)
    }
}

/// Whether a reading was made before another.
fn before(one: &Read, other: &Read) -> bool {
    match (one.when, other.when) {
        (When::Running(a), When::Running(b)) | (When::Launches(a), When::Launches(b)) => a < b,
        _ => false,
    }
}
