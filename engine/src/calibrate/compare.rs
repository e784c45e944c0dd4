//! A machine as it is against its readings, without fitting anything.

use super::{Problem, Quantity, When};
use crate::names::Channel;
use crate::simulate::Failure;

/// How far the model is from the readings of one quantity under one duty, or of one thermocouple. An offset that all readings of a
/// clutch or a thermocouple share is taken off first, as far as parts and thermocouples differ.
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

impl Problem {
    /// Compares the machine as it is with all readings.
    pub fn compare(&self) -> Result<Vec<Misfit>, Failure> {
        let starts: Vec<f64> = self.constants().iter().map(|c| c.start).collect();
        let bare = self.bare_residuals(&starts)?;
        let levels = self.shared(&bare);
        let inspected = self.inspected.iter().flat_map(|group| {
            let line = |r: &super::Read| {
                (Compared::Inspected(r.quantity), group.duty.clone(), r.clutch.clone(), r.when, r.gauge)
            };
            group.reads.iter().map(line)
        });
        let logged = self.logged.iter().flat_map(|log| {
            log.channels.iter().flat_map(move |c| {
                let line = |p: &(f64, f64)| {
                    (Compared::Logged(c.node), log.duty.clone(), log.file.clone(), When::Running(p.0), c.gauge)
                };
                c.points.iter().map(line)
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
