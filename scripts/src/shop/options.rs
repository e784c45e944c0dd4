//! Options of the shop's questions: each is one row, for the command line and for scripts.

use crate::read::calibration::{apply, spreads};
use crate::read::refusal::Refusal;
use crate::read::stock::shipped;
use slipsoak_engine::calibrate::{Calibration, Learned};
use slipsoak_engine::fleet::{Known, Uncertain};
use slipsoak_engine::parts::{Dimension as D, Machine, Parameter};
use slipsoak_engine::spring_choice::Spring;
use slipsoak_engine::units::RPM;
use std::collections::{BTreeMap, BTreeSet};

/// One option.
#[derive(Clone, Copy, Debug)]
pub struct ShopOption {
    /// its name: `--name` on the command line; in a script dashes are low lines
    pub name: &'static str,
    /// how it is given
    pub form: Form,
    /// least and greatest value, SI
    pub range: (f64, f64),
    /// kind of quantity
    pub dimension: D,
    /// usual value, as an example in messages
    pub usual: &'static str,
    /// name of its value in help
    pub value: &'static str,
    /// its help on the command line
    pub help: &'static str,
}

/// How an option is given.
#[derive(Clone, Copy, Debug)]
pub enum Form {
    /// as a quantity
    Quantity,
    /// as a quantity; on the command line also by another name
    Also(&'static str),
    /// as a quantity, and only together with another option
    Together(&'static str),
    /// as a number of drops, or as their volume
    Drops,
    /// as a whole number; the greatest on the command line, where numbers are not rounded
    Count(u64),
    /// as a quantity; on the command line with its tolerance, which is an option of this name in scripts
    Size(&'static str),
    /// as that tolerance, in scripts alone
    Tolerance,
    /// as one of these words
    OneOf(&'static [&'static str]),
    /// as a size with its tolerance, on the command line alone: these settings of the machine
    Settings(&'static Parameter, &'static Parameter),
    /// as the name of a use, on the command line alone: in scripts it stands before the options
    Use,
    /// as a file with a stock of springs
    Stock,
    /// as a calibration file
    Learned,
    /// by its name alone, in scripts as true or false
    Switch,
    /// as hours of a day: a quantity, on the command line also a bare number of hours
    Hours,
    /// as text, read by its question
    Text,
    /// as springs by their engagement speeds, on the command line alone
    Springs,
    /// as what changes the machine, on the command line alone: scripts have words for it
    Machine(fn(&mut Machine, &str) -> Result<(), Refusal>),
}

impl Form {
    /// Whether scripts give it.
    pub fn in_scripts(self) -> bool {
        !matches!(self, Self::Settings(..) | Self::Use | Self::Springs | Self::Machine(_))
    }
}

/// Least and greatest tolerance of a size, m.
pub(crate) const TOLERANCE: (f64, f64) = (0.0, 5e-3);

/// The use, for every question.
pub(crate) const USE: ShopOption =
    ShopOption { usual: "moderate", ..named("use", Form::Use, "NAME").help("what it is used for") };

/// The idle's variation, for the questions that judge springs by it.
pub(crate) const WANDER: ShopOption = quantity("wander", (0.0, 500.0 * RPM), D::AngularSpeed, "75 rpm")
    .help("idle variation to either side, such as 150 rpm for motors set to that tolerance [default: 75 rpm]");

/// What was learned, for the questions whose ranges go by uncertain constants.
pub(crate) const LEARNED: ShopOption = named("learned", Form::Learned, "FILE")
    .help("what `slipsoak calibrate` learned, a calibration.json: its constants in place of those assumed");

/// An option that is a quantity; its dimension names its value.
pub(crate) const fn quantity(name: &'static str, range: (f64, f64), dimension: D, usual: &'static str) -> ShopOption {
    let value = match dimension {
        D::AngularSpeed | D::Speed => "SPEED",
        D::Mass => "MASS",
        D::Time => "TIME",
        D::Volume => "VOLUME",
        _ => "SHARE",
    };
    ShopOption { name, form: Form::Quantity, range, dimension, usual, value, help: "" }
}

/// An option that is no quantity.
pub(crate) const fn named(name: &'static str, form: Form, value: &'static str) -> ShopOption {
    quantity(name, (0.0, 0.0), D::Ratio, "").form(form, value)
}

impl ShopOption {
    /// Its name in a script.
    pub(crate) fn script_name(&self) -> String {
        self.name.replace('-', "_")
    }

    /// The option given in that form, with the name of its value in help.
    pub(crate) const fn form(self, form: Form, value: &'static str) -> Self {
        Self { form, value, ..self }
    }

    /// The option with its help.
    pub(crate) const fn help(self, help: &'static str) -> Self {
        Self { help, ..self }
    }
}

/// What is given to a question.
#[derive(Clone, Debug, Default)]
pub struct Given {
    /// quantities by the names of their options, SI
    pub quantities: BTreeMap<&'static str, f64>,
    /// texts
    pub texts: BTreeMap<&'static str, String>,
    /// whole numbers
    pub counts: BTreeMap<&'static str, u64>,
    /// words
    pub words: BTreeMap<&'static str, String>,
    /// the springs to choose from
    pub springs: Vec<Spring>,
    /// constants that a calibration learned, which the machine has already
    pub learned: Vec<Learned>,
    /// spreads of settings in place of those assumed
    pub spreads: Vec<Uncertain>,
    /// switches that are on
    pub switches: BTreeSet<&'static str>,
}

impl Given {
    /// Nothing but the shipped springs, where springs are chosen.
    pub(crate) fn nothing(options: &[ShopOption]) -> Result<Self, Refusal> {
        let chosen = options.iter().any(|option| matches!(option.form, Form::Stock));
        Ok(Self { springs: if chosen { shipped()? } else { vec![] }, ..Self::default() })
    }

    /// Takes what a calibration learned of a machine.
    pub(crate) fn learn(&mut self, machine: &mut Machine, calibration: &Calibration) {
        apply(machine, calibration);
        (self.learned, self.spreads) = (calibration.constants.clone(), spreads(calibration, &[]));
    }

    /// What the calibration left open of each constant for a new clutch.
    pub(crate) fn known(&self) -> Vec<Known> {
        self.learned.iter().map(Known::from).collect()
    }

    /// Forgets what was learned of these settings.
    pub(crate) fn forget(&mut self, settings: &[&Parameter]) {
        let other = |path: &str| settings.iter().all(|p| p.path != path);
        self.learned.retain(|one| other(&one.path));
        self.spreads.retain(|one| other(&one.path));
        for one in &mut self.spreads {
            one.correlated.retain(|path, _| other(path));
        }
    }

    /// A quantity, if given, SI.
    pub(crate) fn quantity(&self, name: &str) -> Option<f64> {
        self.quantities.get(name).copied()
    }

    /// A text, if given.
    pub(crate) fn text(&self, name: &str) -> Option<&str> {
        self.texts.get(name).map(String::as_str)
    }

    /// Replaces a value if the option is given.
    pub(crate) fn set(&self, name: &str, value: &mut f64) {
        *value = self.quantity(name).unwrap_or(*value);
    }

    /// Replaces a whole number if the option is given.
    pub(crate) fn set_count(&self, name: &str, value: &mut u64) {
        *value = self.counts.get(name).copied().unwrap_or(*value);
    }
}
