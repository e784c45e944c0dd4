//! The physics of slip heat, oil and wear in a small dry centrifugal clutch.
//!
//! Data flow: [`parts`] say what the machine is, [`duty`] what it is put through, [`laws`] what happens, [`model`] puts the
//! laws together as one system of equations, [`integrate`] steps it, [`simulate`] runs a duty and leaves a [`record`].
//! SI units throughout; conversions belong to the edge.

pub mod calibrate;
pub mod choice;
pub mod duty;
pub mod failed;
pub mod fit;
pub mod fleet;
pub mod horizon;
pub mod influence;
pub mod integrate;
pub mod laws;
pub mod life;
pub mod model;
pub mod names;
pub mod oiling;
pub mod origin;
pub mod parts;
pub mod real;
pub mod record;
pub mod retraced;
pub mod rides;
pub mod say;
pub mod simulate;
pub mod statistics;
pub mod sweep;
pub mod units;
pub mod usage;
