//! Sweeps: all combinations of settings, each run for its summary.

use crate::language::interpreter::Interpreter;
use crate::language::plan::{Pair, Plan};
use crate::language::script_error::ScriptError;
use crate::read::units::show;
use crate::study::campaign::{Campaign, Frame};
use slipsoak_engine::document::Is;
use slipsoak_engine::failed::Failed;
use slipsoak_engine::parts::{Dimension, parameter};
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use std::collections::BTreeMap;

/// Position of a combination on the axes.
#[derive(Clone, Debug)]
struct Combination {
    place: Vec<usize>,
    variant: String,
    duty: String,
}

/// A planned sweep.
pub struct SweepStudy<'a> {
    frame: Frame<'a>,
    axes: Vec<Axis>,
    combinations: Vec<Combination>,
}

impl<'a> SweepStudy<'a> {
    /// The sweep of a plan.
    pub(crate) fn of(frame: Frame<'a>, plan: &Plan) -> Self {
        let axes = axes(&plan.pairs);
        let combination = |pair: &Pair| Combination {
            place: axes.iter().map(|axis| stop(axis, pair)).collect(),
            variant: pair.variant.name.clone(),
            duty: pair.duty.name.clone(),
        };
        let combinations = plan.pairs.iter().map(combination).collect();
        Self { frame, axes, combinations }
    }
}

/// The distinct names, in order.
fn distinct<'p>(names: impl Iterator<Item = &'p String>) -> Vec<String> {
    let mut all: Vec<String> = vec![];
    for name in names {
        if !all.contains(name) {
            all.push(name.clone());
        }
    }
    all
}

/// Axes of the pairs: the varied settings, then machines and duties if there are several.
fn axes(pairs: &[Pair]) -> Vec<Axis> {
    let mut paths: Vec<&'static str> = vec![];
    for (path, _) in pairs.iter().flat_map(|pair| &pair.variant.varied) {
        if !paths.contains(path) {
            paths.push(path);
        }
    }
    let setting = |path: &&'static str| {
        let p = parameter(path);
        let dimension = p.map_or(Dimension::Ratio, |p| p.dimension);
        let mut values: Vec<f64> = pairs.iter().map(|pair| value(path, pair)).collect();
        values.sort_by(f64::total_cmp);
        values.dedup();
        Axis {
            name: (*path).to_owned(),
            meaning: p.map_or_else(String::new, |p| p.meaning.to_owned()),
            unit: dimension.unit().to_owned(),
            labels: values.iter().map(|v| show(*v, dimension)).collect(),
            values,
        }
    };
    let named = |name: &str, meaning: &str, labels: Vec<String>| Axis {
        name: name.to_owned(),
        meaning: meaning.to_owned(),
        unit: String::new(),
        values: vec![],
        labels,
    };
    let mut axes: Vec<Axis> = paths.iter().map(setting).collect();
    let machines = distinct(pairs.iter().map(|pair| &pair.variant.family));
    let duties = distinct(pairs.iter().map(|pair| &pair.duty.name));
    if machines.len() > 1 {
        axes.push(named(MACHINE, "the machine", machines));
    }
    if duties.len() > 1 {
        axes.push(named(DUTY, "what it is put through", duties));
    }
    axes
}

const MACHINE: &str = "machine";
const DUTY: &str = "duty";

/// The value of a setting of a pair's machine, SI.
fn value(path: &str, pair: &Pair) -> f64 {
    let own = pair.variant.varied.iter().find(|(varied, _)| *varied == path).map(|(_, value)| *value);
    own.or_else(|| parameter(path).map(|p| (p.of)(&pair.variant.machine))).unwrap_or(0.0)
}

/// Position of a pair on an axis.
fn stop(axis: &Axis, pair: &Pair) -> usize {
    let found = match axis.name.as_str() {
        MACHINE => axis.labels.iter().position(|label| *label == pair.variant.family),
        DUTY => axis.labels.iter().position(|label| *label == pair.duty.name),
        path => axis.values.iter().position(|v| *v == value(path, pair)),
    };
    found.unwrap_or(0)
}

impl Campaign for SweepStudy<'_> {
    type Found = Summary;
    type Report = Sweep;
    const ITEMS: &'static str = "combinations";

    fn frame(&self) -> &Frame<'_> {
        &self.frame
    }

    fn called(&self, item: u64) -> String {
        let Combination { variant, duty, .. } = &self.combinations[item as usize];
        format!("{variant}, {duty}")
    }

    fn group(&self, _: u64) -> (usize, u64) {
        (0, self.frame.heading.items)
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Summary, ScriptError> {
        // The windows are dropped with the run; only its summary is kept.
        Ok(Summary::of(&interpreter.perform(&plan.pairs[item as usize], &|_| {})?))
    }

    fn together(&self, found: BTreeMap<u64, Summary>, failed: Vec<Failed>) -> Sweep {
        let row = |(item, summary): (u64, Summary)| {
            let Combination { place, variant, duty } = self.combinations[item as usize].clone();
            Row { place, variant, duty, summary }
        };
        Sweep {
            kind: Is::default(),
            head: self.frame.head(vec![]),
            axes: self.axes.clone(),
            rows: found.into_iter().map(row).collect(),
            failed,
        }
    }
}
