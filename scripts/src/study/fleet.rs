//! Fleets: every variant under every duty, for many clutches sampled over the uncertain settings.

use crate::language::interpreter::Interpreter;
use crate::language::plan::Plan;
use crate::language::script_error::ScriptError;
use crate::read::refusal::Refusal;
use crate::study::campaign::{Campaign, afford};
use crate::study::frame::{Case, Frame};
use slipsoak_engine::document::{Is, Saved};
use slipsoak_engine::failed::Failed;
use slipsoak_engine::fleet::{Fleet, Outcome, Report, paired, report, sample};
use slipsoak_engine::simulate::Options;
use std::collections::BTreeMap;

/// A planned fleet study.
pub struct FleetStudy<'a> {
    frame: Frame<'a>,
    clutches: u64,
    seed: u64,
    /// name of the machine that the others are compared with, if any
    reference: Option<String>,
}

impl<'a> FleetStudy<'a> {
    /// The fleets of a plan.
    pub(crate) fn of(mut frame: Frame<'a>, plan: &Plan, clutches: u64, seed: u64) -> Result<Self, Refusal> {
        let fleets = plan.pairs.len() as u64;
        afford(clutches.saturating_mul(fleets), || format!("{clutches} clutches × {fleets} fleets"))?;
        if let Some(Case { duty, .. }) = frame.cases.iter().find(|case| case.until.is_none()) {
            return Err(Refusal::new(format!(
                "a fleet is run to the end of its life: say how far, as in `duty(\"{duty}\", …).repeated(2000.hours)`"
            )));
        }
        // Clutch by clutch, so that an unfinished study has the same number of every fleet.
        frame.heading.group = fleets;
        frame.heading.items = clutches * fleets;
        let reference = plan.reference.as_ref().map(|variant| variant.name.clone());
        Ok(Self { frame, clutches, seed, reference })
    }

    /// Fleet and clutch of an item.
    fn which(&self, item: u64) -> (usize, u64) {
        let fleets = self.frame.cases.len() as u64;
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
        format!("clutch {clutch} of “{}”", self.frame.cases[fleet].name())
    }

    fn group(&self, item: u64) -> (usize, u64) {
        (self.which(item).0, self.clutches)
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Outcome, ScriptError> {
        let (fleet, clutch) = self.which(item);
        let mut pair = plan.pairs[fleet].clone();
        pair.variant.machine = sample(&pair.variant.machine, &pair.variant.uncertain(), self.seed, clutch);
        let run = interpreter.perform(&pair, Options::UNRECORDED, &|_| {})?;
        Ok(Outcome::of_run(clutch, &run, pair.duty.until.unwrap_or(0.0)))
    }

    fn together(&self, found: BTreeMap<u64, Outcome>, failed: Vec<Failed>) -> Saved {
        let mut outcomes: Vec<Vec<Outcome>> = vec![vec![]; self.frame.cases.len()];
        for (item, outcome) in found {
            outcomes[self.which(item).0].push(outcome);
        }
        let fleet = |(Case { variant, duty, until }, outcomes): (&Case, Vec<Outcome>)| -> Fleet {
            let engagement = Some(variant.machine.clutch.engagement);
            let found = report(&variant.name, duty, until.unwrap_or(0.0), &variant.uncertain(), outcomes);
            Fleet { engagement, ..found }
        };
        let fleets: Vec<Fleet> = self.frame.cases.iter().zip(outcomes).map(fleet).collect();
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
