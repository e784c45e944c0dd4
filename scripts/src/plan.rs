//! The plan of a study: its title and every variant under every duty.

use crate::fleet::Size;
use crate::shop::Asked;
use rhai::FnPtr;
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
}

impl Variant {
    /// Everything that a fleet draws: the assumed constants, and what the script says instead or besides.
    pub fn uncertain(&self) -> Vec<Uncertain> {
        let own = |path: &str| self.spreads.iter().any(|u| u.path == path);
        let assumed = ASSUMED.iter().filter(|(path, _)| !own(path)).map(|(path, spread)| Uncertain {
            path: (*path).to_owned(),
            spread: *spread,
            draw: (*path).to_owned(),
        });
        assumed.chain(self.spreads.iter().cloned()).collect()
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
    /// how many clutches of each, where a fleet is asked for
    pub fleet: Option<Size>,
    /// the shop's questions
    pub questions: Vec<Asked>,
}
