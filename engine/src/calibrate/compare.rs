//! A machine as it is against its readings, without fitting anything.

use super::{Effort, Measured, Noise, Problem, Quantity, Unfitted, When, fit};
use crate::names::Channel;
use crate::simulate::Failure;

/// How far the model is from the readings of one quantity under one duty, or of one thermocouple. An offset that all readings of a
/// clutch or a thermocouple share is taken off first, as far as parts and thermocouples differ, and so are clock and lags of a log.
#[derive(Clone, Debug, PartialEq)]
pub struct Misfit {
    /// duty, or file of a log
    pub under: String,
    /// what was read
    pub of: Compared,
    /// number of readings
    pub readings: u64,
    /// root of the mean square of measured less computed, SI
    pub size: f64,
    /// the same in standard deviations of the readings
    pub deviations: f64,
    /// the reading that is farthest off
    pub farthest: Farthest,
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Compared {
    /// at inspections
    Inspected(Quantity),
    /// by a thermocouple
    Logged(Channel),
}

/// A reading and how far it is off.
#[derive(Clone, Debug, PartialEq)]
pub struct Farthest {
    /// clutch, or file of a log
    pub clutch: String,
    /// when it was read; time since the start of a log, s
    pub when: When,
    /// measured less computed, SI
    pub off: f64,
    /// the same in standard deviations of the reading
    pub deviations: f64,
}

/// A reading: what and under which duty, of which clutch and when, its deviation.
type Line = (Compared, String, String, When, f64);

/// The machine as it is, of whose logs clock and lags are open.
struct AsItIs<'a> {
    problem: &'a Problem,
    fixed: &'a [f64],
}

impl Measured for AsItIs<'_> {
    type Error = Failure;

    fn residuals(&self, delays: &[f64]) -> Result<Vec<f64>, Failure> {
        self.problem.residuals(&[self.fixed, delays].concat())
    }

    fn slopes(&self, delays: &[f64]) -> Result<Vec<Vec<f64>>, Failure> {
        self.problem.free_slopes(&[self.fixed, delays].concat(), self.fixed.len())
    }
}

impl Problem {
    /// The constants as they are, with the clocks and lags that fit the logs best.
    fn delayed(&self) -> Result<Vec<f64>, Failure> {
        let constants = self.constants();
        let mut values: Vec<f64> = constants.iter().map(|c| c.start).collect();
        let (fixed, delays) = values.split_at_mut(self.first_delay());
        let open = AsItIs { problem: self, fixed };
        match fit(&open, &constants[fixed.len()..], Effort { tolerance: 1e-6, ..Effort::default() }, Noise::Stated) {
            Ok(fitted) => delays.copy_from_slice(&fitted.values),
            Err(Unfitted::Unpredicted(failure)) => return Err(failure),
            // Without a log there is no delay.
            Err(_) => {}
        }
        Ok(values)
    }

    /// Compares the machine as it is with all readings.
    pub fn compare(&self) -> Result<Vec<Misfit>, Failure> {
        let bare = self.bare_residuals(&self.delayed()?)?;
        let levels = self.shared(&bare);
        let inspected = self.inspected.iter().flat_map(|group| {
            let line = |r: &super::Read| {
                (Compared::Inspected(r.quantity), group.duty.clone(), r.clutch.clone(), r.when, r.gauge)
            };
            group.reads.iter().map(line)
        });
        let logged = self.logged.iter().flat_map(|log| {
            log.channels.iter().flat_map(move |c| {
                let line = |s: &super::Stretch| {
                    (Compared::Logged(c.node), log.duty.clone(), log.file.clone(), When::Running(s.time()), c.gauge)
                };
                c.stretches.iter().map(line)
            })
        });
        let lines: Vec<Line> = inspected.chain(logged).collect();
        let mut all: Vec<Misfit> = vec![];
        for ((of, under, clutch, when, gauge), residual) in
            lines.into_iter().zip(bare.iter().zip(&levels).map(|(r, l)| l - r))
        {
            let own = Farthest { clutch, when, off: residual * gauge, deviations: residual };
            let at = all.iter().position(|m| m.of == of && m.under == under);
            let at = at.unwrap_or_else(|| {
                all.push(Misfit { under, of, readings: 0, size: 0.0, deviations: 0.0, farthest: own.clone() });
                all.len() - 1
            });
            let misfit = &mut all[at];
            misfit.readings += 1;
            misfit.size += own.off * own.off;
            misfit.deviations += residual * residual;
            if own.deviations.abs() > misfit.farthest.deviations.abs() {
                misfit.farthest = own;
            }
        }
        for misfit in &mut all {
            let n = misfit.readings as f64;
            misfit.size = (misfit.size / n).sqrt();
            misfit.deviations = (misfit.deviations / n).sqrt();
        }
        all.sort_by(|a, b| b.deviations.total_cmp(&a.deviations));
        Ok(all)
    }
}
