//! Fleets: every variant under every duty, for many clutches sampled over the uncertain settings.

use crate::Script;
use crate::Trouble;
use crate::language::interpreter::{Interpreter, Limits};
use crate::language::plan::{Pair, Plan};
use crate::study::campaign::{self, Came, Campaign, Frame};
use slipsoak_engine::document::Is;
use slipsoak_engine::failed::Failed;
use slipsoak_engine::fleet::{Fleet, Outcome, Report, Uncertain, paired, report, sample};
use std::collections::BTreeMap;
use std::path::Path;

/// One fleet: a variant under a duty.
#[derive(Clone, Debug)]
struct Kind {
    variant: String,
    duty: String,
    until: f64,
    uncertain: Vec<Uncertain>,
}

/// A planned fleet study.
pub struct Asked<'a> {
    frame: Frame<'a>,
    kinds: Vec<Kind>,
    clutches: u64,
    seed: u64,
    /// name of the machine that the others are compared with, if any
    reference: Option<String>,
}

/// The fleet study of a script; none if it asks for something else.
pub fn asked<'a>(
    script: &'a Script,
    settings: &'a BTreeMap<String, f64>,
    limits: Limits,
    part: (u64, u64),
) -> Result<Option<Asked<'a>>, Trouble> {
    Ok(match campaign::asked(script, settings, limits, part)? {
        Some(campaign::Asked::Fleet(fleet)) => Some(fleet),
        _ => None,
    })
}

impl<'a> Asked<'a> {
    /// The fleets of a plan.
    pub(crate) fn of(mut frame: Frame<'a>, plan: &Plan, clutches: u64, seed: u64) -> Result<Self, Trouble> {
        let kind = |pair: &Pair| {
            let until = pair.duty.until.ok_or_else(|| Trouble::Unrepeated { duty: pair.duty.name.clone() })?;
            let (variant, duty) = (pair.variant.name.clone(), pair.duty.name.clone());
            Ok(Kind { variant, duty, until, uncertain: pair.variant.uncertain() })
        };
        let kinds: Vec<Kind> = plan.pairs.iter().map(kind).collect::<Result<_, Trouble>>()?;
        // Clutch by clutch, so that an unfinished study has the same number of every fleet.
        frame.heading.group = kinds.len() as u64;
        frame.heading.items = clutches * kinds.len() as u64;
        let reference = plan.reference.as_ref().map(|variant| variant.name.clone());
        Ok(Self { frame, kinds, clutches, seed, reference })
    }

    /// Runs the clutches that are not in the journal yet. `done` is called for each.
    pub fn run(&self, journal: &Path, threads: Option<u16>, done: impl Fn() + Sync) -> Result<Came<Outcome>, Trouble> {
        campaign::run(self, journal, threads, |_| (), done)
    }

    /// Joins all clutches.
    pub fn report(&self, came: Came<Outcome>) -> Result<Report, Trouble> {
        campaign::report(self, came)
    }

    /// Fleet and clutch of an item.
    fn which(&self, item: u64) -> (usize, u64) {
        let fleets = self.kinds.len() as u64;
        ((item % fleets) as usize, item / fleets)
    }
}

impl Campaign for Asked<'_> {
    type Found = Outcome;
    type Report = Report;
    const ITEMS: &'static str = "clutches";

    fn frame(&self) -> &Frame<'_> {
        &self.frame
    }

    fn called(&self, item: u64) -> String {
        let (fleet, clutch) = self.which(item);
        let Kind { variant, duty, .. } = &self.kinds[fleet];
        format!("clutch {clutch} of “{variant}, {duty}”")
    }

    fn group(&self, item: u64) -> (usize, u64) {
        (self.which(item).0, self.clutches)
    }

    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Outcome, Trouble> {
        let (fleet, clutch) = self.which(item);
        let kind = &self.kinds[fleet];
        let mut pair = plan.pairs[fleet].clone();
        pair.variant.machine = sample(&pair.variant.machine, &kind.uncertain, self.seed, clutch);
        let run = interpreter.perform_unrecorded(&pair)?;
        Ok(Outcome::of_run(clutch, &run, kind.until))
    }

    fn together(&self, found: BTreeMap<u64, Outcome>, failed: Vec<Failed>) -> Report {
        let mut outcomes: Vec<Vec<Outcome>> = vec![vec![]; self.kinds.len()];
        for (item, outcome) in found {
            outcomes[self.which(item).0].push(outcome);
        }
        let fleet = |(kind, outcomes): (&Kind, Vec<Outcome>)| -> Fleet {
            report(&kind.variant, &kind.duty, kind.until, &kind.uncertain, outcomes)
        };
        let fleets: Vec<Fleet> = self.kinds.iter().zip(outcomes).map(fleet).collect();
        Report {
            kind: Is::default(),
            head: self.frame.head(vec![self.seed]),
            clutches: self.clutches,
            pairs: paired(&fleets, self.reference.as_deref()),
            reference: self.reference.clone(),
            fleets,
            failed,
        }
    }
}
