//! Words of a script and of a machine.

use crate::language::calibrated::calibrated;
use crate::language::context::ScriptContext;
use crate::language::plan::{Aim, Duty, Variant};
use crate::language::word_error::{WordError, between, number, of_setting, quantity, whole};
use crate::language::{crossing, ride};
use crate::read::parts_folder::PartsFolder;
use crate::read::units::UNITS;
use crate::read::variant;
use rhai::{Dynamic, Engine, EvalAltResult, FLOAT, FnPtr, INT, NativeCallContext};
use slipsoak_engine::fleet::{Spread, Uncertain};
use slipsoak_engine::parts::{Dimension, Machine, parameter as parameter_of};
use slipsoak_engine::units::{celsius, fahrenheit};
use std::rc::Rc;

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Largest number of runs of one script.
const RUNS: usize = 1000;

/// Registers the words of a script, of a machine and of units.
pub(crate) fn register(engine: &mut Engine, context: &Rc<ScriptContext>, parts: &PartsFolder) {
    for unit in UNITS {
        engine.register_get(unit.word, |value: &mut INT| unit.si(*value as FLOAT));
        engine.register_get(unit.word, |value: &mut FLOAT| unit.si(*value));
        engine.register_fn(unit.word, |value: INT| unit.si(value as FLOAT));
        engine.register_fn(unit.word, |value: FLOAT| unit.si(value));
    }
    engine.register_fn("celsius", |value: INT| celsius(value as FLOAT));
    engine.register_fn("celsius", celsius);
    engine.register_fn("fahrenheit", |value: INT| fahrenheit(value as FLOAT));
    engine.register_fn("fahrenheit", fahrenheit);
    engine
        .register_type_with_name::<Variant>("machine")
        .register_type_with_name::<Duty>("duty")
        .register_type_with_name::<WordError>("refusal")
        .register_get("name", |v: &mut Variant| v.name.clone())
        .register_fn("duty", |name: &str, function: FnPtr| Duty { name: name.to_owned(), function, until: None });
    engine.register_fn("repeated", |context: NativeCallContext, duty: Duty, time: Dynamic| {
        let until = between("repeated", "time", &time, (60.0, ride::LONGEST), Dimension::Time)
            .map_err(|e| e.at(context.call_position()))?;
        Ok::<_, Box<EvalAltResult>>(Duty { until: Some(until), ..duty })
    });
    let own = parts.clone();
    engine.register_fn("machine", move |context: NativeCallContext, name: &str| -> Answer<Variant> {
        let read = || -> Result<Machine, WordError> {
            if let Some(machine) = variant::built_in(name) {
                return Ok(machine);
            }
            let file = format!("{}.json", name.trim_end_matches(".json"));
            Ok(variant::read(&file, &own.read(name, ".json")?)?)
        };
        let machine = read().map_err(|e| e.at(context.call_position()))?;
        let (name, family) = (machine.name.clone(), machine.name.clone());
        Ok(Variant { name, machine, spreads: vec![], varied: vec![], family })
    });
    let own = parts.clone();
    engine.register_fn("trace", move |context: NativeCallContext, name: &str| {
        ride::read_trace(&own, name).map_err(|e| e.at(context.call_position()))
    });
    let (own, printer) = (parts.clone(), Rc::clone(context));
    engine.register_fn("recording", move |context: NativeCallContext, name: &str| {
        let read = || -> Result<_, WordError> {
            let ending = if name.to_lowercase().ends_with(".gpx") { ".gpx" } else { ".csv" };
            let (trace, report) = crate::read::ridelog::read(name, &own.read(name, ending)?)?;
            for line in slipsoak_plots::words::cleaning::lines(&report, name) {
                printer.print(line);
            }
            Ok(std::sync::Arc::new(trace))
        };
        read().map_err(|e| e.at(context.call_position()))
    });
    let own = parts.clone();
    engine.register_fn("calibrated", move |context: NativeCallContext, v: &mut Variant, name: &str| {
        let made = calibrated(&own, v, name).map_err(WordError::from);
        made.map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(context);
    engine.register_fn("title", move |context: NativeCallContext, text: &str| -> Answer<()> {
        own.outside("title").map_err(|e| e.at(context.call_position()))?;
        text.clone_into(&mut own.plan.borrow_mut().title);
        Ok(())
    });
    let own = Rc::clone(context);
    engine.register_fn("param", move |context: NativeCallContext, name: &str, default: Dynamic| {
        parameter(&own, name, &default).map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(context);
    engine.register_fn("compare", move |context: NativeCallContext, machines: Dynamic, duties: Dynamic| {
        let compared = own.purpose(Aim::Runs).and_then(|()| own.compare(machines, duties, RUNS));
        compared.map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(context);
    engine.register_fn("reference", move |context: NativeCallContext, machine: Variant| -> Answer<()> {
        own.outside("reference").map_err(|e| e.at(context.call_position()))?;
        let plan = &mut *own.plan.borrow_mut();
        (plan.reference, plan.reference_at) = (Some(machine), context.call_position());
        Ok(())
    });
    register_variants(engine);
    register_fleets(engine, context);
    crate::language::questions::register(engine, context, parts);
    crossing::register(engine, context);
}

fn parameter(context: &ScriptContext, name: &str, default: &Dynamic) -> Result<Dynamic, WordError> {
    let usual = number("param", "default", default)?;
    if let Some(first) = context.defaults.borrow_mut().insert(name.to_owned(), usual).filter(|first| *first != usual) {
        return Err(WordError::Defaults { name: name.to_owned(), first, second: usual });
    }
    let value = context.settings.get(name).copied().unwrap_or(usual);
    context.used.borrow_mut().insert(name.to_owned(), value);
    if !default.is_int() {
        return Ok(Dynamic::from_float(value));
    }
    if value.fract() != 0.0 || value.abs() > 1e15 {
        let name = name.to_owned();
        return Err(WordError::Fraction { name, default: usual, value });
    }
    Ok(Dynamic::from_int(value as INT))
}

fn spread_by(variant: &Variant, path: &str, spread: Spread, draw: &str) -> Result<Variant, WordError> {
    // Setting the present value again shows whether the setting exists.
    let mut machine = variant.machine.clone();
    let nominal = parameter_of(path).map_or(0.0, |p| (p.of)(&machine));
    variant::adjust(&mut machine, path, nominal)?;
    let mut variant = variant.clone();
    variant.spreads.retain(|u| u.path != path);
    // A learned spread of the setting is replaced, with its correlations to other settings.
    for other in &mut variant.spreads {
        other.correlated.remove(path);
    }
    variant.spreads.push(Uncertain { draw: draw.to_owned(), ..Uncertain::alone(path, spread) });
    Ok(variant)
}

/// Word, argument, distribution and smallest width.
type Kind = (&'static str, &'static str, fn(f64) -> Spread, f64);

/// Registers the distributions and the fleet.
fn register_fleets(engine: &mut Engine, context: &Rc<ScriptContext>) {
    engine.register_type_with_name::<Spread>("distribution");
    let kinds: [Kind; 4] = [
        ("normal", "standard deviation, in SI units,", Spread::Normal, 0.0),
        ("factor", "factor", Spread::Factor, 1.0),
        ("uniform", "half width, in SI units,", Spread::Uniform, 0.0),
        ("triangular", "half width, in SI units,", Spread::Triangular, 0.0),
    ];
    for (word, argument, of, least) in kinds {
        engine.register_fn(word, move |context: NativeCallContext, width: Dynamic| {
            let width = between(word, argument, &width, (least, 1e12), Dimension::Ratio)
                .map_err(|e| e.at(context.call_position()))?;
            Ok::<_, Box<EvalAltResult>>(of(width))
        });
    }
    let own = Rc::clone(context);
    engine.register_fn("fleet", move |context: NativeCallContext, clutches: Dynamic, seed: Dynamic| {
        let read = || {
            let clutches = whole("fleet", "number of clutches", &clutches, (1.0, 1e6))?;
            let fleet = Aim::Fleet { clutches, seed: whole("fleet", "seed", &seed, (0.0, 9e15))? };
            own.purpose(fleet)
        };
        read().map_err(|e: WordError| e.at(context.call_position()))
    });
}

fn register_variants(engine: &mut Engine) {
    fn changed(
        context: &NativeCallContext,
        variant: &Variant,
        change: impl FnOnce(&mut Machine) -> Result<(), WordError>,
    ) -> Answer<Variant> {
        let at = context.call_position();
        let mut variant = variant.clone();
        change(&mut variant.machine).map_err(|e| e.at(at))?;
        variant.machine.check().map_err(|e| WordError::Machine(e.into()).at(at))?;
        Ok(variant)
    }
    engine.register_fn("called", |variant: &mut Variant, name: &str| Variant {
        name: name.to_owned(),
        ..variant.clone()
    });
    engine.register_fn("spring", |context: NativeCallContext, v: &mut Variant, speed: Dynamic| {
        changed(&context, v, |m| {
            let speed = quantity("spring", "engagement speed", &speed, Dimension::AngularSpeed)?;
            variant::adjust(m, "clutch.engagement", speed)?;
            Ok(())
        })
    });
    engine.register_fn("having", |context: NativeCallContext, v: &mut Variant, path: &str, value: Dynamic| {
        changed(&context, v, |m| {
            variant::adjust(m, path, of_setting("having", "value", path, &value)?)?;
            Ok(())
        })
    });
    engine.register_fn("spread", |context: NativeCallContext, v: &mut Variant, path: &str, spread: Spread| {
        spread_by(v, path, spread, path).map_err(|e| e.at(context.call_position()))
    });
    engine.register_fn(
        "spread",
        |context: NativeCallContext, v: &mut Variant, path: &str, spread: Spread, draw: &str| {
            spread_by(v, path, spread, draw).map_err(|e| e.at(context.call_position()))
        },
    );
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
