//! Words for sweeps of settings and for sensitivities.

use crate::language::context::{ScriptContext, list};
use crate::language::plan::{Aim, Variant};
use crate::language::word_error::{WordError, number, of_setting, whole};
use crate::read::units::show;
use crate::read::variant;
use rhai::{Array, Dynamic, Engine, EvalAltResult, NativeCallContext};
use slipsoak_engine::parts::{Dimension, in_words, parameter};
use std::rc::Rc;

type Answer<T> = Result<T, Box<EvalAltResult>>;

/// Largest number of combinations of one sweep.
const COMBINATIONS: usize = 10_000;
/// Largest number of machine and duty pairs in a sensitivity study.
const QUESTIONS: usize = 50;
/// Range of the number of design rows: fewer say nothing, and an even fill of the cube takes a power of two.
const ROWS: [f64; 2] = [16.0, 65536.0];

/// Registers the words.
pub(crate) fn register(engine: &mut Engine, context: &Rc<ScriptContext>) {
    engine.register_fn("steps", |context: NativeCallContext, from: Dynamic, to: Dynamic, count: Dynamic| {
        steps(&from, &to, &count).map_err(|e| e.at(context.call_position()))
    });
    engine.register_fn("varied", |context: NativeCallContext, machine: &mut Variant, path: &str, values: Dynamic| {
        varied(std::slice::from_ref(machine), path, values).map_err(|e| e.at(context.call_position()))
    });
    engine.register_fn("varied", |context: NativeCallContext, machines: &mut Array, path: &str, values: Dynamic| {
        let machines = list::<Variant>("machines", Dynamic::from(machines.clone()));
        machines.and_then(|m| varied(&m, path, values)).map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(context);
    engine.register_fn("sweep", move |context: NativeCallContext, machines: Dynamic, duties: Dynamic| -> Answer<()> {
        let swept = own.purpose(Aim::Sweep).and_then(|()| own.compare(machines, duties, COMBINATIONS));
        swept.map_err(|e| e.at(context.call_position()))
    });
    let own = Rc::clone(context);
    engine.register_fn(
        "matters",
        move |context: NativeCallContext, machines: Dynamic, duties: Dynamic| -> Answer<()> {
            let asked = own.purpose(Aim::Influence { rows: 0 }).and_then(|()| own.compare(machines, duties, QUESTIONS));
            asked.map_err(|e| e.at(context.call_position()))
        },
    );
    let own = Rc::clone(context);
    engine.register_fn(
        "matters",
        move |context: NativeCallContext, machines: Dynamic, duties: Dynamic, rows: Dynamic| -> Answer<()> {
            let ask = || {
                let rows = whole("matters", "number of rows", &rows, (ROWS[0], ROWS[1]))?;
                if !rows.is_power_of_two() {
                    return Err(WordError::Rows { rows, less: rows.next_power_of_two() / 2 });
                }
                own.purpose(Aim::Influence { rows })?;
                own.compare(machines, duties, QUESTIONS)
            };
            ask().map_err(|e| e.at(context.call_position()))
        },
    );
}

/// Evenly spaced values, both ends included.
fn steps(from: &Dynamic, to: &Dynamic, count: &Dynamic) -> Result<Array, WordError> {
    let (from, to) = (number("steps", "first value", from)?, number("steps", "last value", to)?);
    let count = whole("steps", "number of values", count, (2.0, 1000.0))?;
    let at = |k: u64| from + (to - from) * k as f64 / (count - 1) as f64;
    // The last value is exactly the requested one.
    Ok((0..count).map(|k| Dynamic::from_float(if k + 1 == count { to } else { at(k) })).collect())
}

/// Every machine with every value of a setting.
fn varied(machines: &[Variant], path: &str, values: Dynamic) -> Result<Array, WordError> {
    let values = values.flatten();
    let given = if values.is_array() { values.cast::<Array>() } else { vec![values] };
    if given.is_empty() {
        return Err(WordError::Nothing("values"));
    }
    let many = machines.len() * given.len();
    if many > COMBINATIONS {
        return Err(WordError::Runs { given: many, most: COMBINATIONS });
    }
    let dimension = parameter(path).map_or(Dimension::Ratio, |p| p.dimension);
    let mut all = Array::new();
    for machine in machines {
        let mut seen: Vec<f64> = vec![];
        for value in &given {
            let value = of_setting("varied", "value", path, value)?;
            let mut variant = machine.clone();
            let path = variant::adjust(&mut variant.machine, path, value)?;
            variant.machine.check().map_err(|e| WordError::Machine(e.into()))?;
            if variant.varied.iter().any(|(known, _)| *known == path) {
                return Err(WordError::Varied(path));
            }
            if seen.contains(&value) {
                return Err(WordError::Twice { path, value: show(value, dimension) });
            }
            seen.push(value);
            variant.varied.push((path, value));
            if machine.varied.is_empty() {
                variant.family.clone_from(&machine.name);
            }
            variant.name = format!("{}, {} {}", machine.name, in_words(path), show(value, dimension));
            all.push(Dynamic::from(variant));
        }
    }
    Ok(all)
}
