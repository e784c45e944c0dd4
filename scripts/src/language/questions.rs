//! The shop's questions as words of a script. They are stored in the plan and answered once it is complete.

use crate::language::context::ScriptContext;
use crate::language::plan::{Duty, ShopQuestion as Kind, ShopRequest, Use, Variant};
use crate::language::word_error::{WordError, between};
use crate::read::parts_folder::PartsFolder;
use crate::read::stock::{Stock, shipped};
use crate::read::units::nearest;
use rhai::{Dynamic, Engine, EvalAltResult, Map, NativeCallContext, Position};
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::{DAY, RPM};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Name of an option, its least and greatest value, SI, and its dimension.
type Range = (&'static str, f64, f64, D);

const CHOOSE: &[Range] = &[
    ("wander", 0.0, 500.0 * RPM, D::AngularSpeed),
    ("grade", -0.5, 0.5, D::Ratio),
    ("load", 0.0, 2000.0, D::Mass),
    ("crawl", 0.1, 30.0, D::Speed),
    ("season", 3600.0, 3.6e8, D::Time),
    ("power", 100.0, 1e5, D::Power),
    ("rated", 1500.0 * RPM, 19000.0 * RPM, D::AngularSpeed),
];
const GAPS: &[Range] = &[
    ("cover", -0.02, 0.02, D::Length),
    ("cover_tolerance", 0.0, 5e-3, D::Length),
    ("seed", 0.0, 9e15, D::Ratio),
    ("assemblies", 100.0, 1e6, D::Ratio),
];
const OILING: &[Range] = &[
    ("riding", 300.0, DAY, D::Time),
    ("rest", 0.0, 366.0 * DAY, D::Time),
    ("drops", 0.5, 100.0, D::Ratio),
    ("found", 0.3, 1.0, D::Ratio),
    ("grease", 1e-9, 1e-5, D::Volume),
];

/// Largest number of questions of one script.
const QUESTIONS: usize = 50;

/// Registers the words.
pub(crate) fn register(engine: &mut Engine, context: &Rc<ScriptContext>, parts: &PartsFolder) {
    for (word, kind, known) in
        [("choose", Kind::Choose, CHOOSE), ("gaps", Kind::Gaps, GAPS), ("oiling", Kind::Oiling, OILING)]
    {
        let ask = {
            let (own, parts) = (Rc::clone(context), parts.clone());
            move |context: &NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
                let at = context.call_position();
                own.outside(word).map_err(|e| e.at(at))?;
                if own.plan.borrow().requests.len() >= QUESTIONS {
                    return Err(WordError::Questions(QUESTIONS + 1, QUESTIONS).at(at));
                }
                let asked = asked((word, kind, known), variant, usage, &options, &parts).map_err(|e| e.at(at))?;
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
    (word, kind, known): (&'static str, Kind, &'static [Range]),
    variant: Variant,
    usage: Dynamic,
    given: &Map,
    parts: &PartsFolder,
) -> Result<ShopRequest, WordError> {
    let usage = match usage.clone().try_cast::<Duty>() {
        Some(duty) => Use::Duty(duty),
        None => Use::Named(usage.into_string().map_err(|kind| WordError::NoUse { word, given: format!("a {kind}") })?),
    };
    let mut options = BTreeMap::new();
    let mut springs = if kind == Kind::Choose { shipped()? } else { vec![] };
    for (name, value) in given {
        if kind == Kind::Choose && name == "stock" {
            let file = value.clone().into_string().map_err(|kind| WordError::NoStock(format!("a {kind}")))?;
            let file = format!("{}.json", file.trim_end_matches(".json"));
            springs = Stock::read(&file, &parts.read(&file, ".json")?)?;
            continue;
        }
        let Some(&(name, least, most, dimension)) = known.iter().find(|o| o.0 == name.as_str()) else {
            let stock = (kind == Kind::Choose).then_some("stock");
            let names: Vec<&str> = known.iter().map(|o| o.0).chain(stock).collect();
            return Err(WordError::Option {
                word,
                given: name.to_string(),
                suggestion: nearest(name, names.iter().copied()),
                known: names.join(", "),
            });
        };
        let value = between(word, name, value, (least, most), dimension)?;
        if ["seed", "assemblies"].contains(&name) && value.fract() != 0.0 {
            return Err(WordError::Wholly { word, argument: name, value });
        }
        options.insert(name, value);
    }
    if options.contains_key("power") != options.contains_key("rated") {
        return Err(WordError::Rating);
    }
    Ok(ShopRequest { question: kind, variant, usage, options, springs, position: Position::NONE })
}
