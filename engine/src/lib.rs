//! The physics of slip heat, oil and wear in a small dry centrifugal clutch.
//!
//! SI units throughout; conversions belong to the edge. The modules, in the order of the data:
//!
//! - [`units`] and [`say`]: SI values of units; lives, speeds and temperatures as text
//! - [`names`]: names of channels, events, tasks, parts, ledgers and their entries
//! - [`parts`]: a machine and its settings
//! - [`duty`] and [`usage`]: what a machine is put through, and the standard uses
//! - [`laws`]: pure functions, generic over [`real`]
//! - [`integrate`] and [`horizon`]: the stepper, and repeated blocks skipped; both know nothing of clutches
//! - [`simulate`]: a duty run to a [`record`]; [`life`]: what wears, and how it is renewed and measured
//! - [`document`]: results as they are saved ([`record`], [`sweep`], [`sensitivity`], [`retraced`], with [`failed`] runs and
//!   [`finding`]s)
//! - [`fleet`] and [`statistics`]: clutches that differ, and what a sample of lives says of all
//! - [`studies`]: fleets, sweeps and sensitivities run; [`sheet`]: what follows from a machine's numbers
//! - [`calibrate`] and [`rides`]: constants learned from measurements; recorded rides cleaned
//! - [`choice`], [`fit`] and [`oiling`]: the shop's questions
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
pub mod fit;
pub mod fleet;
pub mod horizon;
pub mod integrate;
pub mod laws;
pub mod life;
mod model;
pub mod names;
mod observe;
pub mod oiling;
pub mod parts;
pub mod real;
pub mod rides;
pub mod sheet;
pub mod simulate;
mod spread;
pub mod statistics;
pub mod studies;
pub mod units;
pub mod usage;

pub use document::{failed, finding, record, retraced, sensitivity, sweep};
