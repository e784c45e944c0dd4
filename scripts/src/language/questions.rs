//! The shop's questions as words of a script. They are stored in the plan and answered once it is complete.

use crate::language::context::ScriptContext;
use crate::language::plan::{Duty, ShopQuestion as Kind, ShopRequest, Use, Variant};
use crate::language::shop_options::Options;
use crate::language::word_error::{WordError, between};
use crate::read::parts_folder::PartsFolder;
use crate::read::stock::{Stock, shipped};
use crate::read::units::nearest;
use rhai::{Dynamic, Engine, EvalAltResult, Map, NativeCallContext, Position};
use std::rc::Rc;

/// Largest number of questions of one script.
const QUESTIONS: usize = 50;

/// Registers the words.
pub(crate) fn register(engine: &mut Engine, context: &Rc<ScriptContext>, parts: &PartsFolder) {
    for (word, kind) in [("choose", Kind::Choose), ("gaps", Kind::Gaps), ("oiling", Kind::Oiling)] {
        let ask = {
            let (own, parts) = (Rc::clone(context), parts.clone());
            move |context: &NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
                let at = context.call_position();
                own.outside(word).map_err(|e| e.at(at))?;
                if own.plan.borrow().requests.len() >= QUESTIONS {
                    return Err(WordError::Questions(QUESTIONS + 1, QUESTIONS).at(at));
                }
                let asked = asked((word, kind), variant, usage, &options, &parts).map_err(|e| e.at(at))?;
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
    (word, kind): (&'static str, Kind),
    variant: Variant,
    usage: Dynamic,
    given: &Map,
    parts: &PartsFolder,
) -> Result<ShopRequest, WordError> {
    let usage = match usage.clone().try_cast::<Duty>() {
        Some(duty) => Use::Duty(duty),
        None => Use::Named(usage.into_string().map_err(|kind| WordError::NoUse { word, given: format!("a {kind}") })?),
    };
    let mut options = Options::new();
    let mut springs = if kind == Kind::Choose { shipped()? } else { vec![] };
    for (name, value) in given {
        if kind == Kind::Choose && name == "stock" {
            let file = value.clone().into_string().map_err(|kind| WordError::NoStock(format!("a {kind}")))?;
            let file = format!("{}.json", file.trim_end_matches(".json"));
            springs = Stock::read(&file, &parts.read(&file, ".json")?)?;
            continue;
        }
        let Some(option) = kind.option(name) else {
            let stock = (kind == Kind::Choose).then_some("stock");
            let names: Vec<&str> = kind.options().iter().map(|o| o.name).chain(stock).collect();
            return Err(WordError::Option {
                word,
                given: name.to_string(),
                suggestion: nearest(name, names.iter().copied()),
                known: names.join(", "),
            });
        };
        let name = option.name;
        let value = between(word, name, value, option.range, option.dimension)?;
        if option.whole && value.fract() != 0.0 {
            return Err(WordError::Wholly { word, argument: name, value });
        }
        options.insert(name, value);
    }
    if options.contains_key("power") != options.contains_key("rated") {
        return Err(WordError::Rating);
    }
    Ok(ShopRequest { question: kind, variant, usage, options, springs, position: Position::NONE })
}
