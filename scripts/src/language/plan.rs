//! The plan of a study: its title and every variant under every duty.

use crate::language::questions::Asked;
use rhai::{FnPtr, Position};
use serde::{Deserialize, Serialize};
use slipsoak_engine::fleet::{ASSUMED, Uncertain};
use slipsoak_engine::parts::Machine;

/// A machine with the name that figures give it.
#[derive(Clone, Debug)]
pub struct Variant {
    /// name in tables and figures
    pub name: String,
    /// the machine
    pub machine: Machine,
    /// what the script says of how its settings are spread
    pub spreads: Vec<Uncertain>,
    /// settings varied over a list, with this one's values, SI
    pub varied: Vec<(&'static str, f64)>,
    /// name of the machine whose settings were varied
    pub family: String,
}

impl Variant {
    /// Everything that a fleet draws: the assumed constants, and what the script says instead or besides.
    pub fn uncertain(&self) -> Vec<Uncertain> {
        let own = |path: &str| self.spreads.iter().any(|u| u.path == path);
        let assumed =
            ASSUMED.iter().filter(|(path, _)| !own(path)).map(|(path, spread)| Uncertain::alone(path, *spread));
        assumed.chain(self.spreads.iter().cloned()).collect()
    }

    /// Whether it is the same machine by the same name.
    pub fn is(&self, other: &Self) -> bool {
        self.name == other.name && self.machine == other.machine && self.spreads == other.spreads
    }

    /// Least and greatest idle of nine motors in ten, rad/s.
    pub fn idles(&self) -> Option<(f64, f64)> {
        let idle = self.uncertain().into_iter().find(|u| u.path == "motor.idle")?;
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
    /// repeats the function as a block until this time, s, or until a part is worn out
    pub until: Option<f64>,
}

/// One run to make.
#[derive(Clone, Debug)]
pub struct Pair {
    /// the machine compared
    pub variant: Variant,
    /// what it is put through
    pub duty: Duty,
}

/// What a script asks for.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// what the study asks
    pub title: String,
    /// runs in order
    pub pairs: Vec<Pair>,
    /// what the runs are for
    pub aim: Aim,
    /// the machine that others are held against; else the first compared
    pub reference: Option<Variant>,
    /// where the script says so
    pub reference_at: Position,
    /// the shop's questions
    pub questions: Vec<Asked>,
}

/// What runs are for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Aim {
    /// each for its own sake
    #[default]
    Runs,
    /// many clutches that differ in what is uncertain
    Fleet {
        /// clutches
        clutches: u64,
        /// of every draw
        seed: u64,
    },
    /// settings crossed
    Sweep,
    /// what matters most
    Influence {
        /// rows of the design behind the shares of variance; 0 moves one draw at a time only
        rows: u64,
    },
}

impl Aim {
    /// The word that asks for it.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Runs => "compare",
            Self::Fleet { .. } => "fleet",
            Self::Sweep => "sweep",
            Self::Influence { .. } => "matters",
        }
    }
}
