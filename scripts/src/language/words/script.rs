//! Words by themselves that read files, name duties and ask for runs, and the word of a duty.

use crate::language::closures;
use crate::language::context::ScriptContext;
use crate::language::plan::{Aim, Duty, Variant};
use crate::language::quantity::{Number, Quantity};
use crate::language::ride;
use crate::language::word::{Word, word};
use crate::language::word_error::{Answer, WordError, between, finite};
use crate::read::{ridelog, trace, variant};
use rhai::{Dynamic, FLOAT, FnPtr, INT, NativeCallContext};
use slipsoak_engine::duty::Trace;
use slipsoak_engine::parts::{Dimension, Machine};
use slipsoak_engine::parts_file;
use slipsoak_engine::units::{celsius, fahrenheit};
use std::sync::Arc;

/// Largest number of runs of one script.
const RUNS: usize = 1000;

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "title(text): says what the study asks",
        r#"title("Which spring?");"#,
        |to| {
        to.engine.register_fn(to.word, move |text: &str| -> Answer<()> {
            to.own.outside("title")?;
            text.clone_into(&mut to.own.plan.borrow_mut().title);
            Ok(())
        });
    }),
    word(
        "param(name, default): a number that --set NAME=VALUE can change",
        r#"let rows = param("rows", 6);"#,
        |to| {
            to.engine.register_fn(to.word, move |name: &str, default: Dynamic| -> Answer<Dynamic> {
                Ok(parameter(&to.own, name, &default)?)
            });
        },
    ),
    word(
        "machine(name): reads a machine from NAME.json beside the script, in parts or in ../parts; \"example\" is built in",
        r#"let cart = machine("orchard-cart");"#,
        |to| {
            to.engine.register_fn(to.word, move |name: &str| -> Answer<Variant> {
                let machine = machine(&to.own, name)?;
                let (name, family) = (machine.name.clone(), machine.name.clone());
                Ok(Variant { name, machine, spreads: vec![], learned: vec![], varied: vec![], family })
            });
        },
    )
    .also("part parts cart vehicle"),
    word(
        "trace(name): reads a speed trace from NAME.csv beside the script, in parts or in ../parts",
        r#"let town = trace("ece15.csv");"#,
        |to| {
            to.engine.register_fn(to.word, move |name: &str| -> Answer<Arc<Trace>> {
                Ok(traced(&to.own, name)?)
            });
        },
    ),
    word(
        "recording(name): reads a recorded ride, NAME.csv or NAME.gpx, cleans it and prints what that changed; to be followed like a trace",
        r#"let ridden = recording("ece15.csv");"#,
        |to| {
            to.engine.register_fn(to.word, move |name: &str| -> Answer<Arc<Trace>> { Ok(recording(&to.own, name)?) });
        },
    ),
    word(
        "duty(name, function): names a duty: a function that is given a ride",
        r#"fn rest(ride) { ride.idle(30.s); } let d = duty("rest", Fn("rest"));"#,
        |to| {
            to.engine.register_fn(to.word, |name: &str, function: FnPtr| Duty {
                name: name.to_owned(),
                function: closures::as_made(&function),
                until: None,
            });
        },
    ),
    word(
        "compare(machines, duties): asks for a run of every machine under every duty",
        r#"compare([machine("example")], [duty("rest", |ride| ride.idle(30.s))]);"#,
        |to| {
            to.engine.register_fn(to.word, move |machines: Dynamic, duties: Dynamic| -> Answer<()> {
                to.own.compare(Aim::Runs, machines, duties, RUNS)
            });
        },
    )
    .also("run plot simulate report"),
    word(
        "reference(machine): says which of the machines compared the others are held against; without it the first",
        r#"let usual = machine("example"); reference(usual); compare([usual, usual.spring(2200.rpm)], duty("rest", |ride| ride.idle(30.s)));"#,
        |to| {
            to.engine.register_fn(to.word, move |context: NativeCallContext, machine: Variant| -> Answer<()> {
                to.own.outside("reference")?;
                let plan = &mut *to.own.plan.borrow_mut();
                (plan.reference, plan.reference_at) = (Some(machine), context.call_position());
                Ok(())
            });
        },
    ),
    word(
        "celsius(number): a temperature in degrees Celsius",
        r"let t = celsius(20);",
        |to| {
        to.engine.register_fn(to.word, |value: INT| temperature(celsius(value as FLOAT)));
        to.engine.register_fn(to.word, |value: FLOAT| temperature(celsius(value)));
    }),
    word(
        "fahrenheit(number): a temperature in degrees Fahrenheit",
        r"let t = fahrenheit(68);",
        |to| {
        to.engine.register_fn(to.word, |value: INT| temperature(fahrenheit(value as FLOAT)));
        to.engine.register_fn(to.word, |value: FLOAT| temperature(fahrenheit(value)));
    }),
    word(
        "duty.repeated(time): repeats the duty until that time or until a part is worn out, running in full only what it must",
        "let season = week.repeated(300.hours);",
        |to| {
            to.engine.register_fn(to.word, |duty: Duty, time: Dynamic| -> Answer<Duty> {
                let until = between("repeated", "time", &time, (60.0, ride::LONGEST), Dimension::Time)?;
                Ok(Duty { until: Some(until), ..duty })
            });
        },
    )
    .also("repeat times loop"),
];

fn temperature(value: f64) -> Quantity {
    Quantity { value, of: Dimension::Temperature }
}

fn parameter(context: &ScriptContext, name: &str, default: &Dynamic) -> Result<Dynamic, WordError> {
    let Number { value: usual, of } = finite("param", "default", default)?;
    if let Some(first) = context.defaults.borrow_mut().insert(name.to_owned(), usual).filter(|first| *first != usual) {
        let two = format!("the parameter `{name}` has two defaults, {first} and {usual}; give it one");
        return Err(WordError::new(two));
    }
    let value = context.settings.get(name).copied().unwrap_or(usual);
    context.used.borrow_mut().insert(name.to_owned(), value);
    if !default.is_int() {
        return Ok(Number { value, of }.given());
    }
    if value.fract() != 0.0 || value.abs() > 1e15 {
        return Err(WordError::new(format!(
            "the parameter `{name}` counts (its default is {usual}): {value} must be a whole number; for fractions, write its default as {usual}.0 in the script"
        )));
    }
    Ok(Dynamic::from_int(value as INT))
}

fn machine(context: &ScriptContext, name: &str) -> Result<Machine, WordError> {
    if let Some(machine) = variant::built_in(name) {
        return Ok(machine);
    }
    let file = format!("{}.json", name.trim_end_matches(".json"));
    Ok(parts_file::read(&file, &context.parts.read("machine", name, ".json")?)?)
}

fn traced(context: &ScriptContext, name: &str) -> Result<Arc<Trace>, WordError> {
    let (trace, notes) = trace::read(name, &context.parts.read("trace", name, ".csv")?)?;
    for note in notes {
        context.print(note);
    }
    Ok(Arc::new(trace))
}

fn recording(context: &ScriptContext, name: &str) -> Result<Arc<Trace>, WordError> {
    let ending = if name.to_lowercase().ends_with(".gpx") { ".gpx" } else { ".csv" };
    let (trace, report) = ridelog::read(name, &context.parts.read("recording", name, ending)?)?;
    for line in slipsoak_plots::words::cleaning::lines(&report, name) {
        context.print(line);
    }
    Ok(Arc::new(trace))
}
