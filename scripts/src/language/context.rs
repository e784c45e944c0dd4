//! State shared by the words of one script: parameters, files, plan, printed lines, and resources used.

use crate::language::away::Away;
use crate::language::closures::{DEEPEST, too_deep};
use crate::language::limits::{LimitError, Limits};
use crate::language::plan::{Aim, Duty, Pair, Plan, Variant};
use crate::language::word_error::{Answer, WordError, type_in_words};
use crate::read::parts_folder::PartsFolder;
use rhai::{Array, Dynamic, EvalAltResult, EvalContext};
use slipsoak_memory::held;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::{Duration, Instant};

/// Largest number of lines that a script may print.
const LINES: usize = 1000;
/// Number of operations between two checks of the clock.
const CLOCK: u64 = 64;
/// Number of uses of variables at one call depth between two checks of the nesting of values.
const DEPTH: u32 = 64;

/// The items of a list; a single value counts as a list of one.
pub(crate) fn list<T: Clone + 'static>(
    word: &'static str,
    argument: &'static str,
    given: Dynamic,
) -> Result<Vec<T>, WordError> {
    let given = given.flatten();
    let items = if given.is_array() { given.cast::<Array>() } else { vec![given] };
    if items.is_empty() {
        return Err(empty(word, argument));
    }
    items
        .into_iter()
        .map(|item| {
            let kind = type_in_words(item.type_name());
            let other = || format!("`{word}` needs machines and duties; among its {argument} is a {kind}");
            item.flatten().try_cast::<T>().ok_or_else(|| WordError::new(other()))
        })
        .collect()
}

/// The error of an empty list.
pub(crate) fn empty(word: &str, of: &str) -> WordError {
    WordError::new(format!("`{word}` was given an empty list of {of}"))
}

/// Refuses a script with more runs than that.
pub(crate) fn few(runs: usize, most: usize) -> Result<(), WordError> {
    let many = || WordError::new(format!("the script compares {runs} runs; the most allowed is {most}"));
    if runs > most { Err(many()) } else { Ok(()) }
}

/// State shared by the words of one interpreter.
#[derive(Default)]
pub(crate) struct ScriptContext {
    /// values from the command line
    pub settings: BTreeMap<String, f64>,
    /// parameters with the values used
    pub used: RefCell<BTreeMap<String, f64>>,
    /// parameters with their defaults
    pub defaults: RefCell<BTreeMap<String, f64>>,
    /// plan so far
    pub plan: RefCell<Plan>,
    /// lines printed by the script
    pub printed: RefCell<Vec<String>>,
    /// files of the script
    pub parts: PartsFolder,
    /// whether a duty is running
    pub riding: Cell<bool>,
    /// use by the engine, not counted
    pub away: Rc<Away>,
    /// use by the script
    pub gauge: Gauge,
}

/// Resources used so far by a run of the script or of a duty.
#[derive(Default)]
pub(crate) struct Gauge {
    operations: Cell<u64>,
    start: Cell<Option<Instant>>,
    /// bytes that the thread held before
    bytes: Cell<i64>,
    /// uses of variables at each call depth
    uses: RefCell<Vec<u32>>,
}

impl ScriptContext {
    /// Refuses a top-level word inside a duty.
    pub(crate) fn outside(&self, word: &'static str) -> Result<(), WordError> {
        let inside = || {
            format!(
                "`{word}` inside a duty does nothing: a duty says what one machine goes through; put `{word}` outside it"
            )
        };
        if self.riding.get() { Err(WordError::new(inside())) } else { Ok(()) }
    }

    /// Sets the purpose of the runs; a script has only one.
    pub(crate) fn purpose(&self, wanted: Aim) -> Result<(), WordError> {
        self.outside(wanted.word())?;
        let plan = &mut *self.plan.borrow_mut();
        plan.aim = match (plan.aim, wanted) {
            (Aim::Fleet { .. }, Aim::Runs) => plan.aim,
            (Aim::Runs | Aim::Fleet { .. }, Aim::Fleet { .. }) => wanted,
            (Aim::Runs, _) if plan.pairs.is_empty() => wanted,
            (now, _) if now == wanted => wanted,
            _ => {
                return Err(WordError::new(
                    "use only one of `compare`, `sweep` and `matters` in a script; move the other to a script of its own",
                ));
            }
        };
        Ok(())
    }

    /// Adds every machine under every duty to the plan for a purpose, at most `most`.
    pub(crate) fn compare(&self, aim: Aim, machines: Dynamic, duties: Dynamic, most: usize) -> Answer<()> {
        self.purpose(aim)?;
        let machines: Vec<Variant> = list(aim.word(), "machines", machines)?;
        let duties: Vec<Duty> = list(aim.word(), "duties", duties)?;
        for machine in &machines {
            machine.machine.check().map_err(WordError::from)?;
        }
        let mut plan = self.plan.borrow_mut();
        few(plan.pairs.len() + machines.len() * duties.len(), most)?;
        for duty in &duties {
            for variant in &machines {
                plan.pairs.push(Pair { variant: variant.clone(), duty: duty.clone() });
            }
        }
        Ok(())
    }

    /// Stores a printed line.
    pub(crate) fn print(&self, text: String) {
        let mut printed = self.printed.borrow_mut();
        if printed.len() < LINES {
            printed.push(text);
        }
    }

    /// Stores a line that has not been printed yet.
    pub(crate) fn print_once(&self, text: String) {
        if !self.printed.borrow().contains(&text) {
            self.print(text);
        }
    }

    /// Runs the script, or a duty, within its limits.
    pub(crate) fn run<T>(&self, limits: &Limits, work: impl FnOnce() -> Answer<T>) -> Answer<T> {
        self.gauge.operations.set(0);
        self.away.time.set(Duration::ZERO);
        self.away.bytes.set(0);
        self.gauge.bytes.set(held());
        self.gauge.start.set(Some(Instant::now()));
        let done = work();
        // The last word may have been a slow one, so the time is checked once more.
        let stop = self.late(limits);
        limits.spent.add_script(self.own_time());
        limits.spent.add_engine(self.away.time.get());
        self.gauge.start.set(None);
        match stop {
            Some(stop) if done.is_ok() => {
                Err(EvalAltResult::ErrorTerminated(Dynamic::from(stop), rhai::Position::NONE).into())
            }
            _ => done,
        }
    }

    fn own_time(&self) -> Duration {
        self.gauge.start.get().map_or(Duration::ZERO, |start| start.elapsed().saturating_sub(self.away.time.get()))
    }

    fn late(&self, limits: &Limits) -> Option<LimitError> {
        let own = self.own_time();
        if own > limits.time {
            return Some(LimitError::Time(limits.time));
        }
        let (script, engine) = (limits.spent.script() + own, limits.spent.engine() + self.away.time.get());
        (script > limits.time + engine).then_some(LimitError::Total { script, engine, most: limits.time })
    }

    /// Checks the limits at every operation.
    pub(crate) fn stopped(&self, limits: &Limits) -> Option<LimitError> {
        let count = self.gauge.operations.get() + 1;
        self.gauge.operations.set(count);
        if count > limits.operations {
            return Some(LimitError::Operations(limits.operations));
        }
        if held() - self.gauge.bytes.get() - self.away.bytes.get() > i64::from(limits.memory) {
            return Some(LimitError::Memory(limits.memory));
        }
        if count.is_multiple_of(CLOCK) || self.parts.used() { self.late(limits) } else { None }
    }

    /// Checks the nesting at uses of variables: a value that grows deeper is used repeatedly at one call depth.
    pub(crate) fn deep(&self, context: &EvalContext) -> bool {
        let level = context.call_level();
        let mut uses = self.gauge.uses.borrow_mut();
        if uses.len() <= level {
            uses.resize(level + 1, 0);
        }
        uses[level] += 1;
        if uses[level] < DEPTH {
            return false;
        }
        uses[level] = 0;
        let mut sound = BTreeMap::new();
        context.scope().iter_raw().any(|(_, _, value)| too_deep(value, DEEPEST, &mut sound))
    }
}
