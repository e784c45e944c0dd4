//! The plan of a study: its title and every variant under every duty.

use crate::shop::Question;
use crate::shop::options::Given;
use rhai::{FnPtr, Position};
use serde::Serialize;
use slipsoak_engine::calibrate::Learned;
use slipsoak_engine::fleet::{Known, Uncertain, assumed};
use slipsoak_engine::parts::{Machine, Parameter, parameter, settings};

/// A machine with its name in figures.
#[derive(Clone, Debug)]
pub struct Variant {
    /// name in tables and figures
    pub name: String,
    /// the machine
    pub machine: Machine,
    /// spreads of settings defined in the script
    pub spreads: Vec<Uncertain>,
    /// constants that a calibration learned
    pub learned: Vec<Learned>,
    /// settings varied over a list, with this machine's values, SI
    pub varied: Vec<(&'static Parameter, f64)>,
    /// name of the machine whose settings were varied
    pub family: String,
}

impl Variant {
    /// Everything that a fleet samples: the assumed constants, replaced or extended by the script's spreads.
    pub fn uncertain(&self) -> Vec<Uncertain> {
        let own = |path: &str| self.spreads.iter().any(|u| u.path == path);
        let assumed =
            assumed(&self.machine).filter(|(p, _)| !own(p.path)).map(|(p, spread)| Uncertain::alone(p.path, *spread));
        assumed.chain(self.spreads.iter().cloned()).collect()
    }

    /// Forgets the spreads of some settings, and what others are correlated with them.
    pub fn forget(&mut self, settings: &[&Parameter]) {
        for p in settings {
            self.spreads.retain(|u| u.path != p.path);
            self.learned.retain(|one| one.path != p.path);
            for other in &mut self.spreads {
                other.correlated.remove(p.path);
            }
        }
    }

    /// What a calibration left open of each constant that still has the value which it learned.
    pub fn known(&self) -> Vec<Known> {
        let kept = |one: &&Learned| parameter(&one.path).is_some_and(|p| (p.of)(&self.machine) == one.value);
        self.learned.iter().filter(kept).map(Known::from).collect()
    }

    /// Spreads that the script defines itself, none learned.
    pub fn own_spreads(&self) -> impl Iterator<Item = &Uncertain> {
        self.spreads.iter().filter(|u| self.learned.iter().all(|one| one.path != u.path))
    }

    /// Whether it is the same machine with the same name.
    pub fn is(&self, other: &Self) -> bool {
        self.name == other.name && self.machine == other.machine && self.spreads == other.spreads
    }

    /// Range of the idle speed of nine motors in ten, rad/s.
    pub fn idles(&self) -> Option<(f64, f64)> {
        let idle = self.uncertain().into_iter().find(|u| u.path == settings::motor::idle.path)?;
        let at = |deviate| idle.spread.at(self.machine.motor.idle, deviate);
        Some((at(0.05), at(0.95)))
    }
}

/// A duty: a function of a ride.
#[derive(Clone, Debug)]
pub struct Duty {
    /// name in tables and figures
    pub name: String,
    /// called with the ride
    pub function: FnPtr,
    /// end time of repetition, s; the function is repeated as a block until then or until a part is worn out
    pub until: Option<f64>,
}

/// One run: a machine under a duty.
#[derive(Clone, Debug)]
pub struct Pair {
    /// the machine
    pub variant: Variant,
    /// its duty
    pub duty: Duty,
}

/// The plan of a script.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// title of the study
    pub title: String,
    /// runs in order
    pub pairs: Vec<Pair>,
    /// purpose of the runs
    pub aim: Aim,
    /// the machine that others are compared with; else the first one
    pub reference: Option<Variant>,
    /// position of that statement in the script
    pub reference_at: Position,
    /// the shop's questions
    pub requests: Vec<ShopRequest>,
}

/// Use of the machine.
#[derive(Clone, Debug)]
pub enum Use {
    /// by name
    Named(String),
    /// a duty of the script
    Duty(Duty),
}

/// A question in a script.
#[derive(Clone, Debug)]
pub struct ShopRequest {
    /// the question
    pub question: &'static Question,
    /// the machine
    pub variant: Variant,
    /// its use
    pub usage: Use,
    /// values of its options
    pub given: Given,
    /// position in the script
    pub position: Position,
}

impl ShopRequest {
    /// Name of the question for a reader.
    pub fn name(&self) -> String {
        format!("{}: {}?", self.variant.name, self.question.asks)
    }
}

/// Purpose of the runs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Aim {
    /// single runs
    #[default]
    Runs,
    /// a fleet of clutches sampled over the uncertain settings
    Fleet {
        /// number of clutches
        clutches: u64,
        /// seed of the samples
        seed: u64,
    },
    /// a sweep of settings
    Sweep,
    /// sensitivities
    Influence {
        /// rows of the design for the shares of variance; 0 changes only one variable at a time
        rows: u64,
    },
}

impl Aim {
    /// The word that requests it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Runs => "compare",
            Self::Fleet { .. } => "fleet",
            Self::Sweep => "sweep",
            Self::Influence { .. } => "matters",
        }
    }
}
