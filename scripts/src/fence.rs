//! The fence around a script: an engine without files, time, evaluation of text or endless loops.

use crate::plan::Plan;
use crate::refusal::Refusal;
use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicFnPackage, BasicIteratorPackage, BasicMapPackage, BasicMathPackage,
    BasicStringPackage, LanguageCorePackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, INT, NativeCallContext, OptimizationLevel};
use slipsoak_engine::horizon::Skipping;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::{Duration, Instant};

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// What a script may use up.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// operations of the interpreter, per run
    pub operations: u64,
    /// time of the interpreter, without the engine's, per run
    pub time: Duration,
    /// error allowed to skipping repeated blocks
    pub skipping: Skipping,
}

impl Default for Limits {
    fn default() -> Self {
        Self { operations: 20_000_000, time: Duration::from_mins(1), skipping: Skipping::default() }
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
    /// operations so far
    pub operations: Cell<u64>,
    /// when the script began
    pub start: Cell<Option<Instant>>,
    /// time that the engine took of it
    pub engine_time: Rc<Cell<Duration>>,
}

/// An engine without files, time, evaluation of text or endless loops.
pub(crate) fn fenced(desk: &Rc<Desk>, limits: Limits) -> Engine {
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
    let counter = Rc::clone(desk);
    engine.on_progress(move |_| {
        let count = counter.operations.get() + 1;
        counter.operations.set(count);
        if count > limits.operations {
            return Some(Dynamic::from(Stop::Operations(limits.operations)));
        }
        if count.is_multiple_of(4096) {
            let spent = counter.start.get().map_or(Duration::ZERO, |s| s.elapsed());
            if spent.saturating_sub(counter.engine_time.get()) > limits.time {
                return Some(Dynamic::from(Stop::Time(limits.time)));
            }
        }
        None
    });
    let (printer, debugger) = (Rc::clone(desk), Rc::clone(desk));
    let keep = |desk: &Desk, text: String| {
        let mut printed = desk.printed.borrow_mut();
        if printed.len() < 1000 {
            printed.push(text);
        }
    };
    engine.on_print(move |text| keep(&printer, text.to_owned()));
    engine.on_debug(move |text, _, at| {
        keep(&debugger, format!("line {}: {text}", at.line().unwrap_or(0)));
    });
    engine
}
