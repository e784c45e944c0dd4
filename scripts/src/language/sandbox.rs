//! The sandbox of a script: an interpreter without files, time, evaluation of text or endless loops.

use crate::language::context::ScriptContext;
use crate::language::limits::{LimitError, Limits};
use crate::language::ordering;
use crate::language::word_error::{Answer, WordError};
use rhai::packages::{
    ArithmeticPackage, BasicArrayPackage, BasicFnPackage, BasicIteratorPackage, BasicMapPackage, BasicMathPackage,
    BasicStringPackage, LanguageCorePackage, LogicPackage, MoreStringPackage, Package,
};
use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, INT, OptimizationLevel};
use std::rc::Rc;

/// An interpreter without files, time, evaluation of text or endless loops.
pub(crate) fn sandbox(context: &Rc<ScriptContext>, limits: &Limits) -> Engine {
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
    // One for each kind of number: a word for any value would leave the interpreter's own in force.
    engine.register_fn("sleep", |_: INT| sleep());
    engine.register_fn("sleep", |_: FLOAT| sleep());
    let (counter, most) = (Rc::clone(context), limits.clone());
    engine.on_progress(move |_| counter.stopped(&most).map(Dynamic::from));
    let watcher = Rc::clone(context);
    #[allow(deprecated)] // the interpreter's word for what may change with its version, which is fixed here
    engine.on_var(move |_, _, context| {
        if watcher.deep(&context) {
            return Err(EvalAltResult::ErrorTerminated(Dynamic::from(LimitError::Deep), rhai::Position::NONE).into());
        }
        Ok(None)
    });
    let (printer, debugger) = (Rc::clone(context), Rc::clone(context));
    engine.on_print(move |text| printer.print(text.to_owned()));
    engine.on_debug(move |text, _, at| debugger.print(format!("line {}: {text}", at.line().unwrap_or(0))));
    engine
}

/// Refuses a word that would only stop the program for a while.
fn sleep() -> Answer<()> {
    let why = "`sleep` does nothing for a simulation; use `ride.idle` or `ride.park` to let time pass for the machine";
    Err(WordError::new(why).into())
}
