//! Fleets: every variant under every duty, for many clutches sampled over the uncertain settings.

use crate::language::interpreter::Interpreter;
use crate::language::plan::{Pair, Plan};
use crate::language::script_error::ScriptError;
use crate::study::campaign::{Campaign, Frame, afford};
use crate::study::study_error::StudyError;
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::failed::Failed;
use slipsoak_engine::fleet::{Fleet, Outcome, Report, Uncertain, paired, report, sample};
use std::collections::BTreeMap;

/// One fleet: a variant under a duty.
#[derive(Clone, Debug)]
struct FleetCase {
    variant: String,
    duty: String,
    until: f64,
    uncertain: Vec<Uncertain>,
}

/// A planned fleet study.
pub struct FleetStudy<'a> {
    frame: Frame<'a>,
    cases: Vec<FleetCase>,
    clutches: u64,
    seed: u64,
    /// name of the machine that the others are compared with, if any
    reference: Option<String>,
}

impl<'a> FleetStudy<'a> {
    /// The fleets of a plan.
    pub(crate) fn of(mut frame: Frame<'a>, plan: &Plan, clutches: u64, seed: u64) -> Result<Self, StudyError> {
        let fleets = plan.pairs.len() as u64;
        afford(clutches.saturating_mul(fleets), || format!("{clutches} clutches × {fleets} fleets"))?;
        let case = |pair: &Pair| {
            let until = pair.duty.until.ok_or_else(|| StudyError::Unrepeated { duty: pair.duty.name.clone() })?;
            let (variant, duty) = (pair.variant.name.clone(), pair.duty.name.clone());
            Ok(FleetCase { variant, duty, until, uncertain: pair.variant.uncertain() })
        };
        let cases: Vec<FleetCase> = plan.pairs.iter().map(case).collect::<Result<_, StudyError>>()?;
        // Clutch by clutch, so that an unfinished study has the same number of every fleet.
        frame.heading.group = fleets;
        frame.heading.items = clutches * fleets;
        let reference = plan.reference.as_ref().map(|variant| variant.name.clone());
        Ok(Self { frame, cases, clutches, seed, reference })
    }

    /// Fleet and clutch of an item.
    fn which(&self, item: u64) -> (usize, u64) {
        let fleets = self.cases.len() as u64;
        ((item % fleets) as usize, item / fleets)
    }
}

impl Campaign for FleetStudy<'_> {
    type Found = Outcome;

    fn frame(&self) -> &Frame<'_> {
        &self.frame
    }

    fn called(&self, item: u64) -> String {
        let (fleet, clutch) = self.which(item);
        let FleetCase { variant, duty, .. } = &self.cases[fleet];
        format!("clutch {clutch} of “{variant}, {duty}”")
    }

    fn group(&self, item: u64) -> (usize, u64) {
        (self.which(item).0, self.clutches)
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Outcome, ScriptError> {
        let (fleet, clutch) = self.which(item);
        let case = &self.cases[fleet];
        let mut pair = plan.pairs[fleet].clone();
        pair.variant.machine = sample(&pair.variant.machine, &case.uncertain, self.seed, clutch);
        let run = interpreter.perform_unrecorded(&pair)?;
        Ok(Outcome::of_run(clutch, &run, case.until))
    }

    fn together(&self, found: BTreeMap<u64, Outcome>, failed: Vec<Failed>) -> Saved {
        let mut outcomes: Vec<Vec<Outcome>> = vec![vec![]; self.cases.len()];
        for (item, outcome) in found {
            outcomes[self.which(item).0].push(outcome);
        }
        let fleet = |(case, outcomes): (&FleetCase, Vec<Outcome>)| -> Fleet {
            report(&case.variant, &case.duty, case.until, &case.uncertain, outcomes)
        };
        let fleets: Vec<Fleet> = self.cases.iter().zip(outcomes).map(fleet).collect();
        Report {
            kind: Is::default(),
            head: self.frame.head(vec![self.seed]),
            clutches: self.clutches,
            pairs: paired(&fleets, self.reference.as_deref()),
            reference: self.reference.clone(),
            fleets,
            failed,
        }
        .into()
    }
}
