//! Sweeps: all combinations of settings, each run for its summary.

use crate::language::interpreter::Interpreter;
use crate::language::plan::{Pair, Plan};
use crate::language::script_error::ScriptError;
use crate::read::units::show;
use crate::study::campaign::Campaign;
use crate::study::frame::Frame;
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::failed::Failed;
use slipsoak_engine::names::distinct;
use slipsoak_engine::parts::Parameter;
use slipsoak_engine::simulate::Options;
use slipsoak_engine::sweep::{Axis, Row, Summary, Sweep};
use std::collections::BTreeMap;

/// A planned sweep.
pub struct SweepStudy<'a> {
    frame: Frame<'a>,
    axes: Vec<Axis>,
    /// on each axis, the place of every combination
    places: Vec<Vec<usize>>,
}

impl<'a> SweepStudy<'a> {
    /// The sweep of a plan.
    pub(crate) fn of(frame: Frame<'a>, plan: &Plan) -> Self {
        let (axes, places) = axes(&plan.pairs).into_iter().unzip();
        Self { frame, axes, places }
    }
}

/// An axis, and the position of each pair on it.
type Placed = (Axis, Vec<usize>);

/// Axes of the pairs: the varied settings, then machines and duties if there are several.
fn axes(pairs: &[Pair]) -> Vec<Placed> {
    let varied = distinct(pairs.iter().flat_map(|pair| &pair.variant.varied).map(|varied| varied.0));
    let machines = named("machine", "the machine", pairs.iter().map(|pair| &pair.variant.family));
    let duties = named("duty", "the duty", pairs.iter().map(|pair| &pair.duty.name));
    let several = [machines, duties].into_iter().filter(|(axis, _)| axis.labels.len() > 1);
    varied.into_iter().map(|p| setting(p, pairs)).chain(several).collect()
}

/// The axis of a setting, with its values in order.
fn setting(p: &Parameter, pairs: &[Pair]) -> Placed {
    let own: Vec<f64> = pairs.iter().map(|pair| value(p, pair)).collect();
    let mut values = own.clone();
    values.sort_by(f64::total_cmp);
    values.dedup();
    let places = own.iter().map(|own| values.iter().position(|value| value == own).unwrap_or(0)).collect();
    let axis = Axis {
        name: p.path.to_owned(),
        meaning: p.meaning.to_owned(),
        unit: p.dimension.unit().to_owned(),
        labels: values.iter().map(|v| show(*v, p.dimension)).collect(),
        values,
    };
    (axis, places)
}

/// An axis of names, in the order in which they first occur.
fn named<'p>(name: &str, meaning: &str, own: impl Iterator<Item = &'p String>) -> Placed {
    let mut labels: Vec<String> = vec![];
    let place = |own: &String| {
        labels.iter().position(|label| label == own).unwrap_or_else(|| {
            labels.push(own.clone());
            labels.len() - 1
        })
    };
    let places = own.map(place).collect();
    (Axis { name: name.to_owned(), meaning: meaning.to_owned(), unit: String::new(), values: vec![], labels }, places)
}

/// The value of a setting of a pair's machine, SI.
fn value(p: &Parameter, pair: &Pair) -> f64 {
    let own = pair.variant.varied.iter().find(|(varied, _)| *varied == p).map(|(_, value)| *value);
    own.unwrap_or_else(|| (p.of)(&pair.variant.machine))
}

impl Campaign for SweepStudy<'_> {
    type Found = Summary;

    fn frame(&self) -> &Frame<'_> {
        &self.frame
    }

    fn called(&self, item: u64) -> String {
        self.frame.cases[item as usize].name()
    }

    fn group(&self, _: u64) -> (usize, u64) {
        (0, self.frame.heading.items)
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Summary, ScriptError> {
        // The windows are dropped with the run; only its summary is kept.
        Ok(Summary::of(&interpreter.perform(&plan.pairs[item as usize], Options::default(), &|_| {})?))
    }

    fn together(&self, found: BTreeMap<u64, Summary>, failed: Vec<Failed>) -> Saved {
        let row = |(item, summary): (u64, Summary)| {
            let (k, case) = (item as usize, &self.frame.cases[item as usize]);
            let place = self.places.iter().map(|own| own[k]).collect();
            Row { place, variant: case.variant.name.clone(), duty: case.duty.clone(), summary }
        };
        Sweep {
            kind: Is::default(),
            head: self.frame.head(vec![]),
            axes: self.axes.clone(),
            rows: found.into_iter().map(row).collect(),
            failed,
        }
        .into()
    }
}
