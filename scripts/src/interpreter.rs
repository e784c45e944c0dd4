//! The interpreter of scripts: builds a fenced-in engine, makes the plan, calls the duties.

use crate::diagnose::{Script, Trouble};
use crate::files::Shelf;
use crate::plan::{Duty, Pair, Plan, Variant};
use crate::refusal::{Refusal, number};
use crate::ride::{Abandoned, Entry, Ride};
use crate::units::{UNITS, nearest};
use crate::{ride, spelling, variant};
use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicFnPackage, BasicIteratorPackage, BasicMapPackage, BasicMathPackage,
    BasicStringPackage, LanguageCorePackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{AST, Array, Dynamic, Engine, EvalAltResult, FLOAT, FnPtr, INT, NativeCallContext, OptimizationLevel, Position};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::record::Run;
use slipsoak_engine::simulate::{Options, Simulation};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;
use std::time::{Duration, Instant};

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Most runs of one script.
const RUNS: usize = 1000;

/// What a script may use up.
#[derive(Clone, Copy, Debug)]
pub struct Limits {
    /// operations of the interpreter, per run
    pub operations: u64,
    /// time of the interpreter, without the engine's, per run
    pub time: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        Self { operations: 20_000_000, time: Duration::from_secs(60) }
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

#[derive(Default)]
struct Desk {
    settings: BTreeMap<String, f64>,
    used: RefCell<BTreeMap<String, f64>>,
    defaults: RefCell<BTreeMap<String, f64>>,
    plan: RefCell<Plan>,
    printed: RefCell<Vec<String>>,
    operations: Cell<u64>,
    start: Cell<Option<Instant>>,
    engine_time: Rc<Cell<Duration>>,
}

/// A script ready to run.
pub struct Interpreter<'a> {
    script: &'a Script,
    engine: Engine,
    ast: AST,
    desk: Rc<Desk>,
}

impl<'a> Interpreter<'a> {
    /// Compiles a script and checks its words; `settings` replace the defaults of its parameters.
    pub fn new(script: &'a Script, settings: &BTreeMap<String, f64>, limits: Limits) -> Result<Self, Trouble> {
        let desk = Rc::new(Desk { settings: settings.clone(), ..Desk::default() });
        let mut engine = fenced(&desk, limits);
        register(&mut engine, &desk, &Shelf::beside(&script.path));
        ride::register(&mut engine);
        let ast = engine.compile(&script.text).map_err(|e| Trouble::parse(script, &e))?;
        spelling::check(&engine, &ast).map_err(|e| Trouble::spelling(script, &e))?;
        let known = spelling::parameters(&ast);
        if let Some(name) = settings.keys().find(|name| !known.contains(*name)) {
            return Err(Trouble::Setting {
                name: name.clone(),
                suggestion: nearest(name, known.iter().map(String::as_str)),
                known: known.join(", "),
            });
        }
        Ok(Self { script, engine, ast, desk })
    }

    fn begin(&self) {
        self.desk.operations.set(0);
        self.desk.start.set(Some(Instant::now()));
        self.desk.engine_time.set(Duration::ZERO);
    }

    fn trouble(&self, error: &EvalAltResult) -> Trouble {
        Trouble::run(self.script, error)
    }

    /// Runs the top level: the title and what to compare.
    pub fn plan(&self) -> Result<Plan, Trouble> {
        self.begin();
        self.desk.plan.replace(Plan::default());
        self.engine.run_ast(&self.ast).map_err(|e| self.trouble(&e))?;
        let plan = self.desk.plan.borrow().clone();
        if plan.pairs.is_empty() {
            return Err(Trouble::NothingToRun { script: self.script.name.clone() });
        }
        Ok(plan)
    }

    /// What the script printed since this was last asked.
    pub fn printed(&self) -> Vec<String> {
        self.desk.printed.take()
    }

    /// Parameters used so far.
    pub fn parameters(&self) -> BTreeMap<String, f64> {
        self.desk.used.borrow().clone()
    }

    fn ride(&self, duty: &Duty, ride: &Ride) -> Answer<()> {
        self.begin();
        match duty.function.call::<Dynamic>(&self.engine, &self.ast, (ride.clone(),)) {
            Err(e) if matches!(*e, EvalAltResult::Exit(..)) => Ok(()),
            done => done.map(drop),
        }
    }

    /// The entries of a duty, or none if it reads the ride and so has to be run to be known.
    pub fn record(&self, pair: &Pair) -> Result<Option<Vec<Entry>>, Trouble> {
        let ride = Ride::recording(&pair.duty.name, pair.variant.machine.clone(), Rc::clone(&self.desk.engine_time));
        match self.ride(&pair.duty, &ride) {
            Ok(()) => Ok(Some(ride.entries())),
            Err(e) if abandoned(&e) => {
                self.desk.printed.take();
                Ok(None)
            }
            Err(e) => Err(self.trouble(&e).inside(pair.duty.function.fn_name())),
        }
    }

    /// Performs a pair of the plan and leaves its record.
    pub fn perform(&self, pair: &Pair) -> Result<Run, Trouble> {
        let entries = self.record(pair)?;
        let refused = |e, at| self.trouble(&Refusal::Engine(e).at(at));
        let machine = pair.variant.machine.clone();
        let mut simulation =
            Simulation::new(machine.clone(), Options::default()).map_err(|e| refused(e, Position::NONE))?;
        if let Some(entries) = entries {
            for (segment, position) in &entries {
                simulation.perform(segment).map_err(|e| refused(e, *position))?;
            }
        } else {
            let ride = Ride::live(&pair.duty.name, machine, simulation, Rc::clone(&self.desk.engine_time));
            self.ride(&pair.duty, &ride)
                .map_err(|e| self.trouble(&e).inside(pair.duty.function.fn_name()))?;
            simulation =
                ride.simulation().ok_or_else(|| Trouble::NothingToRun { script: self.script.name.clone() })?;
        }
        simulation.finish(&pair.variant.name, &pair.duty.name).map_err(|e| refused(e, Position::NONE))
    }
}

fn abandoned(error: &EvalAltResult) -> bool {
    match error {
        EvalAltResult::ErrorInFunctionCall(_, _, inner, _) => abandoned(inner),
        EvalAltResult::ErrorTerminated(token, _) => token.is::<Abandoned>(),
        _ => false,
    }
}

/// An engine without files, time, evaluation of text or endless loops.
fn fenced(desk: &Rc<Desk>, limits: Limits) -> Engine {
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
    engine.disable_symbol("eval");
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
        if count % 4096 == 0 {
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
    engine.on_debug(move |text, _, at| keep(&debugger, format!("line {}: {text}", at.line().unwrap_or(0))));
    engine
}

fn register(engine: &mut Engine, desk: &Rc<Desk>, shelf: &Shelf) {
    for unit in UNITS {
        engine.register_get(unit.word, |value: &mut INT| unit.si(*value as FLOAT));
        engine.register_get(unit.word, |value: &mut FLOAT| unit.si(*value));
        engine.register_fn(unit.word, |value: INT| unit.si(value as FLOAT));
        engine.register_fn(unit.word, |value: FLOAT| unit.si(value));
    }
    engine.register_fn("celsius", |value: INT| value as FLOAT + 273.15);
    engine.register_fn("celsius", |value: FLOAT| value + 273.15);
    engine.register_fn("fahrenheit", |value: INT| (value as FLOAT - 32.0) / 1.8 + 273.15);
    engine.register_fn("fahrenheit", |value: FLOAT| (value - 32.0) / 1.8 + 273.15);
    engine
        .register_type_with_name::<Variant>("machine")
        .register_type_with_name::<Duty>("duty")
        .register_type_with_name::<Refusal>("refusal")
        .register_get("name", |v: &mut Variant| v.name.clone())
        .register_fn("duty", |name: &str, function: FnPtr| Duty { name: name.to_owned(), function });
    let own = shelf.clone();
    engine.register_fn("machine", move |context: NativeCallContext, name: &str| -> Answer<Variant> {
        let read = || -> Result<Machine, Refusal> {
            if name == "standard" {
                return Ok(Machine::default());
            }
            let file = format!("{}.json", name.trim_end_matches(".json"));
            Ok(variant::read(&file, &own.read(name, ".json")?)?)
        };
        let machine = read().map_err(|e| e.at(context.call_position()))?;
        Ok(Variant { name: machine.name.clone(), machine })
    });
    let own = shelf.clone();
    engine.register_fn("trace", move |context: NativeCallContext, name: &str| {
        ride::read_trace(&own, name).map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(desk);
    engine.register_fn("title", move |text: &str| text.clone_into(&mut own.plan.borrow_mut().title));
    let own = Rc::clone(desk);
    engine.register_fn("param", move |context: NativeCallContext, name: &str, default: Dynamic| {
        parameter(&own, name, default).map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(desk);
    engine.register_fn("compare", move |context: NativeCallContext, machines: Dynamic, duties: Dynamic| {
        compare(&own, machines, duties).map_err(|e| e.at(context.call_position()))
    });
    register_variants(engine);
}

fn parameter(desk: &Desk, name: &str, default: Dynamic) -> Result<Dynamic, Refusal> {
    let usual = number("param", "default", &default)?;
    if let Some(first) = desk.defaults.borrow_mut().insert(name.to_owned(), usual).filter(|first| *first != usual) {
        return Err(Refusal::Defaults { name: name.to_owned(), first, second: usual });
    }
    let value = desk.settings.get(name).copied().unwrap_or(usual);
    desk.used.borrow_mut().insert(name.to_owned(), value);
    let whole = default.is_int() && value.fract() == 0.0 && value.abs() < 1e15;
    Ok(if whole { Dynamic::from_int(value as INT) } else { Dynamic::from_float(value) })
}

fn list<T: Clone + 'static>(argument: &'static str, given: Dynamic) -> Result<Vec<T>, Refusal> {
    let given = given.flatten();
    let items = if given.is_array() { given.cast::<Array>() } else { vec![given] };
    if items.is_empty() {
        return Err(Refusal::Nothing(argument));
    }
    items
        .into_iter()
        .map(|item| {
            let kind = item.type_name().to_owned();
            let kind = kind.rsplit("::").next().unwrap_or_default().to_lowercase();
            item.flatten().try_cast::<T>().ok_or(Refusal::NotComparable { argument, given: format!("a {kind}") })
        })
        .collect()
}

fn compare(desk: &Desk, machines: Dynamic, duties: Dynamic) -> Result<(), Refusal> {
    let machines: Vec<Variant> = list("machines", machines)?;
    let duties: Vec<Duty> = list("duties", duties)?;
    for machine in &machines {
        machine.machine.check().map_err(|e| Refusal::Unfit(e.into()))?;
    }
    let mut plan = desk.plan.borrow_mut();
    let given = plan.pairs.len() + machines.len() * duties.len();
    if given > RUNS {
        return Err(Refusal::Runs { given, most: RUNS });
    }
    for duty in &duties {
        for variant in &machines {
            plan.pairs.push(Pair { variant: variant.clone(), duty: duty.clone() });
        }
    }
    Ok(())
}

fn register_variants(engine: &mut Engine) {
    fn changed(
        context: &NativeCallContext,
        variant: &Variant,
        change: impl FnOnce(&mut Machine) -> Result<(), Refusal>,
    ) -> Answer<Variant> {
        let at = context.call_position();
        let mut variant = variant.clone();
        change(&mut variant.machine).map_err(|e| e.at(at))?;
        variant.machine.check().map_err(|e| Refusal::Unfit(e.into()).at(at))?;
        Ok(variant)
    }
    engine.register_fn("called", |variant: &mut Variant, name: &str| Variant { name: name.to_owned(), ..variant.clone() });
    engine.register_fn("spring", |context: NativeCallContext, v: &mut Variant, speed: Dynamic| {
        changed(&context, v, |m| {
            variant::adjust(m, "clutch.engagement", number("spring", "engagement speed", &speed)?)?;
            Ok(())
        })
    });
    engine.register_fn("having", |context: NativeCallContext, v: &mut Variant, path: &str, value: Dynamic| {
        changed(&context, v, |m| {
            variant::adjust(m, path, number("having", "value", &value)?)?;
            Ok(())
        })
    });
    engine.register_fn("oiled", |context: NativeCallContext, v: &mut Variant, name: &str| {
        changed(&context, v, |m| {
            m.oil = variant::oil(name)?;
            Ok(())
        })
    });
    engine.register_fn("lined", |context: NativeCallContext, v: &mut Variant, kind: &str| {
        changed(&context, v, |m| {
            m.line_with(variant::lining(kind)?);
            Ok(())
        })
    });
    engine.register_fn("formed", |context: NativeCallContext, v: &mut Variant, form: &str| {
        changed(&context, v, |m| {
            m.form = variant::form(form)?;
            Ok(())
        })
    });
}
