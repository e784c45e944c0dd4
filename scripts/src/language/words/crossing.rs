//! Words for sweeps of settings and for sensitivities.

use crate::language::context::{empty, few, list};
use crate::language::plan::{Aim, Variant};
use crate::language::quantity::{Number, alike};
use crate::language::word::{Word, word};
use crate::language::word_error::{Answer, WordError, finite, of_setting, whole};
use crate::read::units::show;
use rhai::{Array, Dynamic};
use slipsoak_engine::parts_file;
use std::rc::Rc;

/// Largest number of combinations of one sweep.
const COMBINATIONS: usize = 10_000;
/// Largest number of machine and duty pairs in a sensitivity study.
const QUESTIONS: usize = 50;
/// Range of the number of design rows: fewer say nothing, and an even fill of the cube takes a power of two.
const ROWS: [f64; 2] = [16.0, 65536.0];

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "steps(first, last, number): a list of this many values, evenly spaced, both ends included",
        "let speeds = steps(1600.rpm, 2000.rpm, 5);",
        |to| {
            to.engine.register_fn(to.word, |first: Dynamic, last: Dynamic, count: Dynamic| -> Answer<Array> {
                Ok(steps(&first, &last, &count)?)
            });
        },
    ),
    word(
        "sweep(machines, duties): runs every machine under every duty for a summary: a table, a heat map",
        r#"let carts = machine("example").varied("clutch.engagement", [1700.rpm, 1900.rpm]); sweep(carts, duty("rest", |ride| ride.idle(30.s)));"#,
        |to| {
            to.engine.register_fn(to.word, move |machines: Dynamic, duties: Dynamic| -> Answer<()> {
                to.own.compare(Aim::Sweep, machines, duties, COMBINATIONS)
            });
        },
    ),
    word(
        "matters(machines, duties) or (machines, duties, rows): asks which uncertain settings move the life: each by itself, and with a number of samples (a power of two) also its share of the variance of the life",
        r#"matters(machine("example"), duty("rest", |ride| ride.idle(30.s)));"#,
        |to| {
            let own = Rc::clone(&to.own);
            to.engine.register_fn(to.word, move |machines: Dynamic, duties: Dynamic| -> Answer<()> {
                own.compare(Aim::Influence { rows: 0 }, machines, duties, QUESTIONS)
            });
            to.engine.register_fn(to.word, move |machines: Dynamic, duties: Dynamic, rows: Dynamic| -> Answer<()> {
                let rows = whole("matters", "number of rows", &rows, (ROWS[0], ROWS[1]))?;
                if !rows.is_power_of_two() {
                    let (less, more) = (rows.next_power_of_two() / 2, rows.next_power_of_two());
                    return Err(WordError::new(format!(
                        "`matters` fills its ranges evenly with a power of two of rows: take {less} or {more}, not {rows}"
                    ))
                    .into());
                }
                to.own.compare(Aim::Influence { rows }, machines, duties, QUESTIONS)
            });
        },
    ),
    word(
        "machine.varied(setting, values): a list of machines, one for each value of a setting; of a list of machines, every machine with every value",
        r#"let carts = cart.varied("motor.idle", [1650.rpm, 1700.rpm]).varied("surroundings.grade", [0, 0.05]);"#,
        |to| {
            to.engine.register_fn(to.word, |machine: &mut Variant, path: &str, values: Dynamic| -> Answer<Array> {
                Ok(varied(std::slice::from_ref(machine), path, values)?)
            });
            to.engine.register_fn(to.word, |machines: &mut Array, path: &str, values: Dynamic| -> Answer<Array> {
                let machines = list::<Variant>("varied", "machines", Dynamic::from(machines.clone()))?;
                Ok(varied(&machines, path, values)?)
            });
        },
    )
    .also("vary"),
];

/// Evenly spaced values, both ends included.
fn steps(from: &Dynamic, to: &Dynamic, count: &Dynamic) -> Result<Array, WordError> {
    let (first, last) = (finite("steps", "first value", from)?, finite("steps", "last value", to)?);
    let of = alike("steps", first, last)?;
    let (from, to) = (first.value, last.value);
    let count = whole("steps", "number of values", count, (2.0, 1000.0))?;
    let at = |k: u64| from + (to - from) * k as f64 / (count - 1) as f64;
    // The last value is exactly the requested one.
    Ok((0..count).map(|k| Number { value: if k + 1 == count { to } else { at(k) }, of }.given()).collect())
}

/// Every machine with every value of a setting.
fn varied(machines: &[Variant], path: &str, values: Dynamic) -> Result<Array, WordError> {
    let values = values.flatten();
    let given = if values.is_array() { values.cast::<Array>() } else { vec![values] };
    if given.is_empty() {
        return Err(empty("varied", "values"));
    }
    few(machines.len() * given.len(), COMBINATIONS)?;
    let mut all = Array::new();
    for machine in machines {
        let mut seen: Vec<f64> = vec![];
        for value in &given {
            let (p, value) = of_setting("varied", path, value)?;
            let mut variant = machine.clone();
            parts_file::set(&mut variant.machine, p, value)?;
            variant.machine.check()?;
            if variant.varied.iter().any(|(known, _)| *known == p) {
                return Err(WordError::new(format!("`{path}` is varied already; cross it with another setting")));
            }
            let shown = show(value, p.dimension);
            if seen.contains(&value) {
                let twice = format!("`{path}` is given {shown} twice; each value makes a machine of its own");
                return Err(WordError::new(twice));
            }
            seen.push(value);
            variant.varied.push((p, value));
            if machine.varied.is_empty() {
                variant.family.clone_from(&machine.name);
            }
            variant.name = format!("{}, {} {shown}", machine.name, p.name);
            all.push(Dynamic::from(variant));
        }
    }
    Ok(all)
}
