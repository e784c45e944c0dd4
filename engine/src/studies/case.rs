//! One machine under a repeated block of segments.

use crate::document::fleet::Outcome;
use crate::document::record::Run;
use crate::duty::Segment;
use crate::horizon::Skipping;
use crate::parts::Machine;
use crate::simulate::{Failure, Options, Simulation, Until};
use crate::spread::{Uncertain, assumed, sample};

/// A machine, a block, and the time up to which the block is repeated.
#[derive(Clone, Debug)]
pub struct Case {
    /// the machine with nominal settings
    pub machine: Machine,
    /// settings that differ from clutch to clutch
    pub uncertain: Vec<Uncertain>,
    /// name of the duty
    pub duty: String,
    /// its segments
    pub block: Vec<Segment>,
    /// time up to which the block is repeated, s
    pub until: f64,
    /// tolerance of skipping
    pub skipping: Skipping,
}

impl Case {
    /// A case with the assumed spreads of every uncertain setting.
    pub fn new(machine: Machine, duty: &str, block: Vec<Segment>, until: f64) -> Self {
        let uncertain = assumed(&machine).map(|(p, spread)| Uncertain::alone(p.path, *spread)).collect();
        Self { machine, uncertain, duty: duty.to_owned(), block, until, skipping: Skipping::default() }
    }

    /// The life of a machine under the block, until its first part other than the oil reaches its limit or the time is
    /// over. `windows`: largest number of windows recorded, 0 for none.
    pub fn life(&self, machine: Machine, windows: usize) -> Result<Run, Failure> {
        let name = machine.name.clone();
        let options = Options { windows, ..Options::default() };
        let mut simulation = Simulation::new(machine, options)?;
        let until = Until { time: self.until, skipping: self.skipping };
        simulation.live(&self.block, until).map_err(|(_, failure)| failure)?;
        simulation.finish(&name, &self.duty)
    }

    /// The outcome of one clutch, sampled from the seed and its number alone.
    pub fn clutch(&self, seed: u64, clutch: u64) -> Result<Outcome, Failure> {
        let machine = sample(&self.machine, &self.uncertain, seed, clutch);
        Ok(Outcome::of_run(clutch, &self.life(machine, 0)?, self.until))
    }
}
