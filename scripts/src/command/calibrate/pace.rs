//! How far a calibration has come: machines tried, of as many as it usually takes.

use crate::command::arguments;
use crate::command::terminal::Progress;
use slipsoak_engine::calibrate::Problem;
use std::sync::atomic::{AtomicU64, Ordering};

/// Steps that a search usually takes, and more of them for each constant (on the shipped data 5 for one, 15 for five).
const STEPS: u64 = 4;
const STEPS_MORE: u64 = 2;

/// Machines tried by the stages of a calibration. How many the searches take is known when they end: where it is more than
/// usual the whole grows with them.
pub(crate) struct Pace {
    bar: Progress,
    end: AtomicU64,
    constants: u64,
    fitting: u64,
}

impl Pace {
    /// Nothing is done yet.
    pub fn of(problem: &Problem, asked: &arguments::Calibrate) -> Self {
        let bar = Progress::of("machines tried", false);
        let constants = problem.sought.len() as u64;
        let steps = STEPS + STEPS_MORE * problem.constants().len() as u64;
        // Slopes are taken before the searches, after them, and once more for what clutches differ by.
        let fitting = 6 * constants + asked.searches * steps * (1 + 2 * constants);
        let pace = Self { bar, end: AtomicU64::new(0), constants, fitting };
        let clutches = asked.forecast.map_or(0, |clutches| 2 * clutches);
        pace.bar.begin(1 + 2 * constants + fitting + clutches, 0);
        pace
    }

    /// It begins to be looked which readings say something: by the machine as it is, and two for each constant.
    pub fn sifting(&self) {
        self.stage(1 + 2 * self.constants);
    }

    /// The fit begins.
    pub fn fitting(&self) {
        self.stage(self.fitting);
    }

    /// So many lives begin.
    pub fn living(&self, lives: u64) {
        self.stage(lives);
    }

    fn stage(&self, machines: u64) {
        let before = self.end.fetch_add(machines, Ordering::Relaxed);
        self.bar.reach(before as f64);
    }

    /// A machine was tried.
    pub fn tried(&self) {
        if self.bar.reached() >= self.end.load(Ordering::Relaxed) {
            self.end.fetch_add(1, Ordering::Relaxed);
            self.bar.lengthen(1);
        }
        self.bar.add(1.0);
    }
}
