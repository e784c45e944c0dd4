//! The table of the words of the script language.

use crate::language::arithmetic;
use crate::language::context::ScriptContext;
use crate::language::plan::{Duty, Variant};
use crate::language::ride::Ride;
use crate::language::width::Width;
use crate::language::word::{On, Registry, Word};
use crate::language::word_error::WordError;
use crate::language::words::{crossing, fleet, machine, questions, readings, ride, script, services};
use rhai::Engine;
use slipsoak_engine::duty::Trace;
use std::rc::Rc;
use std::sync::Arc;

/// Every word except the units.
pub fn words() -> impl Iterator<Item = &'static Word> {
    [script::WORDS, fleet::WORDS, questions::WORDS, crossing::WORDS, machine::WORDS]
        .into_iter()
        .chain([ride::WORDS, services::WORDS, readings::WORDS])
        .flatten()
}

/// The words used on an object; all without one.
pub(crate) fn words_on(on: Option<On>) -> impl Iterator<Item = &'static Word> {
    words().filter(move |word| on.is_none_or(|on| word.on() == on))
}

/// The word of an object for a word of another language or of everyday speech.
pub(crate) fn meant(name: &str, on: Option<On>) -> Option<&'static Word> {
    words_on(on).find(|word| word.also.split(' ').any(|also| also.eq_ignore_ascii_case(name)))
}

/// Registers the types, the units and every word.
pub(crate) fn register(engine: &mut Engine, context: &Rc<ScriptContext>) {
    engine
        .register_type_with_name::<Variant>("machine")
        .register_type_with_name::<Duty>("duty")
        .register_type_with_name::<WordError>("refusal")
        .register_type_with_name::<Width>("distribution")
        .register_type_with_name::<Ride>("ride")
        .register_type_with_name::<Arc<Trace>>("trace");
    arithmetic::register(engine);
    for word in words() {
        (word.register)(Registry { word: word.name(), engine, own: Rc::clone(context) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::language::limits::Limits;
    use crate::language::sandbox::sandbox;
    use slipsoak_engine::names::Part;

    #[test]
    fn every_row_registers_a_function_of_its_name_and_every_part_that_is_renewed_has_a_row() {
        for word in words() {
            let context: Rc<ScriptContext> = Rc::default();
            let mut engine = sandbox(&context, &Limits::default());
            let named = |engine: &Engine| {
                let is = |name: &str| name.trim_start_matches("get$") == word.name();
                engine.collect_fn_metadata(None, |f| is(&f.metadata.name).then_some(()), true).len()
            };
            let before = named(&engine);
            (word.register)(Registry { word: word.name(), engine: &mut engine, own: Rc::clone(&context) });
            assert!(named(&engine) > before, "{}", word.name());
        }
        for part in Part::ALL.into_iter().filter(|part| part.is_renewed()) {
            let name = format!("new_{part}");
            assert!(words().any(|word| word.name() == name), "{name}");
        }
    }
}
