//! A machine as the text of a parts file, with every setting.

use super::choices::{FORMS, idle_kind};
use super::quantity::read;
use super::unit_words::show;
use crate::parts::{Dimension, Machine, PARAMETERS, Parameter};
use std::fmt::Write as _;

/// The text of a parts file that holds every setting of a machine; read again it is the same machine.
///
/// ```
/// use slipsoak_engine::parts::Machine;
/// use slipsoak_engine::parts_file::{read, write};
/// let text = write(&Machine::default());
/// assert!((read("cart.json", &text).unwrap().vehicle.mass - Machine::default().vehicle.mass).abs() < 1e-3);
/// ```
pub fn write(machine: &Machine) -> String {
    let form = FORMS.iter().find(|(_, form)| *form == machine.form).map_or("", |(name, _)| name);
    let texts = [
        ("name", machine.name.as_str()),
        ("form", form),
        ("lining_kind", machine.lining_kind.name()),
        ("oil", &machine.oil.name),
    ];
    // An idle of which nobody says what holds it is left out.
    let idle = Some(("idle_kind", machine.idle_kind.name())).filter(|(_, kind)| idle_kind(kind).is_ok());
    let mut text = "{\n".to_owned();
    for (key, value) in texts.into_iter().chain(idle) {
        let _ = writeln!(text, "  \"{key}\": {},", quoted(value));
    }
    let mut groups: Vec<&str> = PARAMETERS.iter().map(|p| group(p)).collect();
    groups.dedup();
    let groups: Vec<String> = groups.into_iter().map(|name| of_group(machine, name)).collect();
    text + &groups.join(",\n") + "\n}\n"
}

fn group(p: &Parameter) -> &'static str {
    p.path.split('.').next().unwrap_or_default()
}

/// A group with its settings; the motor's begins with its torque curve.
fn of_group(machine: &Machine, name: &str) -> String {
    let curve = (name == "motor").then(|| {
        let point = |(speed, torque): &(f64, f64)| {
            format!("[{}, {}]", value(*speed, Dimension::AngularSpeed), value(*torque, Dimension::Torque))
        };
        let points: Vec<String> = machine.torque_curve.iter().map(point).collect();
        format!("    \"torque\": [{}]", points.join(", "))
    });
    let own = PARAMETERS.iter().filter(|p| group(p) == name).map(|p| {
        let key = p.path.split_once('.').map_or("", |(_, key)| key);
        format!("    \"{key}\": {}", value((p.of)(machine), p.dimension))
    });
    let lines: Vec<String> = curve.into_iter().chain(own).collect();
    format!("  \"{name}\": {{\n{}\n  }}", lines.join(",\n"))
}

/// A quantity in quotes with its unit, in SI if six digits of a familiar one are not all of it; a plain number without quotes.
fn value(si: f64, dimension: Dimension) -> String {
    let familiar = show(si, dimension);
    let whole = read(&familiar, dimension).is_ok_and(|again| again.to_bits() == si.to_bits());
    let shown = match dimension {
        _ if whole => familiar,
        Dimension::Ratio => si.to_string(),
        _ => format!("{si} {}", dimension.unit()),
    };
    if shown.parse::<f64>().is_ok() { shown } else { quoted(&shown) }
}

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::LiningKind;
    use crate::parts_file::read;

    #[test]
    fn a_machine_written_and_read_again_is_the_same() {
        let mut other = Machine { name: "a \"cart\"\n".to_owned(), ..Machine::default() };
        other.line_with(LiningKind::Sintered);
        other.idle_kind = idle_kind("governed").expect("a kind");
        for p in PARAMETERS {
            let between = p.default + 0.01 * (p.most - p.default).min(p.default.abs());
            if p.dimension != Dimension::Ratio && (p.least..=p.most).contains(&between) {
                (p.put)(&mut other, between);
            }
        }
        other.change(|m| m.drum.radius *= 1.01);
        for machine in [Machine::default(), other] {
            let text = write(&machine);
            let again = read("again.json", &text).unwrap_or_else(|e| panic!("{e} in {text}"));
            assert_eq!(
                (&again.name, again.form, again.lining_kind),
                (&machine.name, machine.form, machine.lining_kind)
            );
            assert_eq!((&again.oil.name, again.idle_kind), (&machine.oil.name, machine.idle_kind));
            for p in PARAMETERS {
                let (is, was) = ((p.of)(&again), (p.of)(&machine));
                assert!((is - was).abs() <= 1e-12 * was.abs(), "{}: {is} was {was}", p.path);
            }
            for (is, was) in again.torque_curve.iter().zip(&machine.torque_curve) {
                assert!((is.0 - was.0).abs() <= 1e-12 * was.0 && (is.1 - was.1).abs() <= 1e-12 * was.1);
            }
            assert_eq!(again.by_hand().len(), machine.by_hand().len());
            assert_eq!(again.torque_curve.len(), machine.torque_curve.len());
        }
    }
}
