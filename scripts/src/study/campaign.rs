//! A campaign: a long study of many items with small results; journalled, resumed, divided into parts, gathered.

use crate::Script;
use crate::Trouble;
use crate::keep::interrupt;
use crate::keep::journal::{Entry, Heading, Journal, Made};
use crate::language::captured;
use crate::language::interpreter::{Interpreter, Limits};
use crate::language::plan::{Aim, Plan};
use crate::study::head::{Asking, PROGRAM, hash};
use crate::study::runs::pool;
use crate::study::{fleet, influence, sweep};
use serde::Serialize;
use serde::de::DeserializeOwned;
use slipsoak_engine::document::{Head, Saved};
use slipsoak_engine::failed::Failed;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{SyncSender, sync_channel};
use std::sync::{Mutex, PoisonError};

/// Number of items that may wait for the disk.
const QUEUE: usize = 16;

/// One of this number of items may fail and be left out.
const SPARED: u64 = 10;

/// End of life in a fleet and in a sensitivity study.
const ENDS: &str = "the first worn part, the oil set apart";

/// Largest number of items of one study: each takes about a kilobyte of memory until all are joined.
const ITEMS: u64 = 1_000_000;

/// Common data of every campaign.
pub struct Frame<'a> {
    script: &'a Script,
    settings: &'a BTreeMap<String, f64>,
    limits: Limits,
    /// title of the study
    pub title: String,
    /// identity of the study
    pub heading: Heading,
}

/// A long study.
pub trait Campaign: Sync {
    /// result of one item
    type Found: Serialize + DeserializeOwned + PartialEq + Send;
    /// result of all items
    type Report: Into<Saved>;
    /// name of its items
    const ITEMS: &'static str;

    /// Script, settings and heading.
    fn frame(&self) -> &Frame<'_>;
    /// Name of an item.
    fn called(&self, item: u64) -> String;
    /// The group of an item, and the size of that group: at most a tenth of a group may fail.
    fn group(&self, item: u64) -> (usize, u64);
    /// Runs one item.
    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Self::Found, Trouble>;
    /// Joins the results of all items and the list of those that could not be computed.
    fn together(&self, found: BTreeMap<u64, Self::Found>, failed: Vec<Failed>) -> Self::Report;
}

/// Outcome of each item: its result, or the reason why it could not be computed.
pub type Came<T> = BTreeMap<u64, Result<T, String>>;

/// A planned campaign.
pub enum Asked<'a> {
    /// clutches sampled over the uncertain settings
    Fleet(fleet::Asked<'a>),
    /// combinations of settings
    Sweep(sweep::Asked<'a>),
    /// sensitivities
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
        let interpreter = Interpreter::new(script, settings, limits.clone())?;
        let plan = interpreter.plan().map_err(|e| e.after(interpreter.printed()))?;
        if plan.aim == Aim::Runs {
            return Ok(None);
        }
        let compared = compared(&interpreter, &plan)?;
        let heading = Heading {
            program: PROGRAM.to_owned(),
            script_hash: hash(&script.text),
            // A duty may use parameters that have not been used until now.
            parameters: interpreter.parameters().into_iter().chain(settings.clone()).collect(),
            files: interpreter.files(),
            aim: plan.aim,
            compared,
            items: plan.pairs.len() as u64,
            group: 1,
            ends: matches!(plan.aim, Aim::Fleet { .. } | Aim::Influence { .. }).then(|| ENDS.to_owned()),
            skipping: limits.skipping.tolerance > 0.0,
            part,
        };
        afford(plan.aim, &plan)?;
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

/// Refuses a study with more items than memory and time allow.
fn afford(aim: Aim, plan: &Plan) -> Result<(), Trouble> {
    let pairs = plan.pairs.len() as u64;
    let (items, what) = match aim {
        Aim::Runs | Aim::Sweep => return Ok(()),
        Aim::Fleet { clutches, .. } => {
            (clutches.saturating_mul(pairs), format!("{clutches} clutches × {pairs} fleets"))
        }
        Aim::Influence { rows } => {
            let items = plan.pairs.iter().map(|pair| influence::items(pair, rows)).fold(0, u64::saturating_add);
            (items, format!("{rows} rows, {pairs} machines under duties"))
        }
    };
    if items > ITEMS { Err(Trouble::Items { items, most: ITEMS, what }) } else { Ok(()) }
}

/// SHA-256 of every machine, and of every duty whose segments can be recorded.
fn compared(interpreter: &Interpreter<'_>, plan: &Plan) -> Result<String, Trouble> {
    let (mut text, mut duties) = (String::new(), BTreeSet::new());
    for pair in &plan.pairs {
        let _ = write!(text, "{:?}{:?}{:?}", pair.variant, pair.duty.name, pair.duty.until);
        let function = &pair.duty.function;
        if duties.insert((&pair.duty.name, function.fn_name(), captured::state(function))) {
            let entries = interpreter.record(pair)?;
            let segments = entries.map(|all| all.into_iter().map(|entry| entry.0).collect::<Vec<_>>());
            let _ = write!(text, "{segments:?}");
        }
    }
    interpreter.printed();
    Ok(hash(&text))
}

/// Runs the items that are not in the journal yet. `begun` receives the number of items already done, `done` is called
/// for each item on disk.
///
/// Threads take one item after the other, so that they end together, and do not wait for the disk: results go to the
/// thread of the journal, which writes those that have arrived meanwhile and syncs them at once.
pub fn run<C: Campaign>(
    campaign: &C,
    journal: &Path,
    threads: Option<u16>,
    begun: impl FnOnce(u64),
    done: impl Fn() + Sync,
) -> Result<Came<C::Found>, Trouble> {
    let frame = campaign.frame();
    let path = journal;
    let (journal, entries) = Journal::open(path, &frame.heading)?;
    let mut found: Came<C::Found> = entries.into_iter().map(|e| (e.item, e.found)).collect();
    interrupt::journal(path, C::ITEMS, found.len() as u64, frame.count());
    begun(found.len() as u64);
    let left: Vec<u64> = frame.heading.due().filter(|item| !found.contains_key(item)).collect();
    let pool = pool(threads)?;
    // A study that already has too many failures is not continued.
    if let Some((_, trouble)) = too_many(campaign, &found) {
        return Err(trouble);
    }
    let failing = Mutex::new(BTreeMap::<usize, u64>::new());
    // Counts a failed item; returns whether its group now has too many.
    let counted = |item: u64| {
        let (group, of) = campaign.group(item);
        let mut failing = failing.lock().unwrap_or_else(PoisonError::into_inner);
        let count = failing.entry(group).or_default();
        *count += 1;
        *count > of / SPARED
    };
    for (item, _) in found.iter().filter(|(_, came)| came.is_err()) {
        counted(*item);
    }
    let (next, stopped) = (AtomicUsize::new(0), AtomicBool::new(false));
    let (give, taken) = sync_channel(QUEUE);
    let (made, failures) = std::thread::scope(|scope| {
        let done = &done;
        let scribe = scope.spawn(move || journal.keep(&taken, done));
        // The first failure of a thread, with its item.
        let work = |give: SyncSender<Made<Result<C::Found, String>>>| -> Option<(u64, Trouble)> {
            let own = frame.planned();
            // An item that was taken is run even if others fail meanwhile: so every item before the first failing one
            // has been run.
            while !stopped.load(Ordering::Relaxed)
                && let Some(&item) = left.get(next.fetch_add(1, Ordering::Relaxed))
            {
                let perform = || {
                    let (interpreter, plan) = own.as_ref().map_err(Clone::clone)?;
                    let found = campaign.perform(interpreter, plan, item);
                    interpreter.printed();
                    let found = match found {
                        Ok(found) => Ok(found),
                        // An item that cannot be computed is left out; any other error ends the study.
                        Err(trouble) => match trouble.uncomputed() {
                            Some(why) => Err(why.to_owned()),
                            None => return Err(trouble.of(campaign.called(item))),
                        },
                    };
                    if found.is_err() && counted(item) {
                        stopped.store(true, Ordering::Relaxed);
                    }
                    Ok(Made::of(Entry { item, found })?)
                };
                match perform() {
                    // If the journal accepts no more items, it reports the reason itself.
                    Ok(made) => stopped.fetch_or(give.send(made).is_err(), Ordering::Relaxed),
                    Err(trouble) => {
                        stopped.store(true, Ordering::Relaxed);
                        return Some((item, trouble));
                    }
                };
            }
            None
        };
        let failures: Vec<_> = pool.broadcast(|_| work(give.clone())).into_iter().flatten().collect();
        drop(give);
        (scribe.join(), failures)
    });
    let made = made.unwrap_or_else(|panic| std::panic::resume_unwind(panic))?;
    found.extend(made.into_iter().map(|entry| (entry.item, entry.found)));
    // Items are taken in order, so the first that ends the study does not depend on the number of threads.
    let failures = failures.into_iter().chain(too_many(campaign, &found));
    match failures.min_by_key(|failure: &(u64, Trouble)| failure.0) {
        Some((_, trouble)) => Err(trouble),
        None => Ok(found),
    }
}

/// The item with which more than a tenth of its group could not be computed, and the error; none if no group has so
/// many.
fn too_many<C: Campaign>(campaign: &C, came: &Came<C::Found>) -> Option<(u64, Trouble)> {
    let mut failing: BTreeMap<usize, (u64, String)> = BTreeMap::new();
    for (item, why) in came.iter().filter_map(|(item, came)| Some((*item, came.as_ref().err()?))) {
        let (group, of) = campaign.group(item);
        let (count, first) = failing.entry(group).or_insert_with(|| (0, format!("{}: {why}", campaign.called(item))));
        *count += 1;
        if *count > of / SPARED {
            return Some((item, Trouble::Failing { why: first.clone(), count: *count, of, items: C::ITEMS }));
        }
    }
    None
}

/// The report of all outcomes.
pub fn report<C: Campaign>(campaign: &C, came: Came<C::Found>) -> Result<C::Report, Trouble> {
    if let Some((_, trouble)) = too_many(campaign, &came) {
        return Err(trouble);
    }
    let (mut found, mut failed) = (BTreeMap::new(), vec![]);
    for (item, came) in came {
        match came {
            Ok(one) => drop(found.insert(item, one)),
            Err(why) => failed.push(Failed { item, what: campaign.called(item), why }),
        }
    }
    Ok(campaign.together(found, failed))
}

impl Frame<'_> {
    /// Number of items of this part.
    pub fn count(&self) -> u64 {
        self.heading.due().count() as u64
    }

    /// The head of the whole study, the same for every part.
    pub fn head(&self, seeds: Vec<u64>) -> Head {
        let Heading { parameters, skipping, .. } = &self.heading;
        Asking { script: self.script, title: &self.title, parameters }.run(*skipping, seeds)
    }

    // The interpreter is not shared: each thread has its own.
    fn planned(&self) -> Result<(Interpreter<'_>, Plan), Trouble> {
        let interpreter = Interpreter::new(self.script, self.settings, self.limits.clone())?;
        interpreter.seal(&self.heading.files);
        let plan = interpreter.plan()?;
        interpreter.printed();
        Ok((interpreter, plan))
    }
}
