//! The model: all laws combined into one system of equations for clutch, motor, vehicle, heat and oil.

mod assembly;
mod balance;
mod bearing;
mod bounds;
#[cfg(test)]
mod closed_forms;
#[cfg(test)]
mod closed_forms_of_oil;
mod conductances;
mod grip;
mod group;
mod guards;
mod heat;
mod liquid;
mod mechanics;
#[cfg(test)]
mod mode_changes;
mod names;
mod oil;
#[cfg(test)]
mod ridden_bushing;
mod shoes;
#[cfg(test)]
mod slopes;
mod system;
mod tabulated;
mod tolerances;
mod transitions;
mod wearing;
#[cfg(test)]
mod worn_shoes;
#[cfg(test)]
mod wrong_terms;

pub use assembly::Assembly;
pub(crate) use balance::{Book, Miss, Moment, Term};
pub(crate) use bounds::{BEYOND, COARSE, MECHANICS, NOTHING, PARTS, STOPS};
pub(crate) use grip::read;
#[cfg(test)]
pub(crate) use group::Group;
pub(crate) use group::Sink;
#[cfg(test)]
pub(crate) use heat::{Band, Block, Chain, Film, Inner};
#[cfg(test)]
pub(crate) use mechanics::Mechanics;
pub use names::*;
pub(crate) use oil::{Oil, REFERENCE_SPEED, Stirring};
