//! Solution of a calibration problem: constants with their errors, or the reason why the data do not determine them.

use super::{
    Effort, Fitted, Inseparable, Learned, Noise, Problem, Quality, Quantity, RunningIn, Thermocouple, Unexplained,
    Unfitted, Unreached, among_clutches, fit, learnable, separate,
};
use crate::parts::{Dimension, Group, Machine, Parameter};
use crate::simulate::Failure;
use crate::statistics::NINETY_FIVE;
use thiserror::Error;

/// Angle between columns of slopes below which they count as parallel: the accuracy of differences of simulated runs.
const ANGLE: f64 = 0.02;

/// Learned constants, and the fit behind them.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// the fit: the learned constants, then the depths of running-in
    pub fitted: Fitted,
    /// learned constants
    pub constants: Vec<Learned>,
    /// correlation of the errors of their logarithms, in the same order
    pub correlation: Vec<Vec<f64>>,
    /// depths of running-in
    pub running_in: Vec<RunningIn>,
    /// clocks, lags and offsets of thermocouples
    pub thermocouples: Vec<Thermocouple>,
    /// quality of the fit
    pub quality: Quality,
}

/// Reason why a problem has no solution.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Unsolved {
    /// the data do not determine a constant, or cannot separate two
    #[error(transparent)]
    Inseparable(#[from] Inseparable),
    /// a reading at an age that the machine does not reach
    #[error("the machine no longer runs at the age at which the {} of {} was read", .0.read.quantity, .0.read.clutch)]
    Unreached(Box<Unreached>),
    /// a reading that no value of a constant explains
    #[error("no value of {} explains the {} of {}", .0.path, .0.read.quantity, .0.read.clutch)]
    Unexplained(Box<Unexplained>),
    /// a constant at the end of its range
    #[error("the data push {path} to {value} {}, the end of its range", dimension.unit())]
    AtItsEnd {
        /// dotted path of the setting
        path: &'static str,
        /// kind of quantity
        dimension: Dimension,
        /// SI
        value: f64,
    },
    /// a run that fails
    #[error(transparent)]
    Failure(#[from] Failure),
    /// no fit
    #[error("{0}")]
    Unfitted(Unfitted<Failure>),
}

impl Problem {
    /// Solves the problem by this number of searches, whose starts follow from the seed. The data have to determine the
    /// constants both at the start values and at the fitted values.
    pub fn solve(&self, searches: u64, seed: u64) -> Result<Solution, Unsolved> {
        let fitted = self.fitted(searches, seed)?;
        let among = among_clutches(self, &fitted)?;
        let thermocouples = self.thermocouples(&fitted)?;
        Ok(self.solution(fitted, &among, thermocouples))
    }

    fn fitted(&self, searches: u64, seed: u64) -> Result<Fitted, Unsolved> {
        let constants = self.constants();
        let starts: Vec<f64> = constants.iter().map(|c| c.start).collect();
        // Depths of running-in and delays are nuisance parameters: they may stay as uncertain as their priors.
        let mut asked_for = constants[..self.first_delay()].to_vec();
        asked_for.iter_mut().skip(self.sought.len()).for_each(|c| c.known = None);
        let separable =
            |at: &[f64]| -> Result<(), Unsolved> { Ok(separate(&asked_for, &self.columns(at)?, ANGLE).map(drop)?) };
        let reached = |machines: &[Machine]| -> Result<(), Unsolved> {
            self.unreached(machines)?.map_or(Ok(()), |one| Err(Unsolved::Unreached(Box::new(one))))
        };
        // A step of a constant may carry it farther: then the search decides.
        reached(&self.stepped(&starts))?;
        let silent = |why: &Unsolved| {
            let Unsolved::Inseparable(Inseparable::Silent { constant, .. }) = why else { return None };
            self.sought.iter().position(|p| p.path == constant)
        };
        match separable(&starts) {
            Err(why) if !silent(&why).is_some_and(|k| self.far_off(k, &starts).is_ok_and(|far| far)) => {
                return Err(why);
            }
            _ => {}
        }
        let effort = Effort { starts: searches, seed, tolerance: 1e-6, patience: 12 };
        let fitted = fit(self, &constants, effort, Noise::Stated).map_err(|e| match e {
            Unfitted::Unpredicted(failure) => Unsolved::Failure(failure),
            other => Unsolved::Unfitted(other),
        })?;
        reached(&[self.machine_with(&fitted.values)])?;
        if let Ok(Some(one)) = self.scattered(&starts, &fitted) {
            return Err(Unsolved::Unexplained(Box::new(one)));
        }
        let unexplained = |k: usize, why: Unsolved| match self.unexplained(k, &starts, &fitted.values) {
            Ok(Some(one)) => Unsolved::Unexplained(Box::new(one)),
            _ => why,
        };
        for (k, (setting, value)) in self.sought.iter().zip(&fitted.values).enumerate() {
            if !(*value > setting.least * 1.001 && *value < setting.most * 0.999) {
                let (path, dimension) = (setting.path, setting.dimension);
                let value = value.clamp(setting.least, setting.most);
                return Err(unexplained(k, Unsolved::AtItsEnd { path, dimension, value }));
            }
        }
        // A constant that the data do not determine where the search ends they have pushed until it had no effect.
        separable(&fitted.values).map_err(|why| match silent(&why) {
            Some(k) => unexplained(k, why),
            None => why,
        })?;
        Ok(fitted)
    }

    /// Values with the errors of the fit and of the small number of clutches.
    fn solution(&self, fitted: Fitted, among: &[(f64, f64)], thermocouples: Vec<Thermocouple>) -> Solution {
        let n = self.sought.len();
        // The mean of a few clutches differs from that of all.
        let error = |k: usize| fitted.errors[k].hypot(among[k].0 / among[k].1.sqrt());
        let correlation = |i: usize, j: usize| {
            let share = |k: usize| if i == j { 1.0 } else { fitted.errors[k] / error(k) };
            fitted.correlation[i][j] * share(i) * share(j)
        };
        let learned = |(k, p): (usize, &&'static Parameter)| {
            let before_factor = learnable().find(|l| l.0 == *p).map_or(1.0, |l| l.1);
            let factor = |deviation: f64| (NINETY_FIVE * deviation).exp();
            let (differ, error) = (among[k].0, error(k));
            Learned {
                path: p.path.to_owned(),
                unit: p.dimension.unit().to_owned(),
                before: (p.of)(&self.machine),
                before_factor,
                value: fitted.values[k],
                factor: factor(error),
                clutches_factor: factor(differ),
                spread: factor(error.hypot(differ)),
                from: self.sources_of(p),
            }
        };
        let running_in = self.running_in.iter().enumerate().map(|(j, q)| RunningIn {
            part: q.name().to_owned(),
            depth: fitted.values[n + j],
            error: fitted.errors[n + j],
        });
        Solution {
            constants: self.sought.iter().enumerate().map(learned).collect(),
            correlation: (0..n).map(|i| (0..n).map(|j| correlation(i, j)).collect()).collect(),
            running_in: running_in.collect(),
            thermocouples,
            quality: Quality {
                sum: fitted.sum,
                freedom: fitted.freedom as u64,
                widened: fitted.widened,
                searches: fitted.starts,
            },
            fitted,
        }
    }

    /// Clock, lag and offset of every channel of the logs.
    fn thermocouples(&self, fitted: &Fitted) -> Result<Vec<Thermocouple>, Failure> {
        let shared = self.shared(&self.bare_residuals(&fitted.values)?);
        let mut first = self.inspected.iter().map(|group| group.reads.len()).sum::<usize>();
        let mut all = vec![];
        let channels = self.logged.iter().flat_map(|log| log.channels.iter().map(move |channel| (log, channel)));
        for ((log, channel), [clock, lag]) in channels.zip(self.delays()) {
            all.push(Thermocouple {
                file: log.file.clone(),
                place: channel.node,
                clock: fitted.values[clock],
                clock_error: fitted.errors[clock],
                lag: fitted.values[lag],
                lag_error: fitted.errors[lag],
                // What is predicted lies below what is measured by the offset.
                offset: -shared[first] * channel.gauge,
            });
            first += channel.stretches.len();
        }
        Ok(all)
    }

    /// Measured quantities that depend on a setting.
    fn sources_of(&self, p: &Parameter) -> Vec<String> {
        let mut from: Vec<String> = vec![];
        let exactly = |q: &Quantity| q.row().teaches.contains(&p);
        let known = Quantity::ALL.iter().any(exactly);
        for quantity in Quantity::ALL {
            let alike = quantity.row().teaches.iter().any(|taught| taught.group == p.group);
            let own = exactly(&quantity) || !known && alike;
            if own && self.inspected.iter().flat_map(|g| &g.reads).any(|r| r.quantity == quantity) {
                from.push(quantity.name().to_owned());
            }
        }
        if p.group == Group::Heat {
            from.extend(self.logged.iter().flat_map(|l| &l.channels).map(|c| format!("{} (log)", c.node)));
        }
        from
    }
}
