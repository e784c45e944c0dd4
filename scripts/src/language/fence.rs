//! The fence around a script: an engine without files, time, evaluation of text or endless loops, and with bounds to what
//! a script may use up.

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

/// Lines that a script may print.
const LINES: usize = 1000;
/// Operations between two looks at the clock.
const CLOCK: u64 = 64;
/// Uses of variables, in calls equally deep, between two looks at how deep values hold one another.
const DEPTH: u32 = 64;

/// What a script may use up.
#[derive(Clone, Debug)]
pub struct Limits {
    /// operations of the interpreter, for each time the script or a duty is run
    pub operations: u64,
    /// time of the interpreter and its words, without the engine's: for each time, and over the whole command in so far
    /// as it exceeds the engine's
    pub time: Duration,
    /// bytes that a run of the script or of a duty may hold
    pub memory: u32,
    /// error allowed to skipping repeated blocks
    pub skipping: Skipping,
    /// what all interpreters of a command have used up
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

/// Time that the interpreters of a command have used up, on all threads together.
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

/// Why a script was stopped.
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
        /// of the script
        script: Duration,
        /// of the engine
        engine: Duration,
        /// allowed beyond the engine's
        most: Duration,
    },
    /// too much memory
    #[error("the script was stopped: what it holds takes more than {} MB of memory", .0 / 1_000_000)]
    Memory(u32),
    /// values that hold one another without end
    #[error(
        "the script was stopped: values hold one another more than {DEEPEST} deep, or in a circle (lists in lists, or closures \
         that take closures from outside)"
    )]
    Deep,
}

impl Stop {
    /// What to do about it.
    pub(crate) fn help(self) -> &'static str {
        match self {
            Self::Operations(_) | Self::Time(_) => "make the loop end, or use fewer and longer entries",
            Self::Total { .. } => "let the script do less for each run: fewer machines, shorter loops, files read once",
            Self::Memory(_) => "keep fewer and shorter lists, and no copies of machines or traces that are not needed",
            Self::Deep => "keep values side by side in one list",
        }
    }
}

/// What the engine takes while a script runs, and what does not count as the script's.
#[derive(Debug, Default)]
pub struct Away {
    time: Cell<Duration>,
    bytes: Cell<i64>,
}

impl Away {
    /// Does work of the engine.
    pub fn during<T>(&self, work: impl FnOnce() -> T) -> T {
        let (start, before) = (Instant::now(), held());
        let done = work();
        self.time.set(self.time.get() + start.elapsed());
        self.bytes.set(self.bytes.get() + held() - before);
        done
    }
}

/// What the words of one interpreter share.
#[derive(Default)]
pub(crate) struct Desk {
    /// values from the command line
    pub settings: BTreeMap<String, f64>,
    /// parameters with the values used
    pub used: RefCell<BTreeMap<String, f64>>,
    /// parameters with their defaults
    pub defaults: RefCell<BTreeMap<String, f64>>,
    /// what has been asked for
    pub plan: RefCell<Plan>,
    /// what the script printed
    pub printed: RefCell<Vec<String>>,
    /// files
    pub shelf: Shelf,
    /// whether a duty is being run
    pub riding: Cell<bool>,
    /// what the engine takes meanwhile
    pub away: Rc<Away>,
    /// what is used up
    pub gauge: Gauge,
}

/// What a run of the script, or of a duty, has used up so far.
#[derive(Default)]
pub(crate) struct Gauge {
    operations: Cell<u64>,
    start: Cell<Option<Instant>>,
    /// bytes that the thread held before
    bytes: Cell<i64>,
    /// uses of variables at each depth of calls
    uses: RefCell<Vec<u32>>,
}

impl Desk {
    /// Keeps a line that is printed.
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
        // The last word may have been a slow one.
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

    /// Hears of every operation.
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

    /// Hears of every use of a variable. Whatever grows deeper is used again and again at one depth of calls.
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

/// An engine without files, time, evaluation of text or endless loops.
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
