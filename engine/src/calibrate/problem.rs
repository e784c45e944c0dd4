//! The calibration problem: all readings, and the engine's predictions for them.

use super::learnable::known;
use super::log::{Logged, temperatures};
use super::{Constant, Delay, Quantity, Read, Scale, Thermometer, Way, When, idle_shown, run_in};
use crate::duty::Segment;
use crate::horizon::Skipping;
use crate::names::IdleKind;
use crate::parts::{Machine, Parameter};
use crate::simulate::Failure;
use std::collections::BTreeMap;
use std::sync::Mutex;

/// A constant without the digits that a logarithm and back may change: equal to 1e-11 is equal.
fn rounded(value: f64) -> u64 {
    (value.to_bits() + (1 << 15)) >> 16
}

/// A duty and the readings under it.
#[derive(Clone, Debug)]
pub struct Inspected {
    /// name of the duty
    pub duty: String,
    /// its block
    pub block: Vec<Segment>,
    /// readings
    pub reads: Vec<Read>,
}

/// The calibration problem: everything that is fitted together.
pub struct Problem {
    /// machine as the script defines it
    pub machine: Machine,
    /// constants to be fitted
    pub sought: Vec<&'static Parameter>,
    /// inspections, duty by duty
    pub inspected: Vec<Inspected>,
    /// logs
    pub logged: Vec<Logged>,
    /// quantities whose running-in is fitted; if none is, the offset of every part is free
    pub running_in: Vec<Quantity>,
    /// whether readings during running-in were dropped
    pub dropped: bool,
    /// time constant of running-in, in running time, s
    pub fades: f64,
    /// skipping of repeated blocks
    pub skipping: Skipping,
    /// predictions by the settings in which a machine differs from that of the script
    pub(super) seen: Mutex<BTreeMap<Vec<(&'static str, u64)>, Shown>>,
    pub(super) tried: Box<dyn Fn() + Send + Sync>,
}

/// What a machine shows under all duties.
#[derive(Clone, Debug, Default)]
pub(super) struct Shown {
    /// for every reading of an inspection: value, running time at the reading, s, and the age that was reached, by its own count
    pub reads: Vec<(f64, f64, f64)>,
    /// for every channel of the logs: temperature over the duty, (time s, K)
    pub curves: Vec<Vec<(f64, f64)>>,
}

impl Problem {
    /// A problem without any predictions yet.
    pub fn new(machine: Machine, sought: Vec<&'static Parameter>, (fades, skipping): (f64, Skipping)) -> Self {
        Self {
            machine,
            sought,
            inspected: vec![],
            logged: vec![],
            running_in: vec![],
            dropped: false,
            fades,
            skipping,
            seen: Mutex::default(),
            tried: Box::new(|| ()),
        }
    }

    /// Sets a callback for each machine that was simulated.
    pub fn watch(&mut self, tried: impl Fn() + Send + Sync + 'static) {
        self.tried = Box::new(tried);
    }

    /// The constants of the fit: the learned ones, the depths of running-in, then clock and lags of each log.
    pub fn constants(&self) -> Vec<Constant> {
        let sought = self.sought.iter().map(|p| Constant {
            name: p.path.to_owned(),
            start: (p.of)(&self.machine),
            scale: Scale::Logarithm,
            known: known(p),
        });
        let running_in = self.running_in.iter().map(|quantity| Constant {
            name: format!("running-in of the {}", quantity.name()),
            start: 0.0,
            scale: Scale::Plain,
            known: Some(quantity.row().running_in.abs()),
        });
        let delays = self.logged.iter().flat_map(|log| {
            let lags = log.channels.iter().map(|c| Delay::lag_of(&log.file, c.node));
            std::iter::once(Delay::clock_of(&log.file)).chain(lags)
        });
        sought.chain(running_in).chain(delays).collect()
    }

    /// The machine with these constants, held within the range of each setting.
    pub fn machine_with(&self, constants: &[f64]) -> Machine {
        let mut machine = self.machine.clone();
        for (p, value) in self.sought.iter().zip(constants) {
            machine.change(|m| (p.put)(m, value.clamp(p.least, p.most)));
        }
        machine
    }

    /// Conditions of a machine under one of the inspected duties, at every reading and at further ages.
    pub fn way(&self, group: &Inspected, machine: Machine, further: &[When]) -> Result<Way, Failure> {
        let times: Vec<When> = group.reads.iter().map(|r| r.when).chain(further.iter().copied()).collect();
        Way::of(machine, &group.block, &times, self.skipping).map_err(|(_, failure)| failure)
    }

    fn shown(&self, machine: &Machine) -> Result<Shown, Failure> {
        let mut all = Shown::default();
        for group in &self.inspected {
            let way = self.way(group, machine.clone(), &[])?;
            let shown = |r: &Read| {
                let at = way.at(r.when);
                (way.shows(r.when, r.quantity, &r.under), at.running, at.count(r.when))
            };
            all.reads.extend(group.reads.iter().map(shown));
        }
        for log in &self.logged {
            all.curves.extend(temperatures(log, machine.clone())?);
        }
        (self.tried)();
        Ok(all)
    }

    /// Predictions for a machine, computed once for the same values of the constants, whichever of them are sought.
    pub(super) fn shown_once(&self, machine: &Machine) -> Result<Shown, Failure> {
        let moved = self.sought.iter().filter(|p| rounded((p.of)(machine)) != rounded((p.of)(&self.machine)));
        let mut key: Vec<(&'static str, u64)> = moved.map(|p| (p.path, rounded((p.of)(machine)))).collect();
        key.sort_unstable();
        if let Some(shown) = self.seen.lock().ok().and_then(|seen| seen.get(&key).cloned()) {
            return Ok(shown);
        }
        let shown = self.shown(machine)?;
        if let Ok(mut seen) = self.seen.lock() {
            seen.insert(key, shown.clone());
        }
        Ok(shown)
    }

    /// Measured value and deviation of every reading, in the order of the predictions.
    pub(super) fn readings(&self) -> impl Iterator<Item = (f64, f64)> {
        let read = self.inspected.iter().flat_map(|g| &g.reads).map(|r| (r.value, r.gauge));
        read.chain(self.channels().flat_map(|c| c.stretches.iter().map(|s| (s.value, c.gauge))))
    }

    /// What holds the idle, if drops under a known drag show it.
    pub fn idle_shown(&self) -> Option<IdleKind> {
        idle_shown(&self.machine, self.inspected.iter().flat_map(|g| &g.reads))
    }

    /// All channels of the logs.
    pub(super) fn channels(&self) -> impl Iterator<Item = &Thermometer> {
        self.logged.iter().flat_map(|log| &log.channels)
    }

    /// Number of the first constant that is a delay of a log.
    pub(super) fn first_delay(&self) -> usize {
        self.sought.len() + self.running_in.len()
    }

    /// For every channel of the logs, the numbers of the constants that are its clock and its lag.
    pub fn delays(&self) -> Vec<[usize; 2]> {
        let (mut all, mut next) = (vec![], self.first_delay());
        for log in &self.logged {
            all.extend((1..=log.channels.len()).map(|c| [next, next + c]));
            next += 1 + log.channels.len();
        }
        all
    }

    /// Completed share of running-in at each reading, with the sign of its effect on the reading.
    fn runs_in<'a>(&'a self, quantity: Quantity, shown: &'a Shown) -> impl Iterator<Item = f64> + 'a {
        let reads = self.inspected.iter().flat_map(|g| &g.reads).zip(&shown.reads);
        let sign = -quantity.row().running_in.signum();
        reads.map(move |(r, (_, at, _))| if r.quantity == quantity { sign * run_in(*at, self.fades) } else { 0.0 })
    }

    /// Prediction of every reading, from what the machine of these constants shows.
    pub(super) fn predicted(&self, shown: &Shown, constants: &[f64]) -> Vec<f64> {
        let mut all: Vec<f64> = shown.reads.iter().map(|s| s.0).collect();
        for (quantity, depth) in self.running_in.iter().zip(&constants[self.sought.len()..]) {
            for (p, share) in all.iter_mut().zip(self.runs_in(*quantity, shown)) {
                *p += depth * share;
            }
        }
        for ((channel, curve), [clock, lag]) in self.channels().zip(&shown.curves).zip(self.delays()) {
            let delay = Delay { clock: constants[clock], lag: constants[lag] };
            all.extend(delay.shows(curve, &channel.stretches));
        }
        all
    }

    /// (predicted − measured)/deviation of every reading, before shared offsets are removed.
    pub fn bare_residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Failure> {
        let shown = self.shown_once(&self.machine_with(constants))?;
        let predicted = self.predicted(&shown, constants);
        Ok(predicted.iter().zip(self.readings()).map(|(p, (value, gauge))| (p - value) / gauge).collect())
    }
}
