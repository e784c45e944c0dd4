//! The physics of heat, oil and wear in a small dry centrifugal clutch.
//!
//! SI units throughout; conversions belong to the edge. The modules, in the order of the data:
//!
//! - [`units`]: SI values of units
//! - [`names`]: names of channels, events, tasks, parts, ledgers and their entries
//! - [`parts`] and [`parts_file`]: a machine and its settings; machines read from JSON with units
//! - [`duty`] and [`usage`]: tasks, services and end conditions, and the standard uses
//! - [`laws`]: pure functions, generic over [`numerics::Real`]
//! - [`simulate`]: simulation of a duty to a [`record`]
//! - [`numerics`]: the stepper, skipping of repeated blocks and numbers with slopes, none of which knows of clutches
//! - [`document`]: results as they are saved ([`record`], [`sweep`], [`sensitivity`], [`retraced`], with [`failed`] runs and
//!   [`finding`]s)
//! - [`fleet`] and [`statistics`]: fleets of sampled clutches, and statistics of lives
//! - [`studies`]: runs of fleets, sweeps and sensitivities; [`sheet`]: properties derived from a machine's settings
//! - [`calibrate`] and [`rides`]: constants learned from measurements; cleaning of recorded rides
//! - [`spring_choice`], [`stack_up`], [`oil_plan`], [`season`] and [`measure_plan`]: the shop's questions; [`calendar`]: its days
//!
//! One launch from standstill (`engine/examples` holds this, a fleet and a calibration):
//! ```
//! use slipsoak_engine::duty::{End, Segment, Task};
//! use slipsoak_engine::names::Channel;
//! use slipsoak_engine::parts::Machine;
//! use slipsoak_engine::simulate::{Options, Simulation};
//! use slipsoak_engine::units::{KM_H, celsius, rpm};
//!
//! # fn main() -> Result<(), slipsoak_engine::simulate::Failure> {
//! let mut machine = Machine::default();
//! machine.clutch.engagement = rpm(2100.0);
//! let mut simulation = Simulation::new(machine, Options::default())?;
//! simulation.perform(&Segment::Ride(Task::Idle, End::After(5.0)))?;
//! simulation.perform(&Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 20.0 * KM_H, within: 60.0 }))?;
//! let run = simulation.finish("2100 rpm", "one launch")?;
//! assert!(Channel::LiningSurface.of(&run.overall.most) < celsius(250.0), "one launch overheats no lining");
//! # Ok(())
//! # }
//! ```

pub mod calendar;
pub mod calibrate;
mod curve;
mod dimension;
pub mod document;
pub mod duty;
mod elementary;
pub mod fleet;
pub mod hill_start;
mod horizon;
mod integrate;
pub mod laws;
mod life;
pub mod measure_plan;
mod model;
pub mod names;
pub mod numerics;
mod observe;
pub mod oil_plan;
mod parallel;
pub mod parts;
pub mod parts_file;
mod real;
pub mod rides;
pub mod season;
pub mod sheet;
pub mod simulate;
mod spread;
pub mod spring_choice;
pub mod stack_up;
pub mod statistics;
pub mod studies;
pub mod units;
pub mod usage;

pub use document::{failed, fault, finding, record, retraced, sensitivity, sweep};
