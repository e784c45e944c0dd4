//! The hottest launch of each run: its energy, when it locks, and which runs have the same.

use crate::figures::chosen::{bold, named};
use crate::figures::close_up::{LONGEST, locks, points, usable};
use crate::sheet::prelude::*;
use crate::words::number::figures;
use crate::words::reading::name;
use slipsoak_engine::names::Channel;
use slipsoak_engine::record::{CloseUp, Record, Run};

/// Differences below which launches count as the same: rpm, W and K.
const SAME: f64 = 1.0;

/// A launch with what distinguishes it.
pub(super) struct Launch<'a> {
    pub index: usize,
    pub run: &'a Run,
    pub close_up: &'a CloseUp,
    pub hue: Hue,
    pub bold: bool,
    /// further runs with the same launch
    pub alike: Vec<&'a Run>,
    /// time after setting off at which the clutch locks, s, if it does
    pub locks: Option<f64>,
    /// heat of slip until then, J
    pub energy: f64,
}

impl<'a> Launch<'a> {
    fn of(index: usize, run: &'a Run, hue: Hue, bold: bool) -> Option<Self> {
        let close_up = run.close_up.as_ref()?;
        let locks = locks(run, close_up);
        let until = locks.unwrap_or(LONGEST);
        let power = points(close_up, Channel::SlipPower, |w| w);
        let steps = power.windows(2).filter(|pair| pair[1].0 <= until + 1e-9);
        let energy = steps.map(|pair| 0.5 * (pair[0].1 + pair[1].1) * (pair[1].0 - pair[0].0)).sum();
        Some(Self { index, run, close_up, hue, bold, alike: vec![], locks, energy })
    }

    /// Rise of the lining's face above its temperature at setting off, K.
    pub fn rise(&self) -> Vec<Place> {
        let all = points(self.close_up, Channel::LiningSurface, |t| t);
        let start = all.iter().rev().find(|p| p.0 <= 0.0).or(all.first()).map_or(0.0, |p| p.1);
        all.into_iter().map(|p| (p.0, p.1 - start)).collect()
    }

    /// Whether its numbers are those of another.
    fn same(&self, other: &Self) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= SAME;
        let peak = |launch: &Self| launch.rise().iter().map(|p| p.1).fold(0.0, f64::max);
        let lock = |launch: &Self| 10.0 * launch.locks.unwrap_or(LONGEST);
        near(1e-2 * self.energy, 1e-2 * other.energy) && near(peak(self), peak(other)) && near(lock(self), lock(other))
    }

    pub fn name(&self, record: &Record) -> String {
        let own = name(record, self.run);
        match self.alike.len() {
            0 => own,
            more if more + 1 == record.runs.len() => format!("the same for all {}", more + 1),
            more => format!("{own}, {more} more alike"),
        }
    }

    /// Energy, and when it locks.
    pub fn result(&self) -> String {
        let energy = kilojoules(self.energy);
        match self.locks {
            Some(at) => format!("{energy}, locks after {} s", figures(at, 2)),
            None => format!("{energy}, does not lock"),
        }
    }
}

/// An energy, from J.
pub(super) fn kilojoules(energy: f64) -> String {
    format!("{} kJ", figures(1e-3 * energy, 2))
}

/// The launches that differ, those asked for or all.
pub(super) fn launches<'a>(record: &'a Record, look: &Look) -> Vec<Launch<'a>> {
    let bold = bold(record);
    let mut all: Vec<Launch<'_>> = vec![];
    for ((k, run), hue) in record.runs.iter().enumerate().zip(hues::of_runs(record)) {
        if !usable(record, run) || (!look.of.is_empty() && !named(record, run, &look.of)) {
            continue;
        }
        let Some(launch) = Launch::of(k, run, hue, bold(run)) else { continue };
        match all.iter_mut().find(|one| one.same(&launch)) {
            Some(one) => {
                one.alike.push(run);
                one.bold |= launch.bold;
            }
            None => all.push(launch),
        }
    }
    // One that stands for all runs has no run's colour.
    if let [only] = &mut all[..]
        && !only.alike.is_empty()
        && only.alike.len() + 1 == record.runs.len()
    {
        only.hue = Hue { ink: TEXT, dash: None };
    }
    if look.of.is_empty() { all } else { all.into_iter().map(|one| Launch { bold: true, ..one }).collect() }
}
