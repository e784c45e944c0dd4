//! Progress of a calibration: machines simulated, of the usual number.

use crate::command::calibrate::arguments::Calibrate;
use crate::command::progress::Progress;
use slipsoak_engine::calibrate::Problem;
use std::sync::atomic::{AtomicU64, Ordering};

/// Usual number of steps of a search, and additional steps for each constant (on the shipped data 5 for one, 15 for
/// five).
const STEPS: u64 = 4;
const STEPS_MORE: u64 = 2;

/// Stages of a calibration: which readings carry information, the fit, and the lives of a forecast.
#[derive(Clone, Copy)]
pub(crate) enum Stage {
    Sifting,
    Fitting,
    Living,
}

/// Machines simulated in each stage. The number needed by the searches is known only at their end; if it is more than
/// usual, the total grows.
pub(crate) struct Pace {
    bar: Progress,
    end: AtomicU64,
    stages: [u64; 3],
}

impl Pace {
    /// Progress at the start.
    pub fn of(problem: &Problem, asked: &Calibrate) -> Self {
        let constants = problem.sought.len() as u64;
        let steps = STEPS + STEPS_MORE * problem.constants().len() as u64;
        // Slopes are computed before the searches, after them, and once more for the spread between clutches.
        // The charts follow the machine before and after, and every step of the fitted one, once more.
        let charts = problem.inspected.len() as u64 * (2 + 2 * constants);
        let fitting = 6 * constants + asked.searches * steps * (1 + 2 * constants) + charts;
        let stages = [1 + 2 * constants, fitting, asked.forecast.map_or(0, |clutches| 2 * clutches)];
        let bar = Progress::of("machines tried", stages.iter().sum(), false);
        Self { bar, end: AtomicU64::new(0), stages }
    }

    /// Begins a stage.
    pub fn stage(&self, stage: Stage) {
        let before = self.end.fetch_add(self.stages[stage as usize], Ordering::Relaxed);
        self.bar.reach(before as f64);
    }

    /// Counts one simulated machine.
    pub fn tried(&self) {
        if self.bar.reached() >= self.end.load(Ordering::Relaxed) {
            self.end.fetch_add(1, Ordering::Relaxed);
            self.bar.lengthen(1);
        }
        self.bar.add(1.0);
    }
}
