//! The shop's questions as words of a script. They are stored in the plan and answered once it is complete.

use crate::language::context::ScriptContext;
use crate::language::plan::{Duty, ShopRequest, Use, Variant};
use crate::language::word_error::{WordError, between, whole};
use crate::read::parts_folder::PartsFolder;
use crate::read::stock::Stock;
use crate::read::units::nearest;
use crate::shop::options::{Form, Given};
use crate::shop::{QUESTIONS, Question};
use rhai::{Dynamic, Engine, EvalAltResult, Map, NativeCallContext, Position};
use std::rc::Rc;

/// Largest number of questions of one script.
const MOST: usize = 50;

/// Registers the words.
pub(crate) fn register(engine: &mut Engine, context: &Rc<ScriptContext>, parts: &PartsFolder) {
    for question in QUESTIONS {
        let word = question.word;
        let ask = {
            let (own, parts) = (Rc::clone(context), parts.clone());
            move |context: &NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
                let at = context.call_position();
                own.outside(word).map_err(|e| e.at(at))?;
                if own.plan.borrow().requests.len() >= MOST {
                    return Err(WordError::Questions(MOST + 1, MOST).at(at));
                }
                let asked = asked(question, variant, usage, &options, &parts).map_err(|e| e.at(at))?;
                own.plan.borrow_mut().requests.push(ShopRequest { position: at, ..asked });
                Ok::<_, Box<EvalAltResult>>(())
            }
        };
        let plain = ask.clone();
        engine.register_fn(word, move |context: NativeCallContext, variant: Variant, usage: Dynamic| {
            plain(&context, variant, usage, Map::new())
        });
        engine.register_fn(word, move |context: NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
            ask(&context, variant, usage, options)
        });
    }
}

fn asked(
    question: &'static Question,
    variant: Variant,
    usage: Dynamic,
    options: &Map,
    parts: &PartsFolder,
) -> Result<ShopRequest, WordError> {
    let word = question.word;
    let usage = match usage.clone().try_cast::<Duty>() {
        Some(duty) => Use::Duty(duty),
        None => Use::Named(usage.into_string().map_err(|kind| WordError::NoUse { word, given: format!("a {kind}") })?),
    };
    let mut given = Given::nothing(question)?;
    for (name, value) in options {
        let Some(option) = question.option(name).filter(|option| option.form.in_scripts()) else {
            let known = question.options.iter().filter(|option| option.form.in_scripts());
            let names: Vec<&str> = known.map(|option| option.name).collect();
            return Err(WordError::Option {
                word,
                given: name.to_string(),
                suggestion: nearest(name, names.iter().copied()),
                known: names.join(", "),
            });
        };
        match option.form {
            Form::Stock => {
                let file = value.clone().into_string().map_err(|kind| WordError::NoStock(format!("a {kind}")))?;
                let file = format!("{}.json", file.trim_end_matches(".json"));
                given.springs = Stock::read(&file, &parts.read(&file, ".json")?)?;
            }
            Form::Count(_) => {
                given.counts.insert(option.name, whole(word, option.name, value, option.range)?);
            }
            _ => {
                let value = between(word, option.name, value, option.range, option.dimension)?;
                given.quantities.insert(option.name, value);
            }
        }
        if let Form::Together(other) = option.form
            && !options.contains_key(other)
        {
            return Err(WordError::Rating);
        }
    }
    Ok(ShopRequest { question, variant, usage, given, position: Position::NONE })
}
