//! A campaign: a long study of many items, each of which leaves a little; journalled, resumed, shared out, gathered.

use crate::captured;
use crate::interpreter::{Interpreter, Limits};
use crate::journal::{Entry, Heading, Journal, Made};
use crate::output::{Folder, Unwritten};
use crate::plan::{Aim, Plan};
use crate::shop::origin;
use crate::study::{hash, pool};
use crate::{Script, Trouble, fleet, influence, sweep};
use serde::Serialize;
use serde::de::DeserializeOwned;
use slipsoak_plots::report::Page;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::Path;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{SyncSender, sync_channel};

/// Items that may wait for the disk.
const QUEUE: usize = 16;

/// Most items of one study: what each leaves takes some kilobyte until all are brought together.
const ITEMS: u64 = 1_000_000;

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
    type Found: Serialize + DeserializeOwned + PartialEq + Send;
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
        let interpreter = Interpreter::new(script, settings, limits.clone())?;
        let plan = interpreter.plan().map_err(|e| e.after(interpreter.printed()))?;
        if plan.aim == Aim::Runs {
            return Ok(None);
        }
        let compared = compared(&interpreter, &plan)?;
        let heading = Heading {
            program: concat!("slipsoak ", env!("CARGO_PKG_VERSION")).to_owned(),
            script_hash: hash(&script.text),
            // A duty may ask for more of what was set than has been asked for until now.
            parameters: interpreter.parameters().into_iter().chain(settings.clone()).collect(),
            files: interpreter.files(),
            aim: plan.aim,
            compared,
            items: plan.pairs.len() as u64,
            group: 1,
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

/// Refuses a study that would take more items than memory and time allow.
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

/// SHA-256 of every machine and of every duty as far as it can be taken down.
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

/// Runs what the journal does not hold yet. `begun` hears how many items are done already, `done` of each that is on disk.
///
/// Threads take one item after the other, so that they end together, and do not wait for the disk: what is found goes to the
/// journal's own thread, which writes down what has come meanwhile and then sees it onto the disk at once.
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
    let pool = pool(threads)?;
    let (next, stopped) = (AtomicUsize::new(0), AtomicBool::new(false));
    let (give, taken) = sync_channel(QUEUE);
    let (made, failures) = std::thread::scope(|scope| {
        let done = &done;
        let scribe = scope.spawn(move || journal.keep(&taken, done));
        // The first failure of a thread, with its item.
        let work = |give: SyncSender<Made<C::Found>>| -> Option<(u64, Trouble)> {
            let own = frame.planned();
            // What was taken is run whatever fails meanwhile: every item before the first that fails has been.
            while !stopped.load(Ordering::Relaxed)
                && let Some(&item) = left.get(next.fetch_add(1, Ordering::Relaxed))
            {
                let perform = || {
                    let (interpreter, plan) = own.as_ref().map_err(Clone::clone)?;
                    let found = campaign.perform(interpreter, plan, item);
                    interpreter.printed();
                    Ok(Made::of(Entry { item, found: found? })?)
                };
                match perform() {
                    // A journal that no longer takes anything says itself why.
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
    // Items are taken in order: the first that fails is the same however many threads there are.
    if let Some((_, trouble)) = failures.into_iter().min_by_key(|failure: &(u64, Trouble)| failure.0) {
        return Err(trouble);
    }
    found.extend(made.into_iter().map(|entry| (entry.item, entry.found)));
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

    /// The command of the whole, of whichever part this is.
    pub fn command(&self) -> Vec<String> {
        origin::command(self.script, &self.heading.parameters, self.heading.skipping)
    }

    /// The script's text.
    pub fn text(&self) -> &str {
        &self.script.text
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
