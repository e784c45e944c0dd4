//! The calibration problem: all readings, and the engine's predictions for them.

use super::learnable::learnable;
use super::log::{Logged, along, temperatures};
use super::{Constant, LEVEL, Measured, Read, Scale, Way, When, inspection, run_in, share_level};
use crate::duty::Segment;
use crate::horizon::Skipping;
use crate::names::Part;
use crate::parts::{Machine, Parameter};
use crate::simulate::Failure;
use crate::statistics::NINETY_FIVE;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

/// A quantity that changes by no more than this share of its deviation per factor of e of a constant carries no
/// information on the constant.
const UNMOVED: f64 = 0.05;

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
    /// parts whose running-in is fitted; if none is, the offset of every part is free
    pub running_in: Vec<Part>,
    /// whether readings during running-in were dropped
    pub dropped: bool,
    /// time constant of running-in, in running time, s
    pub fades: f64,
    /// skipping of repeated blocks
    pub skipping: Skipping,
    seen: Mutex<BTreeMap<Vec<u64>, Shown>>,
    tried: Box<dyn Fn() + Send + Sync>,
}

/// Predictions for every reading: value, and running time at the reading, s.
pub(super) type Shown = Vec<(f64, f64)>;

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

    /// The constants of the fit: the learned ones, then the depths of running-in.
    pub fn constants(&self) -> Vec<Constant> {
        let known = |path: &str| learnable().find(|(p, _)| *p == path).map(|(_, f)| f.ln() / NINETY_FIVE);
        let sought = self.sought.iter().map(|p| Constant {
            name: p.path.to_owned(),
            start: (p.of)(&self.machine),
            scale: Scale::Logarithm,
            known: known(p.path),
        });
        let running_in = self.running_in.iter().map(|part| Constant {
            name: format!("running-in of the {}", inspection(*part).name),
            start: 0.0,
            scale: Scale::Plain,
            known: Some(inspection(*part).running_in.abs()),
        });
        sought.chain(running_in).collect()
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

    pub(super) fn shown(&self, machine: &Machine) -> Result<Shown, Failure> {
        let mut all = vec![];
        for group in &self.inspected {
            let way = self.way(group, machine.clone(), &[])?;
            all.extend(group.reads.iter().map(|r| {
                let standing = way.at(r.when);
                (standing.of(r.part), standing.running)
            }));
        }
        for log in &self.logged {
            let curves = temperatures(log, machine.clone())?;
            for (channel, curve) in log.channels.iter().zip(&curves) {
                all.extend(channel.points.iter().map(|(time, _)| (along(curve, *time), 0.0)));
            }
        }
        (self.tried)();
        Ok(all)
    }

    pub(super) fn shown_once(&self, constants: &[f64]) -> Result<Shown, Failure> {
        let key: Vec<u64> = constants[..self.sought.len()].iter().map(|c| c.to_bits()).collect();
        if let Some(shown) = self.seen.lock().ok().and_then(|seen| seen.get(&key).cloned()) {
            return Ok(shown);
        }
        let shown = self.shown(&self.machine_with(constants))?;
        if let Ok(mut seen) = self.seen.lock() {
            seen.insert(key, shown.clone());
        }
        Ok(shown)
    }

    /// Measured value and deviation of every reading, in the order of the predictions.
    pub(super) fn readings(&self) -> impl Iterator<Item = (f64, f64)> {
        let read = self.inspected.iter().flat_map(|g| &g.reads).map(|r| (r.value, r.gauge));
        let logged = self.logged.iter().flat_map(|l| &l.channels);
        read.chain(logged.flat_map(|c| c.points.iter().map(|p| (p.1, c.gauge))))
    }

    /// Readings that share a level, and its deviation in units of theirs: of one clutch and part, or of one thermocouple.
    pub fn levels(&self) -> Vec<(Vec<usize>, f64)> {
        let mut groups: BTreeMap<(usize, &str, Part), (Vec<usize>, f64)> = BTreeMap::new();
        let (mut levels, mut index) = (vec![], 0);
        for (g, group) in self.inspected.iter().enumerate() {
            for read in &group.reads {
                let row = inspection(read.part);
                let level = if self.dropped && row.running_in != 0.0 { f64::INFINITY } else { row.level };
                let own = groups.entry((g, &read.clutch, read.part)).or_insert((vec![], level / read.gauge));
                own.0.push(index);
                index += 1;
            }
        }
        levels.extend(groups.into_values());
        for channel in self.logged.iter().flat_map(|l| &l.channels) {
            levels.push(((index..index + channel.points.len()).collect(), LEVEL / channel.gauge));
            index += channel.points.len();
        }
        levels
    }

    /// Sets aside the readings that no fitted constant affects. They carry no information, and an error in a constant of
    /// their own would widen errors of the fitted ones. Returns the number of readings set aside for each duty.
    pub fn set_aside_unmoved(&mut self) -> Result<Vec<u64>, Failure> {
        let starts: Vec<f64> = self.constants().iter().map(|c| c.start).collect();
        let columns = self.slopes(&starts)?;
        let sought = || columns.iter().zip(&starts).take(self.sought.len());
        let reads = self.inspected.iter().flat_map(|g| &g.reads).map(|r| r.part);
        let moves = |i: usize| sought().any(|(column, start)| (column[i] * start).abs() > UNMOVED);
        let moved: BTreeSet<Part> = reads.enumerate().filter(|(i, _)| moves(*i)).map(|(_, q)| q).collect();
        if moved.is_empty() {
            return Ok(vec![0; self.inspected.len()]);
        }
        self.running_in.retain(|q| moved.contains(q));
        let taken = self.inspected.iter_mut().map(|group| {
            let whole = group.reads.len();
            group.reads.retain(|r| moved.contains(&r.part));
            (whole - group.reads.len()) as u64
        });
        let taken = taken.collect();
        self.seen = Mutex::default();
        Ok(taken)
    }

    pub(super) fn share_levels(&self, column: &mut [f64]) {
        for (members, level) in self.levels() {
            let mut own: Vec<f64> = members.iter().map(|i| column[*i]).collect();
            share_level(&mut own, level);
            for (i, value) in members.iter().zip(own) {
                column[*i] = value;
            }
        }
    }

    /// Completed share of running-in at each reading, with the sign of its effect on the reading.
    pub(super) fn runs_in(&self, part: Part, shown: &Shown) -> Vec<f64> {
        let reads = self.inspected.iter().flat_map(|g| &g.reads).map(Some);
        let all = reads.chain(std::iter::repeat(None)).zip(shown);
        all.map(|(read, (_, running))| match read {
            Some(r) if r.part == part => -inspection(part).running_in.signum() * run_in(*running, self.fades),
            _ => 0.0,
        })
        .collect()
    }

    /// (predicted − measured)/deviation of every reading, before shared offsets are removed.
    pub fn bare_residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Failure> {
        let shown = self.shown_once(constants)?;
        let mut predicted: Vec<f64> = shown.iter().map(|s| s.0).collect();
        for (part, depth) in self.running_in.iter().zip(&constants[self.sought.len()..]) {
            for (p, share) in predicted.iter_mut().zip(self.runs_in(*part, &shown)) {
                *p += depth * share;
            }
        }
        Ok(predicted.iter().zip(self.readings()).map(|(p, (value, gauge))| (p - value) / gauge).collect())
    }
}
