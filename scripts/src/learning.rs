//! What was measured on worn clutches, beside what the engine predicts for the script's machine and duty.

use crate::inspections::{LEVEL, Read, Thermometer};
use rayon::prelude::*;
use slipsoak_engine::calibrate::{Constant, Measured, Quantity, Scale, Way, When, run_in, share_level};
use slipsoak_engine::duty::Segment;
use slipsoak_engine::fleet::{ASSUMED, Spread};
use slipsoak_engine::horizon::Skipping;
use slipsoak_engine::parts::{Machine, Parameter, parameter};
use slipsoak_engine::simulate::{Failure, Options, Simulation, channels};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Mutex;

/// Factors within which 90 % of what is possible lies, for constants that a fleet does not vary by itself. Published ranges
/// of a decade or so, taken as its middle; the lining's slope is assumed.
const FURTHER: &[(&str, f64)] = &[
    ("bushing.wear_oiled", 3.0),
    ("bushing.wear_starved", 3.0),
    ("lining.wear_slope", 2.0),
    ("heat.shaft_block", 2.0),
    ("heat.block_running", 2.0),
    ("heat.block_stopped", 2.0),
];
/// Step of a constant's logarithm over which slopes are taken: far above the integrator's scatter, near enough to straight.
const STEP: f64 = 0.05;
/// A quantity that moves by no more than this share of its deviation, while a constant moves by a factor of e, says nothing of it.
const UNMOVED: f64 = 0.05;
/// Windows that a logged run keeps.
const WINDOWS: usize = 1200;
/// Standard normal quantile of 95 %.
pub const NINETY_FIVE: f64 = 1.644_853_626_951_472;

/// The constants that can be learned, each with the factor within which 90 % of what is possible lies.
pub fn learnable() -> impl Iterator<Item = (&'static str, f64)> {
    let assumed = ASSUMED.iter().filter_map(|(path, spread)| match spread {
        Spread::Factor(factor) => Some((*path, *factor)),
        _ => None,
    });
    assumed.chain(FURTHER.iter().copied())
}

/// A duty and what was read under it.
#[derive(Clone, Debug)]
pub struct Inspected {
    /// duty
    pub duty: String,
    /// its block
    pub block: Vec<Segment>,
    /// readings
    pub reads: Vec<Read>,
}

/// A duty and what thermocouples showed under it.
#[derive(Clone, Debug)]
pub struct Logged {
    /// file
    pub file: String,
    /// duty
    pub duty: String,
    /// its segments
    pub segments: Vec<Segment>,
    /// channels
    pub channels: Vec<Thermometer>,
}

/// All that is fitted together.
pub struct Lesson {
    /// the machine as the script has it
    pub machine: Machine,
    /// constants sought
    pub sought: Vec<&'static Parameter>,
    /// inspections, duty by duty
    pub inspected: Vec<Inspected>,
    /// logs
    pub logged: Vec<Logged>,
    /// parts whose running-in is fitted; where none is, every part's level is left free
    pub running_in: Vec<Quantity>,
    /// whether running-in was dropped
    pub dropped: bool,
    /// running time in which running-in fades, s
    pub fades: f64,
    /// of repeated blocks
    pub skipping: Skipping,
    seen: Mutex<BTreeMap<Vec<u64>, Shown>>,
}

/// What a machine would show at every reading, and how long it had run by then, s.
type Shown = Vec<(f64, f64)>;

impl Lesson {
    /// A lesson before anything was predicted.
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
        }
    }

    /// The constants of the fit: those sought, then the depths of running-in.
    pub fn constants(&self) -> Vec<Constant> {
        let known = |path: &str| learnable().find(|(p, _)| *p == path).map(|(_, f)| f.ln() / NINETY_FIVE);
        let sought = self.sought.iter().map(|p| Constant {
            name: p.path.to_owned(),
            start: (p.of)(&self.machine),
            scale: Scale::Logarithm,
            known: known(p.path),
        });
        let running_in = self.running_in.iter().map(|q| Constant {
            name: format!("running-in of the {}", q.manner().name),
            start: 0.0,
            scale: Scale::Plain,
            known: Some(q.manner().running_in.abs()),
        });
        sought.chain(running_in).collect()
    }

    /// The machine with some constants, held within what each setting allows.
    pub fn machine_with(&self, constants: &[f64]) -> Machine {
        let mut machine = self.machine.clone();
        for (p, value) in self.sought.iter().zip(constants) {
            (p.put)(&mut machine, value.clamp(p.least, p.most));
        }
        machine
    }

    /// The way of a machine under one of the inspected duties, to every reading and to further times.
    pub fn way(&self, group: &Inspected, machine: Machine, further: &[When]) -> Result<Way, Failure> {
        let times: Vec<When> = group.reads.iter().map(|r| r.when).chain(further.iter().copied()).collect();
        Way::of(machine, &group.block, &times, self.skipping).map_err(|(_, failure)| failure)
    }

    fn shown(&self, machine: &Machine) -> Result<Shown, Failure> {
        let mut all = vec![];
        for group in &self.inspected {
            let way = self.way(group, machine.clone(), &[])?;
            all.extend(group.reads.iter().map(|r| {
                let standing = way.at(r.when);
                (r.quantity.of(&standing), standing.running)
            }));
        }
        for log in &self.logged {
            let curves = temperatures(log, machine.clone())?;
            for (channel, curve) in log.channels.iter().zip(&curves) {
                all.extend(channel.points.iter().map(|(time, _)| (along(curve, *time), 0.0)));
            }
        }
        Ok(all)
    }

    fn shown_once(&self, constants: &[f64]) -> Result<Shown, Failure> {
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

    /// Measured value and deviation of every reading, in the order of what is shown.
    fn readings(&self) -> impl Iterator<Item = (f64, f64)> {
        let read = self.inspected.iter().flat_map(|g| &g.reads).map(|r| (r.value, r.gauge));
        let logged = self.logged.iter().flat_map(|l| &l.channels);
        read.chain(logged.flat_map(|c| c.points.iter().map(|p| (p.1, c.gauge))))
    }

    /// Readings that share a level, and its deviation in units of theirs: of one clutch and quantity, or of one thermocouple.
    pub fn levels(&self) -> Vec<(Vec<usize>, f64)> {
        let mut groups: BTreeMap<(usize, &str, Quantity), (Vec<usize>, f64)> = BTreeMap::new();
        let (mut levels, mut index) = (vec![], 0);
        for (g, group) in self.inspected.iter().enumerate() {
            for read in &group.reads {
                let runs_in = read.quantity.manner().running_in != 0.0;
                let level = if self.dropped && runs_in { f64::INFINITY } else { read.quantity.manner().level };
                let own = groups.entry((g, &read.clutch, read.quantity)).or_insert((vec![], level / read.gauge));
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

    /// Sets aside the quantities that no constant sought moves: they say nothing of it, and where a constant of theirs is off,
    /// what they miss by would widen errors that are not theirs. Gives how many readings of each duty it took.
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
        let taken = self.inspected.iter_mut().map(|group| {
            let whole = group.reads.len();
            group.reads.retain(|r| moved.contains(&r.quantity));
            (whole - group.reads.len()) as u64
        });
        let taken = taken.collect();
        self.seen = Mutex::default();
        Ok(taken)
    }

    fn share_levels(&self, column: &mut [f64]) {
        for (members, level) in self.levels() {
            let mut own: Vec<f64> = members.iter().map(|i| column[*i]).collect();
            share_level(&mut own, level);
            for (i, value) in members.iter().zip(own) {
                column[*i] = value;
            }
        }
    }

    /// How much of its running-in each reading has had, with the sign in which it moves the reading.
    fn runs_in(&self, quantity: Quantity, shown: &Shown) -> Vec<f64> {
        let reads = self.inspected.iter().flat_map(|g| &g.reads).map(Some);
        let all = reads.chain(std::iter::repeat(None)).zip(shown);
        all.map(|(read, (_, running))| match read {
            Some(r) if r.quantity == quantity => -quantity.manner().running_in.signum() * run_in(*running, self.fades),
            _ => 0.0,
        })
        .collect()
    }

    /// (predicted − measured)/deviation of every reading, before levels are shared.
    pub fn bare_residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Failure> {
        let shown = self.shown_once(constants)?;
        let mut predicted: Vec<f64> = shown.iter().map(|s| s.0).collect();
        for (quantity, depth) in self.running_in.iter().zip(&constants[self.sought.len()..]) {
            for (p, share) in predicted.iter_mut().zip(self.runs_in(*quantity, &shown)) {
                *p += depth * share;
            }
        }
        Ok(predicted.iter().zip(self.readings()).map(|(p, (value, gauge))| (p - value) / gauge).collect())
    }

    /// Machines with one constant a step up or down, in pairs.
    pub fn stepped(&self, constants: &[f64]) -> Vec<Machine> {
        let one = |k: usize, step: f64| {
            let mut moved = constants.to_vec();
            moved[k] *= step.exp();
            self.machine_with(&moved)
        };
        (0..self.sought.len()).flat_map(|k| [one(k, STEP), one(k, -STEP)]).collect()
    }

    /// The slopes for [`slipsoak_engine::calibrate::separate`]: along the constants' scales, each running-in depth's prior
    /// as a reading more.
    pub fn columns(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Failure> {
        let mut columns = self.slopes(constants)?;
        for (k, column) in columns.iter_mut().enumerate() {
            if k < self.sought.len() {
                for slope in column.iter_mut() {
                    *slope *= constants[k];
                }
            }
            for (j, quantity) in self.running_in.iter().enumerate() {
                let own = k == self.sought.len() + j;
                column.push(if own { 1.0 / quantity.manner().running_in.abs() } else { 0.0 });
            }
        }
        Ok(columns)
    }
}

impl Measured for Lesson {
    type Error = Failure;

    fn residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Failure> {
        let mut all = self.bare_residuals(constants)?;
        self.share_levels(&mut all);
        Ok(all)
    }

    /// Central differences in the constants' logarithms, several machines at once; exact for the depths of running-in.
    fn slopes(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Failure> {
        let shown: Vec<Shown> =
            self.stepped(constants).par_iter().map(|machine| self.shown(machine)).collect::<Result<_, _>>()?;
        let gauges: Vec<f64> = self.readings().map(|r| r.1).collect();
        let mut columns: Vec<Vec<f64>> = shown
            .chunks(2)
            .zip(constants)
            .map(|(pair, value)| {
                let slope = |(up, down): (&(f64, f64), &(f64, f64))| (up.0 - down.0) / (2.0 * STEP * value);
                pair[0].iter().zip(&pair[1]).map(slope).zip(&gauges).map(|(s, g)| s / g).collect()
            })
            .collect();
        let now = self.shown_once(constants)?;
        for quantity in &self.running_in {
            columns.push(self.runs_in(*quantity, &now).iter().zip(&gauges).map(|(s, g)| s / g).collect());
        }
        for column in &mut columns {
            self.share_levels(column);
        }
        Ok(columns)
    }
}

/// Temperature of each channel of a log over the run: (time s, K).
pub fn temperatures(log: &Logged, machine: Machine) -> Result<Vec<Vec<(f64, f64)>>, Failure> {
    let mut simulation = Simulation::new(machine, Options { windows: WINDOWS, ..Options::default() })?;
    for segment in &log.segments {
        simulation.perform(segment)?;
    }
    let run = simulation.finish("log", &log.duty)?;
    let names = channels();
    let column = |node: &str| names.iter().position(|c| c.name == node).unwrap_or(0);
    let middle = |k: usize| {
        let start = if k == 0 { 0.0 } else { run.windows.end[k - 1] };
        f64::midpoint(start, run.windows.end[k])
    };
    let curve = |node: &str| {
        let c = column(node);
        run.windows.mean.iter().enumerate().map(|(k, row)| (middle(k), row[c])).collect()
    };
    Ok(log.channels.iter().map(|c| curve(&c.node)).collect())
}

/// A curve's value at a place: straight between its points, flat beyond them.
pub fn along(curve: &[(f64, f64)], at: f64) -> f64 {
    let after = curve.partition_point(|p| p.0 < at);
    match (after.checked_sub(1).and_then(|k| curve.get(k)), curve.get(after)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0).max(1e-12),
        (Some(only), None) | (None, Some(only)) => only.1,
        (None, None) => f64::NAN,
    }
}

/// Setting of that path, if it can be learned.
pub fn setting(path: &str) -> Option<&'static Parameter> {
    learnable().any(|(p, _)| p == path).then(|| parameter(path)).flatten()
}

/// Which further measurement would tell two constants apart.
pub fn further(one: &str, other: &str) -> String {
    let both = |a: &str, b: &str| [one, other].contains(&a) && [one, other].contains(&b);
    let heat = |path: &str| path.starts_with("heat.");
    if both("lining.wear", "lining.wear_slope") {
        "inspect linings of a second duty too, whose lining runs 40 K hotter or cooler (name it in a column `duty`), or fit only lining.wear".into()
    } else if both("lining.wear", "clutch.relaxation") {
        "read the lining's thickness at the same inspections as the engagement speed".into()
    } else if both("washer.wear_oiled", "washer.wear_dry")
        || one.starts_with("bushing.wear") && other.starts_with("bushing.wear")
    {
        "inspect clutches that ran dry (name their duty in a column `duty`), or fit only one of them".into()
    } else if heat(one) && heat(other) {
        "log a second node, on the other side of that link, or a cooling with the motor off".into()
    } else {
        "measure something that only one of them moves, or the same under another duty, or leave one out with --fit"
            .into()
    }
}
