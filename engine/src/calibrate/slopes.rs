//! Slopes of the readings with respect to the constants.
//!
//! Slopes are central differences over the constant's own value. They are exact for quantities proportional to their
//! constant (wear of its own part, relaxation by the logarithmic law), to the stepper's repeatability. The rest results
//! from runs with events, where a constant also changes times and temperatures, and no law gives the slope. Compared
//! with Richardson's extrapolation from whole and half steps, the error of the differences is 6e-4 to 3e-3 of a
//! column's length for conductances (`engine/tests/learned_intervals.rs`). A search is led by differences from the constant's
//! value to a step above it, which take half the runs; errors and separations are found by the central ones.

use super::problem::{Problem, Shown};
use super::{Constant, Measured};
use crate::parallel::each;
use crate::parts::Machine;
use crate::simulate::Failure;

/// Step of a constant's logarithm for the differences: far above the integrator's scatter, and small enough for
/// linearity.
const STEP: f64 = 0.05;

/// Difference of a constant between its step up and its step down, as a share of it.
/// ```text
/// e^h − e^−h = 2 sinh h
/// ```
pub fn span() -> f64 {
    2.0 * STEP.sinh()
}

impl Problem {
    /// Machines with one constant a step up or a step down, in pairs.
    pub fn stepped(&self, constants: &[f64]) -> Vec<Machine> {
        self.moved(constants, &[STEP, -STEP])
    }

    /// Machines with one constant moved by each of the steps of its logarithm, constant by constant.
    fn moved(&self, constants: &[f64], steps: &[f64]) -> Vec<Machine> {
        let one = |k: usize, step: f64| {
            let mut moved = constants.to_vec();
            moved[k] *= step.exp();
            self.machine_with(&moved)
        };
        (0..self.sought.len())
            .flat_map(|k| steps.iter().map(move |step| (k, *step)))
            .map(|(k, step)| one(k, step))
            .collect()
    }

    /// Slopes for [`super::separate`], along the scales of the learned constants and of running-in, less what clock and lags
    /// of the logs would explain of them. The prior of each running-in depth and of each delay counts as a reading.
    pub fn columns(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Failure> {
        let mut columns = self.slopes(constants)?;
        let known: Vec<Option<f64>> = self.constants().iter().map(|c| c.known).collect();
        let sought = self.sought.len();
        for (k, column) in columns.iter_mut().enumerate() {
            if k < sought {
                for slope in column.iter_mut() {
                    *slope *= constants[k];
                }
            }
            let own = |j: usize, known: f64| if j == k { 1.0 / known } else { 0.0 };
            column.extend(known.iter().enumerate().skip(sought).map(|(j, known)| known.map_or(0.0, |d| own(j, d))));
        }
        let delays = columns.split_off(self.first_delay());
        Ok(less(columns, delays))
    }
}

/// What is left of columns of slopes where others are free: their parts across the space of those.
fn less(mut columns: Vec<Vec<f64>>, mut free: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
    let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    while let Some(along) = free.pop() {
        let square = dot(&along, &along);
        for column in free.iter_mut().chain(&mut columns).filter(|_| square > 0.0) {
            let share = dot(column, &along) / square;
            column.iter_mut().zip(&along).for_each(|(own, a)| *own -= share * a);
        }
    }
    columns
}

impl Measured for Problem {
    type Error = Failure;

    /// The steps up that the slopes take if the search goes on from here are simulated at the same time, where a thread is free
    /// for each.
    fn residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Failure> {
        if self.sought.len() < rayon::current_num_threads() {
            let ahead = self.moved(constants, &[STEP]).into_iter().chain([self.machine_with(constants)]);
            // A failure of the machine itself is reported below, that of a step by its slopes.
            let ahead = ahead.collect::<Vec<_>>();
            each(ahead.len(), |k| drop(self.shown_once(&ahead[k])));
        }
        let mut all = self.bare_residuals(constants)?;
        self.share_levels(&mut all);
        Ok(all)
    }

    /// Central differences, several machines in parallel; exact for the depths of running-in and, but for their lag, for logs.
    fn slopes(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Failure> {
        let shown = self.all_shown(&self.stepped(constants))?;
        self.differences(constants, shown.chunks(2).map(|pair| (&pair[0], &pair[1])), span())
    }

    /// Differences to a step up.
    fn leading_slopes(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Failure> {
        let shown = self.all_shown(&self.moved(constants, &[STEP]))?;
        let now = self.shown_once(&self.machine_with(constants))?;
        self.differences(constants, shown.iter().map(|up| (up, &now)), STEP.exp_m1())
    }
}

impl Problem {
    fn all_shown(&self, machines: &[Machine]) -> Result<Vec<Shown>, Failure> {
        each(machines.len(), |k| self.shown_once(&machines[k])).into_iter().collect()
    }

    /// Differences of the predictions in pairs, one for each constant, over a span of it; and the columns of running-in and of delays.
    fn differences<'a>(
        &self,
        constants: &[f64],
        pairs: impl Iterator<Item = (&'a Shown, &'a Shown)>,
        span: f64,
    ) -> Result<Vec<Vec<f64>>, Failure> {
        let gauges: Vec<f64> = self.readings().map(|r| r.1).collect();
        let mut columns: Vec<Vec<f64>> = pairs
            .zip(constants)
            .map(|((up, down), value)| {
                let (up, down) = (self.predicted(up, constants), self.predicted(down, constants));
                up.iter()
                    .zip(down)
                    .zip(&gauges)
                    .map(|((up, down), gauge)| (up - down) / (span * value * gauge))
                    .collect()
            })
            .collect();
        for column in &mut columns {
            self.share_levels(column);
        }
        columns.extend(self.free_slopes(constants, self.sought.len())?);
        Ok(columns)
    }

    /// Columns of the constants from this one on, none of which takes a simulation: depths of running-in and delays.
    pub(super) fn free_slopes(&self, constants: &[f64], first: usize) -> Result<Vec<Vec<f64>>, Failure> {
        let now = self.shown_once(&self.machine_with(constants))?;
        let column = |(k, constant): (usize, &Constant)| {
            let step = STEP * constant.known.unwrap_or(1.0);
            let at = |step: f64| {
                let mut moved = constants.to_vec();
                moved[k] += step;
                self.predicted(&now, &moved)
            };
            let slope = |((up, down), (_, gauge)): ((f64, f64), (f64, f64))| (up - down) / (2.0 * step * gauge);
            let mut column: Vec<f64> = at(step).into_iter().zip(at(-step)).zip(self.readings()).map(slope).collect();
            self.share_levels(&mut column);
            column
        };
        Ok(self.constants().iter().enumerate().skip(first).map(column).collect())
    }
}
