//! The shop's questions as words of a script. They are stored in the plan and answered once it is complete.

use crate::language::calibrated::calibrated;
use crate::language::context::ScriptContext;
use crate::language::plan::{Duty, ShopRequest, Use, Variant};
use crate::language::word::{Registry, Word, word};
use crate::language::word_error::{Answer, WordError, between, type_in_words, whole};
use crate::language::words::services::counted;
use crate::read::stock::Stock;
use crate::read::units::{maybe, nearest};
use crate::shop::options::{Form, Given, ShopOption};
use crate::shop::{QUESTIONS, Question};
use rhai::{Dynamic, Map, NativeCallContext, Position};

/// Largest number of questions of one script.
const MOST: usize = 50;

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "choose(machine, use) or (machine, use, options): asks which spring to fit; a use is \"moderate\", \"rental\", \"hard\" or a duty; options: idle, wander, grade, load, learned, crawl, season, stock, power, rated",
        r#"choose(machine("orchard-cart"), "rental", #{ wander: 75.rpm, grade: 0.04, load: 60.kg, stock: "springs" });"#,
        asks,
    ),
    word(
        "gaps(machine, use) or (machine, use, options): asks whether drum and cover clear each other, and until when; options: cover, cover_tolerance, wander, learned, seed, assemblies",
        r#"gaps(machine("orchard-cart"), "rental", #{ cover: -10.thou, cover_tolerance: 2.thou });"#,
        asks,
    ),
    word(
        "measure(machine, use) or (machine, use, options): asks what is worth measuring for a decision; options: for (\"oiling\", \"life\", \"spring\" or \"season\"), riding, rest, carts, season, stock, learned, samples, seed",
        r#"measure(machine("orchard-cart"), "rental", #{ "for": "oiling", riding: 40.min });"#,
        asks,
    ),
    word(
        "oiling(machine, use) or (machine, use, options): asks when and how to oil; options: wander, learned, riding, rest, drops, found, grease",
        r#"oiling(machine("orchard-cart"), "rental", #{ riding: 40.min, drops: 4 });"#,
        asks,
    ),
    word(
        "season(machine, use, options): asks which parts a shop's carts need in a season; options: carts, from, to, days, hours, wander, temperatures, drops, oil_on, oil_every, oil_when, renew_at, against, used, stock, lead, prices, learned, direct, samples, clutches, seed",
        r#"season(machine("trail-cart"), "rental", #{ carts: 12, from: "2027-04-01", to: "2027-10-31", days: "Wed-Sun", hours: 6.hours, temperatures: "8, 12, 18, 22, 21, 16, 10 °C", drops: 4, oil_on: "Mon" });"#,
        asks,
    ),
];

/// Registers the question of that word, with and without options.
fn asks(to: Registry) {
    let Some(question) = QUESTIONS.into_iter().find(|question| question.word == to.word) else { return };
    let (own, word) = (to.own, to.word);
    let ask = move |context: &NativeCallContext, variant: Variant, usage: Dynamic, options: &Map| -> Answer<()> {
        own.outside(word)?;
        if own.plan.borrow().requests.len() >= MOST {
            return Err(WordError::new(format!(
                "the script asks {} questions or more; the most allowed is {MOST}; put the others into a script of their own",
                MOST + 1
            ))
            .into());
        }
        let asked = asked(question, variant, usage, options, &own)?;
        if let Some(note) = set_aside(&asked) {
            own.print(note);
        }
        own.plan.borrow_mut().requests.push(ShopRequest { position: context.call_position(), ..asked });
        Ok(())
    };
    let plain = ask.clone();
    to.engine.register_fn(word, move |context: NativeCallContext, variant: Variant, usage: Dynamic| {
        plain(&context, variant, usage, &Map::new())
    });
    to.engine.register_fn(word, move |context: NativeCallContext, variant: Variant, usage: Dynamic, options: Map| {
        ask(&context, variant, usage, &options)
    });
}

/// What a question that samples no machines leaves out of its machine's spreads.
fn set_aside(asked: &ShopRequest) -> Option<String> {
    let samples = asked.question.options.iter().any(|option| option.name == "samples");
    let own: Vec<&str> = asked.variant.own_spreads().map(|u| u.path.as_str()).collect();
    (!samples && !own.is_empty()).then(|| {
        format!(
            "note: `{}` takes the values of {}, and for its ranges the spreads that are assumed or learned, not those of this script; `measure` samples by them",
            asked.question.word,
            own.join(", ")
        )
    })
}

fn asked(
    question: &'static Question,
    variant: Variant,
    usage: Dynamic,
    options: &Map,
    own: &ScriptContext,
) -> Result<ShopRequest, WordError> {
    let word = question.word;
    let usage = match usage.clone().try_cast::<Duty>() {
        Some(duty) => Use::Duty(duty),
        None => Use::Named(usage.into_string().map_err(|kind| {
            let kind = type_in_words(kind);
            WordError::new(format!(
                "`{word}` needs the name of a use or a duty, not a {kind}; `slipsoak words {word}` shows how it is used"
            ))
        })?),
    };
    let mut given = Given::nothing(question.options)?;
    let mut variant = variant;
    // What is wrong with the options, so that one message names all of it.
    let (mut unknown, mut wrong): (Vec<&str>, Vec<WordError>) = (vec![], vec![]);
    for (name, value) in options {
        match question.option(name).filter(|option| option.form.in_scripts()) {
            Some(option) => {
                let to = (&mut given, &mut variant);
                wrong.extend(take((word, option), (name, value), options, to, own).err());
            }
            None => unknown.push(name),
        }
    }
    if !unknown.is_empty() {
        wrong.insert(0, none_of(question, &unknown));
    }
    match &wrong[..] {
        [] => {}
        [one] => return Err(one.clone()),
        all => {
            let all: Vec<String> = all.iter().map(ToString::to_string).collect();
            return Err(WordError::new(all.join("; ")));
        }
    }
    (given.learned, given.spreads) = (variant.learned.clone(), variant.spreads.clone());
    if word == "season"
        && let Some(own) = variant.own_spreads().next()
    {
        return Err(WordError::new(format!(
            "`season` samples what is assumed or learned, part of it common to all carts; the spread of `{}`, which this script gives, is neither: ask `season` of the machine without it, or sample it with `fleet(…)`",
            own.path
        )));
    }
    Ok(ShopRequest { question, variant, usage, given, position: Position::NONE })
}

/// The error for options that a question does not have.
fn none_of(question: &Question, unknown: &[&str]) -> WordError {
    let known = question.options.iter().filter(|option| option.form.in_scripts());
    let names: Vec<String> = known.map(ShopOption::script_name).collect();
    let near = |name: &str| nearest(name, names.iter().map(String::as_str));
    let (word, known) = (question.word, names.join(", "));
    WordError::new(match unknown {
        [name] => format!("`{word}` has no option `{name}`{}; its options: {known}", maybe(near(name).as_deref())),
        all => {
            let one = |name: &&str| {
                let near = near(name).map_or_else(String::new, |near| format!(" (did you mean `{near}`?)"));
                format!("`{name}`{near}")
            };
            let all: Vec<String> = all.iter().map(one).collect();
            format!("`{word}` has no options {}; its options: {known}", all.join(", "))
        }
    })
}

/// Takes the value of an option.
fn take(
    (word, option): (&'static str, &'static ShopOption),
    (name, value): (&str, &Dynamic),
    options: &Map,
    (given, variant): (&mut Given, &mut Variant),
    own: &ScriptContext,
) -> Result<(), WordError> {
    match option.form {
        Form::Stock => {
            let not = |kind| {
                format!("`choose` needs the name of a stock of springs in quotes, not a {}", type_in_words(kind))
            };
            let file = value.clone().into_string().map_err(|kind| WordError::new(not(kind)))?;
            let file = format!("{}.json", file.trim_end_matches(".json"));
            given.springs = Stock::read(&file, &own.parts.read("stock of springs", &file, ".json")?)?;
        }
        Form::Learned => {
            let not =
                |kind| format!("`{word}` needs the name of a calibration in quotes, not a {}", type_in_words(kind));
            let file = value.clone().into_string().map_err(|kind| WordError::new(not(kind)))?;
            if !variant.learned.is_empty() {
                return Err(WordError::new(format!(
                    "`{word}` was given `learned`, and a machine that is calibrated already: give one of the two"
                )));
            }
            *variant = calibrated(own, variant, &file)?;
        }
        Form::Switch => {
            let not = |kind| format!("`{name}` of `{word}` is true or false, not a {}", type_in_words(kind));
            if value.as_bool().map_err(|kind| WordError::new(not(kind)))? {
                given.switches.insert(option.name);
            }
        }
        Form::Text => {
            let not = |kind| {
                format!("`{word}` needs its option `{name}` as text in quotes, not as a {}", type_in_words(kind))
            };
            let text = value.clone().into_string().map_err(|kind| WordError::new(not(kind)))?;
            given.texts.insert(option.name, text);
        }
        Form::OneOf(words) => {
            let said = value.clone().into_string().unwrap_or_default();
            if !words.contains(&said.as_str()) {
                return Err(WordError::new(format!(
                    "`{name}` of `{word}` is one of these, in quotes: {}",
                    words.join(", ")
                )));
            }
            given.words.insert(option.name, said);
        }
        Form::Count(_) => {
            given.counts.insert(option.name, whole(word, option.name, value, option.range)?);
        }
        Form::Drops => {
            let drops = counted(word, variant.machine.oiling.drop, value)?;
            let drops = between(word, option.name, &drops, option.range, option.dimension)?;
            given.quantities.insert(option.name, drops);
        }
        _ => {
            let value = between(word, option.name, value, option.range, option.dimension)?;
            given.quantities.insert(option.name, value);
        }
    }
    if let Form::Together(other) = option.form
        && !options.contains_key(other)
    {
        return Err(WordError::new(
            "`choose` sketches a torque curve from `power`, at the speed `rated`: give `power` too",
        ));
    }
    Ok(())
}
