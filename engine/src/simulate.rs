//! Runs a duty segment by segment and leaves a record.

use crate::duty::Segment;
use crate::parts::{Invalid, Machine};
use crate::record::{Channel, Run};
use thiserror::Error;

/// How a run is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Options {
    /// most windows kept; they are joined in pairs when there are more
    pub windows: usize,
    /// relative tolerance scale of the integrator; 1 is the default
    pub tolerance: f64,
}

impl Default for Options {
    fn default() -> Self {
        Self { windows: 1200, tolerance: 1.0 }
    }
}

/// Why a run cannot go on.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Failure {
    /// the machine is not one
    #[error(transparent)]
    Invalid(#[from] Invalid),
}

/// One machine under way.
pub struct Simulation {}

impl Simulation {
    /// A new machine at ambient temperature, full of oil, motor off, held.
    pub fn new(_machine: Machine, _options: Options) -> Result<Self, Failure> {
        todo!()
    }
    /// Performs one entry of a duty.
    pub fn perform(&mut self, _segment: &Segment) -> Result<(), Failure> {
        todo!()
    }
    /// Time since the start, s.
    pub fn clock(&self) -> f64 {
        todo!()
    }
    /// The present value of a channel by its name, SI.
    pub fn reading(&self, _channel: &str) -> Option<f64> {
        todo!()
    }
    /// The machine as it is now (settings that services changed).
    pub fn machine(&self) -> &Machine {
        todo!()
    }
    /// Checks the ledgers and gives the record of the run.
    pub fn finish(self, _variant: &str, _duty: &str) -> Result<Run, Failure> {
        todo!()
    }
}

/// The channels of every run.
pub fn channels() -> Vec<Channel> {
    const ROWS: &[(&str, &str, &str)] = &[
        ("motor speed", "rad/s", "speed of motor, carrier and shoes"),
        ("drum speed", "rad/s", "speed of drum and sprocket"),
        ("vehicle speed", "m/s", "speed over ground"),
        ("throttle", "1", "throttle opening after its linkage"),
        ("clutch torque", "N·m", "torque through the clutch, + drives the drum"),
        ("slip power", "W", "heat of the slipping lining"),
        ("lining surface", "K", "rubbed face of the lining"),
        ("drum face", "K", "innermost cell of the drum's wall"),
        ("band", "K", "outermost cell of the drum's wall"),
        ("web", "K", "web of the drum"),
        ("sprocket", "K", "sprocket and drum hub"),
        ("bushing", "K", "bronze bushing"),
        ("washer", "K", "fibre washer"),
        ("shoes", "K", "shoes and springs"),
        ("carrier", "K", "carrier"),
        ("shaft", "K", "shaft's stub"),
        ("block", "K", "motor block"),
        ("oil fill", "1", "oil in the pores over a full bushing, by mass at 20 °C"),
        ("film", "kg", "oil in the clearance and standing on the faces"),
        ("oil on lining", "kg", "oil on the lining"),
        ("washer oil", "kg", "oil in the washer"),
        ("oxidation", "1", "oxidised share of the oil's life"),
        ("lining wear", "m", "thickness lost by the lining"),
        ("bushing wear", "m", "growth of the bushing's bore"),
        ("washer wear", "m", "thickness lost by the washer"),
        ("relaxation", "1", "share of spring preload lost"),
        ("engagement", "rad/s", "engagement speed as the machine is now, hot and worn"),
    ];
    ROWS.iter()
        .map(|&(name, unit, meaning)| Channel { name: name.into(), unit: unit.into(), meaning: meaning.into() })
        .collect()
}
