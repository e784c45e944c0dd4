//! A machine read from a parts file.

use super::json_advice::advice;
use super::quantity::{self, QuantityError};
use super::similar::{maybe, nearest};
use super::slips::mended;
use super::unique_keys::Once;
use crate::parts::{
    Dimension, Form, Group, IdleKind, Invalid, LiningKind, Machine, OILS, Oil, Parameter, parameter, settings,
};
use serde_json::{Map, Value};
use std::cell::RefCell;
use thiserror::Error;

/// Reason why a machine is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum MachineError {
    /// the file is not JSON
    #[error("{file}, line {line}, column {column}: {why}")]
    Json {
        /// file
        file: String,
        /// line
        line: usize,
        /// column
        column: usize,
        /// what is wrong
        why: String,
    },
    /// a value of the wrong kind
    #[error("{file}: {path} must be {expected}, not {given}")]
    Kind {
        /// file
        file: String,
        /// JSON path
        path: String,
        /// what it must be
        expected: &'static str,
        /// as given
        given: String,
    },
    /// an unknown setting
    #[error("{file}: there is no setting `{path}`")]
    Key {
        /// file
        file: String,
        /// JSON path
        path: String,
    },
    /// an unknown part
    #[error("{file}: there is no part `{part}`; the parts are: {}", parts().join(", "))]
    Part {
        /// file
        file: String,
        /// as given
        part: String,
    },
    /// a fraction where a setting is a count
    #[error("{path} is {value}, but it counts ({meaning}): write a whole number")]
    Count {
        /// setting
        path: &'static str,
        /// as given
        value: f64,
        /// meaning of the setting
        meaning: &'static str,
    },
    /// a quantity that cannot be read
    #[error("{file}: {path}: {source}")]
    Quantity {
        /// file
        file: String,
        /// JSON path
        path: String,
        /// what is wrong
        source: QuantityError,
    },
    /// an unknown name
    #[error("{what} `{given}` is not known; choose one of: {known}{}", maybe(suggestion.as_deref()))]
    Name {
        /// kind of thing
        what: &'static str,
        /// as given
        given: String,
        /// all
        known: String,
        /// nearest known use
        suggestion: Option<String>,
    },
    /// a name of two of the known
    #[error("{what} `{given}` may be either of two: write \"{}\" or \"{}\"", of[0], of[1])]
    TwoMeanings {
        /// kind of thing
        what: &'static str,
        /// as given
        given: String,
        /// what it may be
        of: [&'static str; 2],
    },
    /// several of these
    #[error("{}", several(file, all))]
    Several {
        /// file
        file: String,
        /// each, in the order of the file's keys
        all: Vec<MachineError>,
    },
    /// an inconsistent machine
    #[error(transparent)]
    Invalid(#[from] Invalid),
}

/// Every mistake of a file on a line of its own, without the file's name.
pub fn several(file: &str, all: &[impl std::fmt::Display]) -> String {
    let each = all.iter().map(ToString::to_string);
    let file_of = [format!("{file}: "), format!("{file}, ")];
    let each = each.map(|one| file_of.iter().find_map(|file| one.strip_prefix(file)).unwrap_or(&one).to_owned());
    let lines: Vec<String> = each.collect();
    format!("{file} has {} mistakes:\n{}", all.len(), lines.join("\n"))
}

/// Keys of a parts file at its top: the parts, then what is no number.
pub fn parts() -> Vec<&'static str> {
    let mut all: Vec<&str> = Group::ALL.iter().map(|group| group.name()).collect();
    all.extend(["name", "about", "form", "oil", "lining_kind", "idle_kind"]);
    all
}

fn named<T>(what: &'static str, given: &str, known: &[&str], found: Option<T>) -> Result<T, MachineError> {
    found.ok_or_else(|| MachineError::Name {
        what,
        given: given.to_owned(),
        known: known.join(", "),
        suggestion: nearest(given, known.iter().copied()),
    })
}

/// The oil with that name.
pub fn oil(given: &str) -> Result<Oil, MachineError> {
    let [known, wrong] = Oil::names();
    // "SAE30" and "sae-30" are the same oil.
    let plain = |name: &str| name.replace([' ', '-'], "").to_lowercase();
    let same = OILS.iter().find(|oil| plain(oil.0) == plain(given));
    same.and_then(|oil| Oil::named(oil.0)).ok_or_else(|| MachineError::Name {
        what: "the oil",
        given: given.to_owned(),
        known: format!("{}; never use one {}, which are modelled only to show why", known.join(", "), wrong.join(", ")),
        suggestion: nearest(given, known.iter().copied()),
    })
}

/// The one of these with that name.
fn chosen<T: Copy>(what: &'static str, given: &str, all: &[(&str, T)]) -> Result<T, MachineError> {
    let known: Vec<&str> = all.iter().map(|one| one.0).collect();
    named(what, given, &known, all.iter().find(|one| one.0 == given).map(|one| one.1))
}

/// The forms with their names.
pub const FORMS: [(&str, Form); 4] =
    [("floating", Form::Floating), ("leading", Form::Leading), ("trailing", Form::Trailing), ("wedge", Form::Wedge)];

/// Other names of the kinds of lining.
const LINING_NAMES: [(&str, LiningKind); 5] = [
    ("molded", LiningKind::Moulded),
    ("sintered metal", LiningKind::Sintered),
    ("sintered bronze", LiningKind::Sintered),
    ("bare", LiningKind::BareMetal),
    ("no lining", LiningKind::BareMetal),
];

/// The form with that name.
pub fn form(given: &str) -> Result<Form, MachineError> {
    chosen("the form", given, &FORMS)
}

/// The kind of lining with that name.
pub fn lining(given: &str) -> Result<LiningKind, MachineError> {
    let lower = given.trim().to_lowercase();
    if lower == "organic" {
        return Err(MachineError::TwoMeanings {
            what: "the lining",
            given: given.to_owned(),
            of: ["woven", "moulded"],
        });
    }
    let kind = LINING_NAMES.iter().find(|name| name.0 == lower).map_or(lower.as_str(), |name| name.1.name());
    named("the lining", given, &LiningKind::ALL.map(LiningKind::name), LiningKind::named(kind))
}

/// The kind of idle with that name.
pub fn idle_kind(given: &str) -> Result<IdleKind, MachineError> {
    named(
        "the kind of idle",
        given,
        &["throttle stop", "governed"],
        IdleKind::named(given).filter(|i| *i != IdleKind::Unstated),
    )
}

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
        quantity::read_near(&text, dimension, usual).map_err(|source| MachineError::Quantity {
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
