//! Temperatures logged by thermocouples, and their prediction.

use super::Thermometer;
use crate::duty::Segment;
use crate::names::Channel;
use crate::parts::Machine;
use crate::simulate::{Failure, Options, Simulation, Tolerance};

/// Number of windows that the run of a log keeps.
const WINDOWS: usize = 1200;

/// Deviation of a mean over a stretch of a log about the model, K. Assumed: class 2 of type K allows ± 2.5 K.
pub const GAUGE: f64 = 1.0;
/// Deviation of a thermocouple's own offset, K. Assumed: as above, and its place on the part.
pub(crate) const LEVEL: f64 = 2.0;

/// A duty and the temperatures logged under it.
#[derive(Clone, Debug)]
pub struct Logged {
    /// file name
    pub file: String,
    /// name of the duty
    pub duty: String,
    /// its segments
    pub segments: Vec<Segment>,
    /// channels
    pub channels: Vec<Thermometer>,
}

/// Predicted temperature of each channel of a log over the run: (time s, K).
pub fn temperatures(log: &Logged, machine: Machine) -> Result<Vec<Vec<(f64, f64)>>, Failure> {
    let mut simulation =
        Simulation::new(machine, Options { windows: WINDOWS, tolerance: Tolerance::CLOSE, ..Options::default() })?;
    for segment in &log.segments {
        simulation.perform(segment)?;
    }
    let run = simulation.finish("log", &log.duty)?;
    let curve = |node: Channel| {
        run.windows.spans().zip(&run.windows.mean).map(|((a, b), row)| (f64::midpoint(a, b), node.of(row))).collect()
    };
    Ok(log.channels.iter().map(|c| curve(c.node)).collect())
}
