//! Values of the shop's options as the command line gives them.

use crate::command::terminal::print;
use crate::read::calibration;
use crate::read::file;
use crate::read::quantity::{QuantityError, meant, read, read_near, show_as, speed, thousands};
use crate::read::refusal::Refusal;
use crate::read::stock::Stock;
use crate::read::units::{limits, short, show};
use crate::shop::caller::springs;
use crate::shop::options::{Form, Given, ShopOption, TOLERANCE, quantity};
use slipsoak_engine::document::Kind;
use slipsoak_engine::parts::{Dimension, LINING_WEAR, Machine};
use slipsoak_engine::parts_file;
use std::path::Path;

/// Takes the value of an option.
pub(super) fn take(
    option: &'static ShopOption,
    text: &str,
    machine: &mut Machine,
    given: &mut Given,
) -> Result<(), Refusal> {
    match option.form {
        Form::Use => {}
        Form::Springs => given.springs = springs(text).map_err(|why| option_refused(option, &why))?,
        Form::OneOf(_) => drop(given.words.insert(option.name, text.to_owned())),
        Form::Machine(change) => {
            let kind = machine.lining_kind;
            change(machine, text).map_err(|why| option_refused(option, &why))?;
            // What was learned of another kind's wear is gone with it: the table of options has it before.
            if machine.lining_kind != kind {
                given.forget(&LINING_WEAR);
            }
        }
        Form::Stock => {
            let (file, text) = file::named(Path::new(text), file::Kind::Stock)?;
            given.springs = Stock::read(&file, &text)?;
        }
        Form::Learned => {
            let inside = Path::new(text).join(Kind::Calibration.file());
            let path = if inside.is_file() { &inside } else { Path::new(text) };
            let (file, text) = file::named(path, file::Kind::Learned)?;
            let calibration = calibration::read(&file, &text, machine.lining_kind)?;
            given.learn(machine, &calibration);
            print(&calibration::of_another(&file, &calibration, machine).into_iter().collect::<Vec<_>>());
        }
        Form::Switch => drop(given.switches.insert(option.name)),
        Form::Count(_) => drop(given.counts.insert(option.name, text.parse().unwrap_or_default())),
        Form::Settings(size, tolerance) => {
            let (value, deviation) = toleranced(option.name, text)?;
            parts_file::set(machine, size, value)?;
            if let Some(deviation) = deviation {
                parts_file::set(machine, tolerance, deviation)?;
            }
            let possible = machine.check_tolerance(size, tolerance);
            possible.map_err(|why| Refusal::new(format!("--{} `{text}`: {}", option.name, Refusal::from(why))))?;
        }
        Form::Size(tolerance) => {
            let (value, deviation) = toleranced(option.name, text)?;
            given.quantities.insert(option.name, within(option, text, value)?);
            given.quantities.extend(deviation.map(|deviation| (tolerance, deviation)));
        }
        Form::Text => drop(given.texts.insert(option.name, text.to_owned())),
        Form::Hours => {
            let text = [" a day", " per day", "/day"].iter().fold(text.trim(), |text, day| text.trim_end_matches(day));
            let bare = text.parse::<f64>().is_ok();
            let hours = if bare { format!("{text} h") } else { text.to_owned() };
            given.quantities.insert(option.name, within(option, &hours, value(option, &hours)?)?);
        }
        Form::Drops => drop(given.quantities.insert(option.name, drops(option, text, machine)?)),
        Form::Quantity | Form::Also(_) | Form::Together(_) | Form::Tolerance => {
            given.quantities.insert(option.name, within(option, text, value(option, text)?)?);
        }
    }
    Ok(())
}

/// Drops, given by their number or by their volume.
fn drops(option: &ShopOption, text: &str, machine: &Machine) -> Result<f64, Refusal> {
    let Ok(volume) = read(text, Dimension::Volume) else { return within(option, text, value(option, text)?) };
    let drop = machine.oiling.drop;
    let (least, most) = option.range;
    let by_volume = ShopOption { range: (least * drop, most * drop), dimension: Dimension::Volume, ..*option };
    let of_one = format!("{} (oiling.drop)", show(drop, Dimension::Volume));
    within(&by_volume, text, volume).map_err(|why| Refusal::new(format!("{why}; a drop is {of_one}")))?;
    let drops = volume / drop;
    print(&[format!("note: --{} {} makes {} drops of {of_one}", option.name, text.trim(), short(drops))]);
    Ok(drops)
}

/// Checks a value against the range of its option; a refusal has the unit in which it was written.
fn within(option: &ShopOption, text: &str, value: f64) -> Result<f64, Refusal> {
    in_range(&typed(option), option, text, value)
}

/// The same, of a value by this name.
fn in_range(name: &str, option: &ShopOption, text: &str, value: f64) -> Result<f64, Refusal> {
    let ((least, most), dimension) = (option.range, option.dimension);
    if (least..=most).contains(&value) {
        return Ok(value);
    }
    // A share in per cent is meant as it stands.
    let percent = value > 0.0 && text.trim_end().ends_with('%');
    let meant = if percent { String::new() } else { meant(value, (least, most), dimension) };
    let meant = if meant.is_empty() { thousands(text, (least, most), dimension) } else { meant };
    let [least, most] = limits((least, most), dimension, |v| show_as(text, v, dimension));
    let value = show_as(text, value, dimension);
    Err(Refusal::new(format!("{name} is {value}; it must lie between {least} and {most}{meant}")))
}

/// Value of an option's quantity, SI.
fn value(option: &ShopOption, text: &str) -> Result<f64, Refusal> {
    let near = read(option.usual, option.dimension).ok();
    let alone = ["±", "+-", "+/-"].iter().find_map(|sign| Some(text.split_once(sign)?.0));
    if let Some(alone) = alone.filter(|alone| !alone.trim().is_empty()) {
        let wander = if option.name == "idle" { ", and its variation by --wander" } else { "" };
        let why = format!("`{text}` has a tolerance; give the value alone, \"{}\"{wander}", alone.trim());
        return Err(Refusal::new(format!("{}: {why}", typed(option))));
    }
    let (value, note) = speed(text, option.dimension, near).map_err(|mut source| {
        match &mut source {
            QuantityError::Number { example, .. } | QuantityError::NotFinite { example, .. } => {
                option.usual.clone_into(example);
            }
            QuantityError::Missing { text, unit, .. } if text.trim_start_matches('-') != "1" => {
                *unit = option.usual.split_once(' ').map_or(*unit, |(_, usual)| usual);
            }
            _ => {}
        }
        Refusal::new(format!("{}: {source}", typed(option)))
    })?;
    print(&note.map(|note| format!("note: --{} {note}", option.name)).into_iter().collect::<Vec<_>>());
    Ok(value)
}

/// What an option's text is refused for, with its name.
fn option_refused(option: &ShopOption, why: &Refusal) -> Refusal {
    Refusal::new(format!("{}: {why}", typed(option)))
}

/// An option by all names by which it can be typed.
fn typed(option: &ShopOption) -> String {
    match option.form {
        Form::Also(other) => format!("--{other} or --{}", option.name),
        _ => format!("--{}", option.name),
    }
}

/// A size with its tolerance if that is given, "65 thou ± 5 thou" or "65 ± 5 thou", m.
fn toleranced(name: &'static str, text: &str) -> Result<(f64, Option<f64>), Refusal> {
    let refused = |why: QuantityError| Refusal::new(format!("--{name}: {why}"));
    let near = |text: &str, usual| read_near(text, Dimension::Length, Some(usual)).map_err(refused);
    // Bushings and washers are of about this size.
    let one = |text: &str| near(text, 1.3e-3);
    let Some((size, deviation)) = ["±", "+-", "+/-", "-+", "-/+"].iter().find_map(|sign| text.split_once(sign)) else {
        return Ok((one(text)?, None));
    };
    if size.trim().is_empty() || deviation.trim().is_empty() {
        let (text, example) = (text.to_owned(), "65 thou ± 5 thou".to_owned());
        return Err(refused(QuantityError::Number { text, example }));
    }
    let tolerance = |value: f64| {
        let option = quantity(name, TOLERANCE, Dimension::Length, "5 thou");
        in_range(&format!("the tolerance of {}", typed(&option)), &option, deviation, value)
    };
    if let Some(percent) = deviation.trim().strip_suffix('%').and_then(|p| p.trim().parse::<f64>().ok()) {
        let size = one(size)?;
        return Ok((size, Some(tolerance(size.abs() * percent / 100.0)?)));
    }
    let unit = deviation.trim().trim_start_matches(|c: char| c.is_ascii_digit() || "+-.".contains(c));
    let bare = size.trim().parse::<f64>().is_ok();
    let size = one(&if bare { format!("{size} {unit}") } else { size.to_owned() })?;
    Ok((size, Some(tolerance(near(deviation, 0.1 * size.abs())?)?)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::units::UNITS;
    use crate::shop::QUESTIONS;

    #[test]
    fn the_limits_of_an_option_are_accepted_as_they_are_printed_whatever_the_unit_that_was_typed() {
        let options = QUESTIONS.iter().flat_map(|question| question.options);
        for option in options.filter(|option| option.range.0 < option.range.1) {
            for unit in UNITS.iter().filter(|unit| unit.dimension == option.dimension) {
                let text = format!("{} {}", short(unit.from_si(2.0 * option.range.1 + 1.0)), unit.texts[0]);
                let refused = within(option, &text, 2.0 * option.range.1 + 1.0).expect_err(&text).to_string();
                let limits = refused.split_once("it must lie between ").and_then(|said| said.1.split_once(" and "));
                let (least, most) = limits.expect("two limits");
                for text in [least, most.split(';').next().unwrap_or_default()] {
                    let value = read(text, option.dimension).expect(text);
                    assert!(within(option, text, value).is_ok(), "--{} refuses {text}: {refused}", option.name);
                }
            }
        }
    }
}
