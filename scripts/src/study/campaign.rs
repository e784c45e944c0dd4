//! A campaign: a long study of many items with small results; journalled, resumed, divided into parts, gathered.

use crate::keep::interrupt;
use crate::keep::journal::{self, Found, Journal};
use crate::keep::journal_line::Made;
use crate::language::interpreter::Interpreter;
use crate::language::plan::Plan;
use crate::language::script_error::ScriptError;
use crate::read::refusal::Refusal;
use crate::study::frame::Frame;
use crate::study::request::{Planned, pool};
use crate::study::study_error::StudyError;
use serde::Serialize;
use serde::de::DeserializeOwned;
use slipsoak_engine::document::Saved;
use slipsoak_engine::failed::Failed;
use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::sync::mpsc::sync_channel;
use std::sync::{Mutex, PoisonError};

/// Number of items that may wait for the disk.
const QUEUE: usize = 16;

/// One of this number of items may fail and be left out.
const SPARED: u64 = 10;

/// Largest number of items of one study: each takes about a kilobyte of memory until all are joined.
const ITEMS: u64 = 1_000_000;

/// A long study, item by item.
pub trait Campaign: Sync {
    /// result of one item
    type Found: Serialize + DeserializeOwned + PartialEq + Send;

    /// Script, settings and heading.
    fn frame(&self) -> &Frame<'_>;
    /// Name of an item.
    fn called(&self, item: u64) -> String;
    /// The group of an item, and the size of that group: at most a tenth of a group may fail.
    fn group(&self, item: u64) -> (usize, u64);
    /// Runs one item.
    fn perform(&self, interpreter: &Interpreter<'_>, plan: &Plan, item: u64) -> Result<Self::Found, ScriptError>;
    /// Joins the results of all items and the list of those that could not be computed.
    fn together(&self, found: BTreeMap<u64, Self::Found>, failed: Vec<Failed>) -> Saved;
}

/// Outcome of each item: its result, or the reason why it could not be computed.
pub type Came<T> = Found<Result<T, String>>;

/// A long study as a command runs it, for any kind of item.
pub trait LongStudy: Send + Sync {
    /// Script, settings and heading.
    fn frame(&self) -> &Frame<'_>;
    /// Runs the items that are not in the journal yet. Returns the number of items of this part, and the report if the
    /// part is the whole. `begun` receives the number of items already done, `done` is called for each item on disk.
    ///
    /// Threads take one item after the other, so that they end together, and do not wait for the disk: results go to the
    /// thread of the journal, which writes those that have arrived meanwhile and syncs them at once.
    fn run(
        &self,
        path: &Path,
        threads: Option<u16>,
        begun: &dyn Fn(u64),
        done: &(dyn Fn() + Sync),
    ) -> Result<(usize, Option<Saved>), StudyError>;
    /// Joins the journals of all parts.
    fn gather(&self, journals: &[PathBuf]) -> Result<Saved, StudyError>;
}

impl<C: Campaign + Send> LongStudy for C {
    fn frame(&self) -> &Frame<'_> {
        Campaign::frame(self)
    }

    fn run(
        &self,
        path: &Path,
        threads: Option<u16>,
        begun: &dyn Fn(u64),
        done: &(dyn Fn() + Sync),
    ) -> Result<(usize, Option<Saved>), StudyError> {
        let frame = Campaign::frame(self);
        let (journal, mut found) = Journal::open(path, &frame.heading)?;
        interrupt::journal(path, frame.items, found.len() as u64, frame.count());
        begun(found.len() as u64);
        let left: Vec<u64> = frame.heading.due().filter(|item| !found.contains_key(item)).collect();
        let pool = pool(threads)?;
        let mut failing = Failing::default();
        // A study that already has too many failures is not continued.
        if let Some((_, error)) = failing.all(self, &found) {
            return Err(error);
        }
        let failing = Mutex::new(failing);
        let (give, taken) = sync_channel(QUEUE);
        let (made, failed) = std::thread::scope(|scope| {
            let scribe = scope.spawn(move || journal.keep(&taken, done));
            let perform = |planned: &Planned<'_>, item: u64| {
                let found = self.perform(&planned.interpreter, &planned.plan, item);
                planned.interpreter.printed();
                let found = match found {
                    Ok(found) => Ok(found),
                    // An item that cannot be computed is left out; any other error ends the study.
                    Err(error) => match error.uncomputed() {
                        Some(why) => Err(why.to_owned()),
                        None => return Err(StudyError::from(error).of(self.called(item))),
                    },
                };
                let mut failing = failing.lock().unwrap_or_else(PoisonError::into_inner);
                let too_many = found.as_ref().is_err_and(|why| failing.one(self, item, why).is_some());
                drop(failing);
                // If the journal accepts no more items, it reports the reason itself.
                let closed = give.send(Made::of(item, found)?).is_err();
                Ok(if closed || too_many { ControlFlow::Break(None) } else { ControlFlow::Continue(()) })
            };
            let failed = frame.request.each(&pool, &left, perform).err();
            drop(give);
            (scribe.join(), failed)
        });
        found.extend(made.unwrap_or_else(|panic| std::panic::resume_unwind(panic))?);
        // Items are taken in order, so the first that ends the study does not depend on the number of threads.
        let failures = failed.into_iter().chain(Failing::default().all(self, &found));
        if let Some((_, error)) = failures.min_by_key(|failure: &(u64, StudyError)| failure.0) {
            return Err(error);
        }
        let whole = frame.heading.part == (1, 1);
        Ok((found.len(), whole.then(|| report(self, found))))
    }

    fn gather(&self, journals: &[PathBuf]) -> Result<Saved, StudyError> {
        let came = journal::gather(journals, &Campaign::frame(self).heading)?;
        match Failing::default().all(self, &came) {
            Some((_, error)) => Err(error),
            None => Ok(report(self, came)),
        }
    }
}

/// Refuses a study with more items than memory and time allow; `what` names their cause.
pub(crate) fn afford(items: u64, what: impl FnOnce() -> String) -> Result<(), Refusal> {
    if items <= ITEMS {
        return Ok(());
    }
    let days = items as f64 / 864_000.0;
    let long = if days < 1000.0 { format!("{days:.0} days") } else { format!("{:.0} years", days / 365.25) };
    Err(Refusal::new(format!(
        "this study takes {items} runs ({}); the most allowed is {ITEMS}. At a tenth of a second each they would take {long} on one \
         thread: ask for less, or put some of the machines into a script of their own",
        what()
    )))
}

/// Failed items of each group: their number, and the reason of the first.
#[derive(Default)]
struct Failing(BTreeMap<usize, (u64, String)>);

impl Failing {
    /// Counts a failed item. Returns it and the error if more than a tenth of its group could not be computed.
    fn one<C: Campaign>(&mut self, campaign: &C, item: u64, why: &str) -> Option<(u64, StudyError)> {
        let (group, of) = campaign.group(item);
        let first = || (0, format!("{}: {why}", campaign.called(item)));
        let (count, why) = self.0.entry(group).or_insert_with(first);
        *count += 1;
        let error = || StudyError::Failing { why: why.clone(), count: *count, of, items: campaign.frame().items };
        (*count > of / SPARED).then(|| (item, error()))
    }

    /// Counts the failed items of a study until one group has too many.
    fn all<C: Campaign>(&mut self, campaign: &C, came: &Came<C::Found>) -> Option<(u64, StudyError)> {
        came.iter().find_map(|(item, came)| self.one(campaign, *item, came.as_ref().err()?))
    }
}

/// The report of all outcomes.
fn report<C: Campaign>(campaign: &C, came: Came<C::Found>) -> Saved {
    let (mut found, mut failed) = (BTreeMap::new(), vec![]);
    for (item, came) in came {
        match came {
            Ok(one) => drop(found.insert(item, one)),
            Err(why) => failed.push(Failed { item, what: campaign.called(item), why }),
        }
    }
    campaign.together(found, failed)
}
