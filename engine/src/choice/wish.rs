//! What is asked of springs.

use crate::document::Head;
use crate::laws::margin::{SEASON, VARIATION};
use crate::parts::Machine;
use crate::usage::Usage;

/// What is asked of a spring.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine with its true idle and its load
    pub machine: Machine,
    /// the use that it is put to
    pub usage: Usage,
    /// how far the idle wanders to either side, rad/s
    pub wander: f64,
    /// slope on which it must start, rise over run
    pub grade: f64,
    /// load that the machine's mass has in it besides its own, kg
    pub load: f64,
    /// slow speed that is held, m/s
    pub crawl: Option<f64>,
    /// time over which the springs relax, s
    pub season: f64,
    /// length of the stop-and-go to simulate, s
    pub simulated: f64,
    /// who asks
    pub head: Head,
}

impl Wish {
    /// What a shop asks where it says no more: an idle that wanders by 75 rpm, level ground, 300 h of relaxation, and 40 min
    /// of stop-and-go, after which temperatures hardly rise.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        Self {
            machine,
            usage,
            wander: VARIATION,
            grade: 0.0,
            load: 0.0,
            crawl: None,
            season: SEASON,
            simulated: 2400.0,
            head: Head::default(),
        }
    }
}
