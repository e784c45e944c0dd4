//! The sandbox of a script: an interpreter without files, time, evaluation of text or endless loops, and with limits on
//! what a script may use.

use crate::language::captured::{DEEPEST, too_deep};
use crate::language::ordering;
use crate::language::plan::Plan;
use crate::language::refusal::Refusal;
use crate::read::files::Shelf;
use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicFnPackage, BasicIteratorPackage, BasicMapPackage, BasicMathPackage,
    BasicStringPackage, LanguageCorePackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{Dynamic, Engine, EvalAltResult, EvalContext, FLOAT, INT, NativeCallContext, OptimizationLevel};
use slipsoak_engine::horizon::Skipping;
use slipsoak_memory::held;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Largest number of lines that a script may print.
const LINES: usize = 1000;
/// Number of operations between two checks of the clock.
const CLOCK: u64 = 64;
/// Number of uses of variables at one call depth between two checks of the nesting of values.
const DEPTH: u32 = 64;

/// Limits of a script.
#[derive(Clone, Debug)]
pub struct Limits {
    /// operations of the interpreter, for each run of the script or of a duty
    pub operations: u64,
    /// time of the interpreter and its words, without the engine's: per run, and over the whole command as far as it
    /// exceeds the engine's
    pub time: Duration,
    /// bytes that a run of the script or of a duty may hold
    pub memory: u32,
    /// tolerance of skipping repeated blocks
    pub skipping: Skipping,
    /// time used by all interpreters of a command
    pub spent: Arc<Spent>,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            operations: 20_000_000,
            time: Duration::from_mins(1),
            memory: 150_000_000,
            skipping: Skipping::default(),
            spent: Arc::default(),
        }
    }
}

/// Time used by the interpreters of a command, on all threads together.
#[derive(Debug, Default)]
pub struct Spent {
    script: AtomicU64,
    engine: AtomicU64,
}

impl Spent {
    /// Adds time of the script.
    pub(crate) fn add_script(&self, time: Duration) {
        self.script.fetch_add(time.as_nanos() as u64, Ordering::Relaxed);
    }

    /// Adds time of the engine.
    pub(crate) fn add_engine(&self, time: Duration) {
        self.engine.fetch_add(time.as_nanos() as u64, Ordering::Relaxed);
    }

    fn script(&self) -> Duration {
        Duration::from_nanos(self.script.load(Ordering::Relaxed))
    }

    fn engine(&self) -> Duration {
        Duration::from_nanos(self.engine.load(Ordering::Relaxed))
    }
}

/// Reason why a script was stopped.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum Stop {
    /// too many operations
    #[error("the script was stopped after {0} operations; is there a loop that does not end?")]
    Operations(u64),
    /// too much time
    #[error("the script was stopped after {} s; is there a loop that does not end?", .0.as_secs_f64())]
    Time(Duration),
    /// too much time over all runs
    #[error(
        "the script was stopped: its own work has taken {:.0} s over all its runs, and the simulation {:.0} s; the script may \
         take {} s more than the simulation",
        .script.as_secs_f64(), .engine.as_secs_f64(), .most.as_secs_f64()
    )]
    Total {
        /// time of the script
        script: Duration,
        /// time of the engine
        engine: Duration,
        /// allowed time beyond the engine's
        most: Duration,
    },
    /// too much memory
    #[error("the script was stopped: what it holds takes more than {} MB of memory", .0 / 1_000_000)]
    Memory(u32),
    /// values nested too deep or in a cycle
    #[error(
        "the script was stopped: values hold one another more than {DEEPEST} deep, or in a circle (lists in lists, or closures \
         that take closures from outside)"
    )]
    Deep,
}

impl Stop {
    /// Remedy.
    pub(crate) fn help(self) -> &'static str {
        match self {
            Self::Operations(_) | Self::Time(_) => "make the loop end, or use fewer and longer entries",
            Self::Total { .. } => "let the script do less for each run: fewer machines, shorter loops, files read once",
            Self::Memory(_) => "keep fewer and shorter lists, and no copies of machines or traces that are not needed",
            Self::Deep => "keep values side by side in one list",
        }
    }
}

/// Time and memory that the engine uses while a script runs; they are not counted for the script.
#[derive(Debug, Default)]
pub struct Away {
    time: Cell<Duration>,
    bytes: Cell<i64>,
}

impl Away {
    /// Runs work of the engine.
    pub fn during<T>(&self, work: impl FnOnce() -> T) -> T {
        let (start, before) = (Instant::now(), held());
        let done = work();
        self.time.set(self.time.get() + start.elapsed());
        self.bytes.set(self.bytes.get() + held() - before);
        done
    }
}

/// State shared by the words of one interpreter.
#[derive(Default)]
pub(crate) struct Desk {
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
    pub shelf: Shelf,
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

impl Desk {
    /// Stores a printed line.
    pub(crate) fn print(&self, text: String) {
        let mut printed = self.printed.borrow_mut();
        if printed.len() < LINES {
            printed.push(text);
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

    fn late(&self, limits: &Limits) -> Option<Stop> {
        let own = self.own_time();
        if own > limits.time {
            return Some(Stop::Time(limits.time));
        }
        let (script, engine) = (limits.spent.script() + own, limits.spent.engine() + self.away.time.get());
        (script > limits.time + engine).then_some(Stop::Total { script, engine, most: limits.time })
    }

    /// Checks the limits at every operation.
    fn stopped(&self, limits: &Limits) -> Option<Stop> {
        let count = self.gauge.operations.get() + 1;
        self.gauge.operations.set(count);
        if count > limits.operations {
            return Some(Stop::Operations(limits.operations));
        }
        if held() - self.gauge.bytes.get() - self.away.bytes.get() > i64::from(limits.memory) {
            return Some(Stop::Memory(limits.memory));
        }
        if count.is_multiple_of(CLOCK) || self.shelf.used() { self.late(limits) } else { None }
    }

    /// Checks the nesting at uses of variables: a value that grows deeper is used repeatedly at one call depth.
    fn deep(&self, context: &EvalContext) -> bool {
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

/// An interpreter without files, time, evaluation of text or endless loops.
pub(crate) fn fenced(desk: &Rc<Desk>, limits: &Limits) -> Engine {
    let mut engine = Engine::new_raw();
    LanguageCorePackage::new().register_into_engine(&mut engine);
    ArithmeticPackage::new().register_into_engine(&mut engine);
    LogicPackage::new().register_into_engine(&mut engine);
    BasicMathPackage::new().register_into_engine(&mut engine);
    BasicStringPackage::new().register_into_engine(&mut engine);
    MoreStringPackage::new().register_into_engine(&mut engine);
    BasicIteratorPackage::new().register_into_engine(&mut engine);
    BasicFnPackage::new().register_into_engine(&mut engine);
    BasicArrayPackage::new().register_into_engine(&mut engine);
    BasicMapPackage::new().register_into_engine(&mut engine);
    ordering::register(&mut engine);
    engine.set_optimization_level(OptimizationLevel::None);
    engine.set_strict_variables(true);
    engine.set_fail_on_invalid_map_property(true);
    engine.set_max_call_levels(32);
    engine.set_max_expr_depths(64, 32);
    engine.set_max_array_size(10_000);
    engine.set_max_map_size(1_000);
    engine.set_max_string_size(10_000);
    engine.set_max_functions(500);
    engine.set_max_variables(500);
    engine.set_max_modules(0);
    engine.disable_symbol("eval").disable_symbol("import").disable_symbol("export");
    engine.register_fn("sleep", |context: NativeCallContext, _: INT| -> Answer<()> {
        Err(Refusal::Sleep.at(context.call_position()))
    });
    engine.register_fn("sleep", |context: NativeCallContext, _: FLOAT| -> Answer<()> {
        Err(Refusal::Sleep.at(context.call_position()))
    });
    let (counter, most) = (Rc::clone(desk), limits.clone());
    engine.on_progress(move |_| counter.stopped(&most).map(Dynamic::from));
    let watcher = Rc::clone(desk);
    #[allow(deprecated)] // the interpreter's word for what may change with its version, which is fixed here
    engine.on_var(move |_, _, context| {
        if watcher.deep(&context) {
            return Err(EvalAltResult::ErrorTerminated(Dynamic::from(Stop::Deep), rhai::Position::NONE).into());
        }
        Ok(None)
    });
    let (printer, debugger) = (Rc::clone(desk), Rc::clone(desk));
    engine.on_print(move |text| printer.print(text.to_owned()));
    engine.on_debug(move |text, _, at| debugger.print(format!("line {}: {text}", at.line().unwrap_or(0))));
    engine
}
