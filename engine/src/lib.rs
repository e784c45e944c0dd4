//! The physics of slip heat, oil and wear in a small dry centrifugal clutch.
//!
//! Data flow: [`parts`] specify the machine, [`duty`] its load, [`laws`] are the physics, [`model`] combines the laws
//! into one system of equations, [`integrate`] steps it, [`simulate`] runs a duty and returns a [`record`]. [`studies`]
//! run fleets and sweeps, [`calibrate`] learns constants from measurements. SI units throughout; conversions are made
//! at the edge ([`units`]).
//!
//! One launch from standstill (`engine/examples` holds this, a fleet and a calibration):
//! ```
//! use slipsoak_engine::duty::{End, Segment, Task};
//! use slipsoak_engine::names::Channel;
//! use slipsoak_engine::parts::Machine;
//! use slipsoak_engine::simulate::{Options, Simulation};
//! use slipsoak_engine::units::{celsius, km_h, rpm};
//!
//! # fn main() -> Result<(), slipsoak_engine::simulate::Failure> {
//! let mut machine = Machine::default();
//! machine.clutch.engagement = rpm(2100.0);
//! let mut simulation = Simulation::new(machine, Options::default())?;
//! simulation.perform(&Segment::Ride(Task::Idle, End::After(5.0)))?;
//! simulation.perform(&Segment::Ride(Task::Throttle(1.0), End::Reached { speed: km_h(20.0), within: 60.0 }))?;
//! let run = simulation.finish("2100 rpm", "one launch")?;
//! assert!(Channel::LiningSurface.of(&run.overall.most) < celsius(250.0), "one launch overheats no lining");
//! # Ok(())
//! # }
//! ```

pub mod calibrate;
pub mod choice;
pub mod document;
pub mod duty;
pub mod finding;
pub mod fit;
pub mod fleet;
pub mod horizon;
pub mod integrate;
pub mod laws;
pub mod life;
pub mod model;
pub mod names;
mod observe;
pub mod oiling;
pub mod parts;
pub mod real;
pub mod rides;
pub mod say;
pub mod sheet;
pub mod simulate;
mod spread;
pub mod statistics;
pub mod studies;
pub mod units;
pub mod usage;

pub use document::{failed, record, retraced, sensitivity, sweep};
