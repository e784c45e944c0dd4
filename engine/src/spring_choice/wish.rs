//! The question on the choice of a spring.

use crate::laws::margin::{SEASON, VARIATION};
use crate::parts::Machine;
use crate::spread::Known;
use crate::usage::Usage;

/// A question on the choice of a spring.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine with its true idle and its load
    pub machine: Machine,
    /// its use
    pub usage: Usage,
    /// idle variation to either side, rad/s
    pub wander: f64,
    /// slope on which it must start, rise over run
    pub grade: f64,
    /// load included in the machine's mass, kg
    pub load: f64,
    /// slow speed that is held, m/s
    pub crawl: Option<f64>,
    /// time over which the springs relax, s
    pub season: f64,
    /// length of the stop-and-go to simulate, s
    pub simulated: f64,
    /// what a calibration left open of the constants that it learned, which the machine has already
    pub known: Vec<Known>,
}

impl Wish {
    /// Default question: an idle variation of 75 rpm, a start on the steepest slope of the use, 300 h of relaxation, and 40 min of
    /// stop-and-go, after which temperatures hardly rise.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        let [_, steepest] = usage.ground(&machine);
        Self {
            grade: steepest.max(0.0),
            machine,
            usage,
            wander: VARIATION,
            load: 0.0,
            crawl: None,
            season: SEASON,
            simulated: 2400.0,
            known: vec![],
        }
    }
}
