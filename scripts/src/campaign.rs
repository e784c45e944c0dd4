//! A campaign: a long study of many items, each of which leaves a little; journalled, resumed, shared out, gathered.

use crate::interpreter::{Interpreter, Limits};
use crate::journal::{Entry, Heading, Journal};
use crate::output::{Folder, Unwritten};
use crate::plan::{Aim, Plan};
use crate::study::{hash, pool};
use crate::{Script, Trouble, fleet, influence, sweep};
use rayon::prelude::*;
use serde::Serialize;
use serde::de::DeserializeOwned;
use slipsoak_plots::report::Page;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;

/// What every campaign has.
pub struct Frame<'a> {
    script: &'a Script,
    settings: &'a BTreeMap<String, f64>,
    limits: Limits,
    /// what the study asks
    pub title: String,
    /// which study it is
    pub heading: Heading,
}

/// A long study.
pub trait Campaign: Sync {
    /// what one item leaves
    type Found: Serialize + DeserializeOwned + Send;
    /// all of them together
    type Report: Serialize;
    /// what its items are called
    const ITEMS: &'static str;

    /// Script, settings and heading.
    fn frame(&self) -> &Frame<'_>;
    /// Runs one item.
    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Self::Found, Trouble>;
    /// Brings all items together.
    fn together(&self, found: BTreeMap<u64, Self::Found>) -> Self::Report;
    /// The report for the terminal.
    fn text(report: &Self::Report) -> String;
    /// The report as one page.
    fn page(report: &Self::Report) -> Page;
    /// Writes the report, with its figures where they are wanted.
    fn write(folder: &Folder, report: &Self::Report, pictures: bool) -> Result<(), Unwritten>;
}

/// A campaign that was asked for, before it is run.
pub enum Asked<'a> {
    /// clutches that differ
    Fleet(fleet::Asked<'a>),
    /// settings crossed
    Sweep(sweep::Asked<'a>),
    /// what matters most
    Influence(influence::Asked<'a>),
}

/// The campaign of a script; none if it asks for single runs.
pub fn asked<'a>(
    script: &'a Script,
    settings: &'a BTreeMap<String, f64>,
    limits: Limits,
    part: (u64, u64),
) -> Result<Option<Asked<'a>>, Trouble> {
    pool(Some(1))?.install(|| {
        let interpreter = Interpreter::new(script, settings, limits)?;
        let plan = interpreter.plan().map_err(|e| e.after(interpreter.printed()))?;
        if plan.aim == Aim::Runs {
            return Ok(None);
        }
        let compared = compared(&interpreter, &plan)?;
        let heading = Heading {
            program: concat!("slipsoak ", env!("CARGO_PKG_VERSION")).to_owned(),
            script_hash: hash(&script.text),
            parameters: interpreter.parameters(),
            aim: plan.aim,
            compared,
            items: plan.pairs.len() as u64,
            group: 1,
            skipping: limits.skipping.tolerance > 0.0,
            part,
        };
        let frame = Frame { script, settings, limits, title: plan.title.clone(), heading };
        let asked = match plan.aim {
            Aim::Runs => None,
            Aim::Fleet { clutches, seed } => Some(Asked::Fleet(fleet::Asked::of(frame, &plan, clutches, seed)?)),
            Aim::Sweep => Some(Asked::Sweep(sweep::Asked::of(frame, &plan))),
            Aim::Influence { rows } => Some(Asked::Influence(influence::Asked::of(frame, &plan, rows))),
        };
        Ok(asked)
    })
}

/// SHA-256 of every machine and of every duty as far as it can be taken down.
fn compared(interpreter: &Interpreter<'_>, plan: &Plan) -> Result<String, Trouble> {
    let (mut text, mut duties) = (String::new(), BTreeSet::new());
    for pair in &plan.pairs {
        let _ = write!(text, "{:?}{:?}{:?}", pair.variant, pair.duty.name, pair.duty.until);
        if duties.insert(&pair.duty.name) {
            let entries = interpreter.record(pair)?;
            let segments = entries.map(|all| all.into_iter().map(|entry| entry.0).collect::<Vec<_>>());
            let _ = write!(text, "{segments:?}");
        }
    }
    interpreter.printed();
    Ok(hash(&text))
}

/// Runs what the journal does not hold yet. `begun` hears how many items are done already, `done` of each that is.
pub fn run<C: Campaign>(
    campaign: &C,
    journal: &Path,
    threads: Option<u16>,
    begun: impl FnOnce(u64),
    done: impl Fn() + Sync,
) -> Result<BTreeMap<u64, C::Found>, Trouble> {
    let frame = campaign.frame();
    let (journal, entries) = Journal::open(journal, &frame.heading)?;
    let mut found: BTreeMap<u64, C::Found> = entries.into_iter().map(|e| (e.item, e.found)).collect();
    begun(found.len() as u64);
    let left: Vec<u64> = frame.heading.due().filter(|item| !found.contains_key(item)).collect();
    let made: Result<Vec<_>, Trouble> = pool(threads)?.install(|| {
        left.par_iter()
            .map_init(
                || frame.planned(),
                |own, &item| {
                    let (interpreter, plan) = own.as_ref().map_err(Clone::clone)?;
                    let entry = Entry { item, found: campaign.perform(interpreter, plan, item)? };
                    interpreter.printed();
                    journal.enter(&entry)?;
                    done();
                    Ok((item, entry.found))
                },
            )
            .collect()
    });
    found.extend(made?);
    Ok(found)
}

impl Frame<'_> {
    /// How many items this part has.
    pub fn count(&self) -> u64 {
        self.heading.due().count() as u64
    }

    /// The script's name.
    pub fn script(&self) -> &str {
        &self.script.name
    }

    /// The script's text.
    pub fn text(&self) -> &str {
        &self.script.text
    }

    // The interpreter is not shared: each thread has its own.
    fn planned(&self) -> Result<(Interpreter<'_>, Plan), Trouble> {
        let interpreter = Interpreter::new(self.script, self.settings, self.limits)?;
        let plan = interpreter.plan()?;
        interpreter.printed();
        Ok((interpreter, plan))
    }
}
