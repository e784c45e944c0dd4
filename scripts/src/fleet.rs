//! Fleets: every variant under every duty, for many clutches that differ in what is uncertain.

use crate::interpreter::{Interpreter, Limits};
use crate::journal::{Entry, Heading, Journal};
use crate::plan::{Pair, Plan};
use crate::study::{hash, pool};
use crate::{Script, Trouble};
use rayon::prelude::*;
use slipsoak_engine::fleet::{Fleet, Outcome, Report, Uncertain, report, sample};
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

/// What a script asks of a fleet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    /// clutches
    pub clutches: u64,
    /// of every draw
    pub seed: u64,
}

/// One fleet: a variant under a duty.
#[derive(Clone, Debug)]
struct Kind {
    variant: String,
    duty: String,
    until: f64,
    uncertain: Vec<Uncertain>,
}

/// A fleet study that was asked for, before it is run.
pub struct Asked<'a> {
    script: &'a Script,
    settings: &'a BTreeMap<String, f64>,
    limits: Limits,
    title: String,
    kinds: Vec<Kind>,
    /// which study it is
    pub heading: Heading,
}

/// The fleet study of a script; none if it asks for single runs.
pub fn asked<'a>(
    script: &'a Script,
    settings: &'a BTreeMap<String, f64>,
    limits: Limits,
    part: (u64, u64),
) -> Result<Option<Asked<'a>>, Trouble> {
    pool(Some(1))?.install(|| {
        let interpreter = Interpreter::new(script, settings, limits)?;
        let plan = interpreter.plan().map_err(|e| e.after(interpreter.printed()))?;
        let Some(size) = plan.fleet else { return Ok(None) };
        let kind = |pair: &Pair| {
            let until = pair.duty.until.ok_or_else(|| Trouble::Unrepeated { duty: pair.duty.name.clone() })?;
            let (variant, duty) = (pair.variant.name.clone(), pair.duty.name.clone());
            Ok(Kind { variant, duty, until, uncertain: pair.variant.uncertain() })
        };
        let kinds: Vec<Kind> = plan.pairs.iter().map(kind).collect::<Result<_, Trouble>>()?;
        let heading = Heading {
            program: concat!("slipsoak ", env!("CARGO_PKG_VERSION")).to_owned(),
            script_hash: hash(&script.text),
            parameters: interpreter.parameters(),
            seed: size.seed,
            clutches: size.clutches,
            fleets: kinds.iter().map(|k| (k.variant.clone(), k.duty.clone())).collect(),
            skipping: limits.skipping.tolerance > 0.0,
            part,
        };
        Ok(Some(Asked { script, settings, limits, title: plan.title, kinds, heading }))
    })
}

impl Asked<'_> {
    /// Clutches that this part has to run, over all fleets.
    pub fn count(&self) -> u64 {
        self.wanted().len() as u64
    }

    fn wanted(&self) -> Vec<(usize, u64)> {
        let (k, of) = self.heading.part;
        // Clutch by clutch, so that an unfinished study has as much of every fleet.
        let clutches = (0..self.heading.clutches).filter(|c| c % of == k - 1);
        clutches.flat_map(|c| (0..self.kinds.len()).map(move |f| (f, c))).collect()
    }

    /// Runs what the journal does not hold yet. `done` hears of each clutch that is.
    pub fn run(&self, journal: &Path, threads: Option<u16>, done: impl Fn() + Sync) -> Result<Vec<Entry>, Trouble> {
        let (journal, mut entries) = Journal::open(journal, &self.heading)?;
        let known: BTreeSet<(usize, u64)> = entries.iter().map(|e| (e.fleet, e.outcome.clutch)).collect();
        for _ in &known {
            done();
        }
        let left: Vec<(usize, u64)> = self.wanted().into_iter().filter(|w| !known.contains(w)).collect();
        let made: Result<Vec<Entry>, Trouble> = pool(threads)?.install(|| {
            left.par_iter()
                .map_init(
                    || self.planned(),
                    |own, &(fleet, clutch)| {
                        let (interpreter, plan) = own.as_ref().map_err(Clone::clone)?;
                        let mut pair = plan.pairs[fleet].clone();
                        pair.variant.machine =
                            sample(&pair.variant.machine, &self.kinds[fleet].uncertain, self.heading.seed, clutch);
                        let run = interpreter.perform_unrecorded(&pair).map_err(|e| e.of_clutch(clutch))?;
                        let way = run.horizon.clone().unwrap_or_default();
                        let entry = Entry { fleet, outcome: Outcome::of(clutch, &run, &way, self.kinds[fleet].until) };
                        journal.enter(&entry)?;
                        done();
                        Ok(entry)
                    },
                )
                .collect()
        });
        entries.extend(made?);
        Ok(entries)
    }

    fn planned(&self) -> Result<(Interpreter<'_>, Plan), Trouble> {
        let interpreter = Interpreter::new(self.script, self.settings, self.limits)?;
        let plan = interpreter.plan()?;
        interpreter.printed();
        Ok((interpreter, plan))
    }

    /// Brings all entries together.
    pub fn report(&self, entries: Vec<Entry>) -> Report {
        let mut outcomes: Vec<BTreeMap<u64, Outcome>> = vec![BTreeMap::new(); self.kinds.len()];
        for entry in entries {
            if let Some(fleet) = outcomes.get_mut(entry.fleet) {
                fleet.insert(entry.outcome.clutch, entry.outcome);
            }
        }
        let fleet = |(kind, outcomes): (&Kind, BTreeMap<u64, Outcome>)| -> Fleet {
            let all = outcomes.into_values().collect();
            report(&kind.variant, &kind.duty, kind.until, &kind.uncertain, all)
        };
        Report {
            program: self.heading.program.clone(),
            script: self.script.name.clone(),
            script_hash: self.heading.script_hash.clone(),
            script_text: self.script.text.clone(),
            title: self.title.clone(),
            parameters: self.heading.parameters.clone(),
            seed: self.heading.seed,
            clutches: self.heading.clutches,
            fleets: self.kinds.iter().zip(outcomes).map(fleet).collect(),
        }
    }
}
