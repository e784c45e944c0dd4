//! The laws put together: one system of equations for clutch, motor, vehicle, heat and oil.

mod assembly;
mod group;
mod heat;
mod mechanics;
mod names;
mod oil;
#[cfg(test)]
mod slopes;
mod transitions;

pub use assembly::Assembly;
pub use names::*;
