//! Words for fleets of clutches and for the spreads of their settings.

use crate::language::plan::{Aim, Variant};
use crate::language::width::Width;
use crate::language::word::{Registry, Word, word};
use crate::language::word_error::{Answer, WordError, whole};
use crate::read::variant;
use rhai::Dynamic;
use slipsoak_engine::fleet::{Spread, Uncertain};
use slipsoak_engine::parts::parameter;

const WIDTH: &str = "half width, in SI units,";

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "fleet(clutches, seed): runs every comparison for this many clutches, sampled over what is uncertain: when the first part is worn out, oil set apart, and when the oil is due; duties must be repeated",
        r#"let day = duty("day", |ride| { ride.idle(30.s); ride.motor_off(1.hours); }).repeated(50.hours); compare(machine("example"), day); fleet(3, 7);"#,
        |to| {
            to.engine.register_fn(to.word, move |clutches: Dynamic, seed: Dynamic| -> Answer<()> {
                let clutches = whole("fleet", "number of clutches", &clutches, (1.0, 1e6))?;
                let seed = whole("fleet", "seed", &seed, (0.0, 9e15))?;
                Ok(to.own.purpose(Aim::Fleet { clutches, seed })?)
            });
        },
    ),
    word("normal(deviation): a spread: normal, of that standard deviation", "let s = normal(30.rpm);", |to| {
        spread(to, "standard deviation, in SI units,", Spread::Normal, 0.0);
    }),
    word("factor(number): a spread: 90 % lie within that factor of the nominal value", "let s = factor(2);", |to| {
        spread(to, "factor", Spread::Factor, 1.0);
    }),
    word(
        "uniform(half width): a spread: evenly spread within this half width of the nominal value",
        "let s = uniform(75.rpm);",
        |to| spread(to, WIDTH, Spread::Uniform, 0.0),
    ),
    word(
        "triangular(half width): a spread: most likely at the nominal value, never further off than this half width",
        "let s = triangular(0.2.mm);",
        |to| spread(to, WIDTH, Spread::Triangular, 0.0),
    ),
    word(
        "machine.spread(setting, spread) or (setting, spread, draw): the machine of a fleet, one setting of it spread; settings with the same draw vary together",
        r#"let real = cart.spread("motor.idle", uniform(75.rpm));"#,
        |to| {
            to.engine.register_fn(to.word, |v: &mut Variant, path: &str, spread: Width| -> Answer<Variant> {
                Ok(spread_by(v, path, spread, path)?)
            });
            to.engine.register_fn(
                to.word,
                |v: &mut Variant, path: &str, spread: Width, draw: &str| -> Answer<Variant> {
                    Ok(spread_by(v, path, spread, draw)?)
                },
            );
        },
    ),
];

/// Registers a distribution with the name and the smallest value of its width.
fn spread(Registry { word, engine, .. }: Registry, argument: &'static str, of: fn(f64) -> Spread, least: f64) {
    engine.register_fn(word, move |width: Dynamic| -> Answer<Width> {
        Ok(Width::new(word, argument, &width, least, of)?)
    });
}

fn spread_by(variant: &Variant, path: &str, spread: Width, draw: &str) -> Result<Variant, WordError> {
    let p = parameter(path).ok_or_else(|| variant::unknown(&variant.machine.name, path))?;
    let spread = spread.of(p)?;
    variant.machine.check_spring(p)?;
    let mut variant = variant.clone();
    // A learned spread of the setting is replaced, with its correlations to other settings.
    variant.forget(&[p]);
    variant.spreads.push(Uncertain { draw: draw.to_owned(), ..Uncertain::alone(path, spread) });
    Ok(variant)
}
