//! A machine read from a parts file.

use super::choices::{form, idle_kind, lining, oil};
use super::json_advice::advice;
use super::machine_error::{MachineError, parts};
use super::quantity::read_near;
use super::slips::mended;
use super::unique_keys::Once;
use crate::parts::{Dimension, Invalid, Machine, Parameter, parameter, settings};
use serde_json::{Map, Value};
use std::cell::RefCell;

/// Refuses a fraction for a setting that is a count.
fn counted(p: &Parameter, value: f64) -> Result<(), MachineError> {
    let counts = [&settings::clutch::shoes, &settings::drum::teeth].contains(&p);
    if counts && value.fract() != 0.0 {
        return Err(MachineError::Count { path: p.path, value, meaning: p.meaning });
    }
    Ok(())
}

/// Sets one number of a machine, SI.
pub fn set(machine: &mut Machine, p: &'static Parameter, value: f64) -> Result<(), MachineError> {
    counted(p, value)?;
    machine.change(|m| (p.put)(m, value));
    if (p.least..=p.most).contains(&value) { Ok(()) } else { Err(Invalid::Range { setting: p, value }.into()) }
}

/// Reads a machine from the text of a parts file; `file` is its name for messages. Settings missing from the file keep
/// their defaults.
///
/// ```
/// use slipsoak_engine::parts_file::read;
/// let cart = read("cart.json", r#"{"name": "cart", "vehicle": {"mass": "160 kg", "wheel_radius": "7 in"}}"#).unwrap();
/// assert_eq!((cart.name.as_str(), cart.vehicle.mass), ("cart", 160.0));
/// let refused = read("cart.json", r#"{"vehicle": {"mass": "160 km"}}"#).unwrap_err();
/// assert!(refused.to_string().starts_with("cart.json: vehicle.mass: `km` is no unit of this quantity"));
/// ```
pub fn read(file: &str, text: &str) -> Result<Machine, MachineError> {
    match serde_json::from_str(text) {
        Ok(Once(value)) => of(file, &value),
        Err(e) => Err(unread(file, text, &e)),
    }
}

/// What is wrong with a text that is not JSON: if it is understood but for its slips, those and whatever else is wrong.
fn unread(file: &str, text: &str, error: &serde_json::Error) -> MachineError {
    let json = |line, column, why| MachineError::Json { file: file.to_owned(), line, column, why };
    let first = json(error.line(), error.column(), advice(error, text));
    let (meant, slips) = mended(text);
    let Ok(Once(value)) = serde_json::from_str(&meant) else { return first };
    let further = match of(file, &value) {
        Ok(_) => vec![],
        Err(MachineError::Several { all, .. }) => all,
        Err(one) => vec![one],
    };
    if slips.len() + further.len() < 2 {
        return first;
    }
    let slips = slips.into_iter().map(|slip| json(slip.line, slip.column, slip.why.to_owned()));
    MachineError::Several { file: file.to_owned(), all: slips.chain(further).collect() }
}

/// The machine that a file's JSON describes.
fn of(file: &str, value: &Value) -> Result<Machine, MachineError> {
    let reader = Reader { file, wrong: RefCell::default() };
    let top = reader.object("the file", value)?;
    let mut machine = Machine { name: file.trim_end_matches(".json").to_owned(), ..Machine::default() };
    // The lining's kind sets a row of numbers, which the file may then override; a shoe's mass is given with its lining.
    if let Some(kind) = top.get("lining_kind") {
        let kind = reader.text("lining_kind", kind).and_then(lining);
        let _ = reader.keep(kind).map(|kind| machine.line_with(kind));
    }
    let (plain, set) = (Machine::default(), machine.lining.density);
    machine.change(|machine| {
        for (key, value) in top {
            reader.keep(reader.entry(machine, key, value));
        }
        // A shoe without a mass of its own is the default one with the lining of this size and kind.
        if top.get("clutch").and_then(|clutch| clutch.get("shoe_mass")).is_none() {
            let heavier = (set - plain.lining.density) * machine.lining_volume() / machine.clutch.shoes;
            machine.clutch.shoe_mass = plain.clutch.shoe_mass + heavier;
        }
    });
    let given = |p: &Parameter| {
        let (part, key) = p.path.split_once('.').unwrap_or_default();
        top.get(part).and_then(|part| part.get(key)).is_some()
    };
    // A list of all settings, as `slipsoak part` prints it, of which the kind alone was changed.
    if let Some((other, held)) = machine.lined_as_another(given) {
        let held = held.iter().map(|p| p.path).collect();
        let kind = machine.lining_kind;
        reader.wrong.borrow_mut().push(MachineError::Lining { file: file.to_owned(), kind, other, held });
    }
    let mut all = reader.wrong.into_inner();
    match all.len() {
        0 => machine.check()?,
        1 => return Err(all.remove(0)),
        _ => return Err(MachineError::Several { file: file.to_owned(), all }),
    }
    Ok(machine)
}

/// A value as quoted in a message, limited in length.
fn quoted(value: &Value) -> String {
    let text = value.to_string();
    if text.chars().count() <= 80 { text } else { text.chars().take(80).chain("…".chars()).collect() }
}

struct Reader<'a> {
    file: &'a str,
    /// what is wrong so far
    wrong: RefCell<Vec<MachineError>>,
}

impl Reader<'_> {
    fn kind(&self, path: &str, expected: &'static str, given: &Value) -> MachineError {
        MachineError::Kind { file: self.file.to_owned(), path: path.to_owned(), expected, given: quoted(given) }
    }

    fn object<'v>(&self, path: &str, value: &'v Value) -> Result<&'v Map<String, Value>, MachineError> {
        value.as_object().ok_or_else(|| self.kind(path, "an object in braces", value))
    }

    fn text<'v>(&self, path: &str, value: &'v Value) -> Result<&'v str, MachineError> {
        value.as_str().ok_or_else(|| self.kind(path, "a text in quotes", value))
    }

    /// The value; what is wrong is kept, so that a message can name all of it.
    fn keep<T>(&self, read: Result<T, MachineError>) -> Option<T> {
        read.map_err(|wrong| self.wrong.borrow_mut().push(wrong)).ok()
    }

    fn entry(&self, machine: &mut Machine, key: &str, value: &Value) -> Result<(), MachineError> {
        match key {
            "lining_kind" | "about" => {
                self.text(key, value)?;
            }
            "name" => self.text(key, value)?.clone_into(&mut machine.name),
            "form" => machine.form = form(self.text(key, value)?)?,
            "idle_kind" => machine.idle_kind = idle_kind(self.text(key, value)?)?,
            "oil" => machine.oil = oil(self.text(key, value)?)?,
            part => self.part(machine, part, value)?,
        }
        Ok(())
    }

    fn part(&self, machine: &mut Machine, part: &str, value: &Value) -> Result<(), MachineError> {
        if !parts().contains(&part) {
            return Err(MachineError::Part { file: self.file.to_owned(), part: part.to_owned() });
        }
        for (key, value) in self.object(part, value)? {
            let path = format!("{part}.{key}");
            let read = if path == "motor.torque" {
                self.curve(value).map(|curve| machine.torque_curve = curve)
            } else {
                self.setting(machine, path, value)
            };
            self.keep(read);
        }
        Ok(())
    }

    fn setting(&self, machine: &mut Machine, path: String, value: &Value) -> Result<(), MachineError> {
        let Some(p) = parameter(&path) else { return Err(MachineError::Key { file: self.file.to_owned(), path }) };
        let value = self.quantity(&path, value, (p.dimension, Some((p.of)(&Machine::default()))))?;
        counted(p, value)?;
        if !(p.least..=p.most).contains(&value) {
            return Err(Invalid::Range { setting: p, value }.into());
        }
        (p.put)(machine, value);
        Ok(())
    }

    /// A quantity of that dimension, with its usual value for examples.
    fn quantity(
        &self,
        path: &str,
        value: &Value,
        (dimension, usual): (Dimension, Option<f64>),
    ) -> Result<f64, MachineError> {
        let text = match value {
            Value::String(text) => text.clone(),
            Value::Number(number) => number.to_string(),
            other => return Err(self.kind(path, "a quantity such as \"2 mm\"", other)),
        };
        read_near(&text, dimension, usual).map_err(|source| MachineError::Quantity {
            file: self.file.to_owned(),
            path: path.to_owned(),
            source,
        })
    }

    fn curve(&self, value: &Value) -> Result<Vec<(f64, f64)>, MachineError> {
        const EXPECTED: &str = "a list of pairs such as [\"1800 rpm\", \"10.7 N*m\"]";
        let list = value.as_array().ok_or_else(|| self.kind("motor.torque", EXPECTED, value))?;
        let point = |(i, pair): (usize, &Value)| {
            let path = format!("motor.torque[{i}]");
            let Some([speed, torque]) = pair.as_array().map(Vec::as_slice) else {
                return Err(self.kind(&path, EXPECTED, pair));
            };
            let speed = self.keep(self.quantity(&path, speed, (Dimension::AngularSpeed, None)));
            let torque = self.keep(self.quantity(&path, torque, (Dimension::Torque, None)));
            Ok(speed.zip(torque))
        };
        let points = list.iter().enumerate().filter_map(|point_of| self.keep(point(point_of)).flatten());
        Ok(points.collect())
    }
}
