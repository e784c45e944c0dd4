//! Words that change a machine.

use crate::language::calibrated::calibrated;
use crate::language::plan::Variant;
use crate::language::word::{Registry, Word, word};
use crate::language::word_error::{Answer, WordError, between, of_setting, quantity};
use rhai::Dynamic;
use slipsoak_engine::laws::air;
use slipsoak_engine::parts::{Dimension, LINING_WEAR, LiningKind, Machine, settings};
use slipsoak_engine::parts_file::{self, MachineError};

/// Heights at which the pressure of the standard air is one that a machine may have, m.
const HEIGHTS: (f64, f64) = (-500.0, 5500.0);

/// The rows.
pub(crate) const WORDS: &[Word] = &[
    word(
        "machine.spring(speed): the machine with a new set of springs that engage at that speed; a weak or broken one is gone, and so is the force of the old lot",
        "let softer = cart.spring(1700.rpm);",
        |to| {
            to.engine.register_fn(to.word, |v: &mut Variant, speed: Dynamic| -> Answer<Variant> {
                let p = &settings::clutch::engagement;
                let speed = quantity("spring", "engagement speed", &speed, p.dimension)?;
                changed(v, |m| {
                    m.fit_set();
                    parts_file::set(m, p, speed)
                })
            });
        },
    )
    .also("springs engagement"),
    word(
        "machine.having(setting, value): the machine with one setting changed, by its path",
        r#"let heavy = cart.having("vehicle.mass", 250.kg);"#,
        |to| {
            to.engine.register_fn(to.word, |v: &mut Variant, path: &str, value: Dynamic| -> Answer<Variant> {
                let (p, value) = of_setting("having", path, &value)?;
                changed(v, |m| parts_file::set(m, p, value))
            });
        },
    )
    .also("mass load weight set with change"),
    word(
        "machine.lined(kind): the machine with a \"woven\", \"moulded\", \"sintered\" or \"bare metal\" lining: grip, fade, wear, weight and limits, and springs chosen for its weight; what was learned of another kind's wear goes with it",
        r#"let lined = cart.lined("sintered");"#,
        |to| {
            to.engine.register_fn(to.word, |v: &mut Variant, kind: &str| {
                relined(v, kind, Machine::line_with)
            });
        },
    )
    .also("lining bare metal"),
    word(
        "machine.relined(kind): the machine with another lining and its old springs: heavier shoes engage at a lower speed",
        r#"let relined = cart.relined("sintered");"#,
        |to| {
            to.engine.register_fn(to.word, |v: &mut Variant, kind: &str| {
                relined(v, kind, Machine::reline_with)
            });
        },
    )
    .also("lining old springs kept"),
    word(
        "machine.formed(form): the machine with floating, leading, trailing or wedge shoes",
        r#"let leading = cart.formed("leading");"#,
        |to| named(to, |m, form| parts_file::form(form).map(|form| m.form = form)),
    )
    .also("form shoes"),
    word(
        "machine.idling(kind): the machine with an idle that rests on a \"throttle stop\" or is \"governed\"",
        r#"let governed = cart.idling("governed");"#,
        |to| named(to, |m, kind| parts_file::idle_kind(kind).map(|kind| m.idle_kind = kind)),
    )
    .also("idle governor governed"),
    word(
        "machine.at_altitude(height): the machine in the standard air of that height above the sea: less torque, less cooling",
        "let high = cart.at_altitude(2000.m);",
        |to| {
            to.engine.register_fn(to.word, |v: &mut Variant, height: Dynamic| -> Answer<Variant> {
                let height = between("at_altitude", "height", &height, HEIGHTS, Dimension::Length)?;
                changed(v, |m| parts_file::set(m, &settings::surroundings::pressure, air::pressure(height)))
            });
        },
    )
    .also("altitude height mountain"),
    word(
        "machine.calibrated(name): the machine with the constants that `slipsoak calibrate` learned, from NAME.json beside the script, in parts or in ../parts; a fleet is spread, and its constants sampled together, as far as the data leave them open",
        r#"let real = cart.calibrated("trail-cart-calibration");"#,
        |to| {
            to.engine.register_fn(to.word, move |v: &mut Variant, name: &str| -> Answer<Variant> {
                Ok(calibrated(&to.own, v, name).map_err(WordError::from)?)
            });
        },
    ),
    word(
        "machine.oiled(oil): the machine with another oil in its bushing",
        r#"let thin = cart.oiled("SAE 20");"#,
        |to| named(to, |m, name| parts_file::oil(name).map(|name| m.oil = name)),
    )
    .also("oil lubricate"),
    word(
        "machine.called(text): the machine under another name in tables and figures",
        r#"let other = cart.called("as delivered");"#,
        |to| {
            to.engine
                .register_fn(to.word, |v: &mut Variant, name: &str| Variant { name: name.to_owned(), ..v.clone() });
        },
    )
    .also("name named rename"),
    word("machine.name: reads the machine's name", r"let name = cart.name;", |to| {
        to.engine.register_get(to.word, |v: &mut Variant| v.name.clone());
    }),
];

/// The machine with another lining, and without the spreads of the old kind's wear.
fn relined(variant: &Variant, kind: &str, line: fn(&mut Machine, LiningKind)) -> Answer<Variant> {
    let kind = parts_file::lining(kind).map_err(WordError::from)?;
    let mut lined = changed(variant, |m| {
        line(m, kind);
        Ok(())
    })?;
    if kind != variant.machine.lining_kind {
        lined.forget(&LINING_WEAR);
    }
    Ok(lined)
}

/// Registers a word that chooses by a name.
fn named(Registry { word, engine, .. }: Registry, choose: fn(&mut Machine, &str) -> Result<(), MachineError>) {
    engine.register_fn(word, move |v: &mut Variant, name: &str| changed(v, |m| choose(m, name)));
}

fn changed<T>(variant: &Variant, change: impl FnOnce(&mut Machine) -> Result<T, MachineError>) -> Answer<Variant> {
    let mut variant = variant.clone();
    change(&mut variant.machine).map_err(WordError::from)?;
    variant.machine.check().map_err(WordError::from)?;
    Ok(variant)
}
