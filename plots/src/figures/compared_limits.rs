//! Limits in a chart of several runs: one line for all that share it, else one for each value, with the machines that have it.

use crate::figures::temperatures::limit;
use crate::sheet::prelude::*;
use crate::words::reading::celsius;
use slipsoak_engine::names::distinct;
use slipsoak_engine::parts::Parameter;
use slipsoak_engine::record::Record;

/// Limits of a quantity, the gravest first, each with what it is called.
pub(super) type Limits = [(&'static Parameter, &'static str)];

/// Difference of two limits that is not seen, K.
const SAME: f64 = 0.5;

/// The values of a limit among some runs, °C, each with the runs that have it.
fn values(record: &Record, p: &Parameter, runs: &[usize]) -> Vec<(f64, Vec<usize>)> {
    let mut all: Vec<(f64, Vec<usize>)> = vec![];
    for (k, at) in runs.iter().filter_map(|k| Some((*k, celsius(record.runs[*k].setting(p)?)))) {
        match all.iter_mut().find(|known| (known.0 - at).abs() < SAME) {
            Some(known) => known.1.push(k),
            None => all.push((at, vec![k])),
        }
    }
    all
}

/// Limits of some runs: one line for all that share it; where they differ the first of a quantity, with the machines that have it.
pub(super) fn limits(record: &Record, all: &Limits, runs: &[usize]) -> Vec<Limit> {
    let each = all.iter().enumerate().flat_map(|(order, (p, words))| {
        let values = values(record, p, runs);
        let differ = values.len() > 1;
        let one = move |(at, with): (f64, Vec<usize>)| {
            let Limit { label, at } =
                limit(&record.runs[with[0]], p, words).unwrap_or(Limit { label: String::new(), at });
            let machines = |of: &[usize]| distinct(of.iter().map(|k| record.runs[*k].variant.clone()));
            let names = machines(&with);
            let label = match names.len() {
                _ if !differ => label,
                ..=2 => format!("{label}, {}", names.join(", ")),
                some => format!("{label}, {some} of {} machines", machines(runs).len()),
            };
            Limit { label, at }
        };
        let drawn = if differ && order > 0 { vec![] } else { values };
        drawn.into_iter().map(one).collect::<Vec<_>>()
    });
    each.collect()
}

/// Limits of their own at the bars of the last quarter, °C: where runs differ in the first of a quantity.
pub(super) fn own(record: &Record, all: &Limits, runs: &[usize]) -> Vec<(usize, f64)> {
    let values = all.first().map_or_else(Vec::new, |(p, _)| values(record, p, runs));
    let differ = values.len() > 1;
    values.into_iter().filter(|_| differ).flat_map(|(at, with)| with.into_iter().map(move |k| (k, at))).collect()
}
